package heat

import "saltpan/pipeline/cite"

// params is every number from outside, with an uncertainty, that the heat
// balance and the indices use.
type params struct {
	most                              cite.Param
	skin, clo, stillAir, fan, height  cite.Param
	sunUnknown, sunKnown, windUnknown cite.Param
	simplified, liljegren, index      cite.Param
	stull, latent, soldiers, ceiling  cite.Param
}

// Params is every parameter of heat with its source.
func Params() []cite.Param {
	p := parameters()
	return []cite.Param{p.skin, p.clo, p.stillAir, p.fan, p.height,
		p.sunUnknown, p.sunKnown, p.windUnknown, p.most, p.simplified, p.liljegren, p.index, p.stull, p.latent, p.soldiers, p.ceiling}
}

func parameters() params {
	p := indexParams()
	p.skin = cite.New(cite.Param{Name: "heat.skin-temperature", Value: 35, U: 1, Unit: "°C", Lo: 20, Hi: 45, RangeUnit: "°C of air", Ref: cite.Get("memory"),
		Note: "mean of a body that runs in warm air; nearer 30 in the cold, where the balance says too little sweat"})
	p.clo = cite.New(cite.Param{Name: "heat.running-kit", Value: 0.3, U: 0.1, Unit: "clo", Ref: cite.Get("memory"),
		Note: "shorts, shirt, socks and shoes"})
	p.stillAir = cite.New(cite.Param{Name: "heat.indoor-air-speed", Value: 1.2, U: 0.4, Unit: "m/s", Ref: cite.Get("memory"),
		Note: "on a treadmill without a fan: limbs that move take as much heat as 6.5 v^0.39 W/(m² K), at 2.8 m/s as a still body in air of 1.2 m/s"})
	p.fan = cite.New(cite.Param{Name: "heat.fan-air-speed", Value: 2.5, U: 1, Unit: "m/s", Ref: cite.Get("memory"),
		Note: "air from a household fan over a body on a treadmill"})
	p.height = cite.New(cite.Param{Name: "heat.height", Value: 1.72, U: 0.10, Unit: "m", Ref: cite.Get("memory"),
		Note: "of an athlete whose height is not known; 0.1 m are 4 % of the skin's area"})
	p.sunUnknown = cite.New(cite.Param{Name: "heat.radiant-excess", Value: 10, U: 10, Unit: "K", Ref: cite.Get("memory"),
		Note: "mean radiant over air temperature outdoors where the sun is not known: 0 at night and under cloud, 30 and more at noon"})
	p.sunKnown = cite.New(cite.Param{Name: "heat.radiant-from-globe", U: 5, Unit: "K", Ref: cite.Get("memory"),
		Note: "error of the mean radiant temperature of a body that takes up 0.7 of a modelled sun"})
	p.windUnknown = cite.New(cite.Param{Name: "heat.wind-unknown", U: 1, Unit: "m/s", Ref: cite.Get("memory"),
		Note: "error of the air speed over a runner where the wind is not known"})
	p.most = cite.New(cite.Param{Name: "heat.most-evaporation", Value: 1, U: 0.2, Unit: "of Emax", Ref: cite.Get("memory"),
		Note: "Lewis relation with kit that the air blows through; the limbs of a runner move faster than the body"})
	p.latent = cite.New(cite.Param{Name: "heat.latent-heat", Value: latentHeat, U: 2, Unit: "J/g", Ref: cite.Get("iom2005"), Where: "page 83",
		Note: "at 30 °C; 2426 to 2430 elsewhere"})
	p.soldiers = cite.New(cite.Param{Name: "heat.soldiers-sweat", U: 100, Unit: "g/(m² h)", Hi: soldiersCeiling, RangeUnit: "W/m²", Ref: cite.Get("gonzalez2009"),
		Where: "abstract", Note: "standard error of PW; 15 to 46 °C, 0.27 to 4.45 kPa, 0.4 to 2.5 m/s, 2 to 8 h, clothed soldiers; no estimate for runners comes from it"})
	p.ceiling = cite.New(cite.Param{Name: "heat.model-ceiling", Value: soldiersCeiling, Unit: "W/m²", Ref: cite.Get("iso7933"),
		Note: "metabolic rate at which predicted heat strain and the soldiers' equations end"})
	return p
}

// indexParams are the errors of the indices themselves.
func indexParams() params {
	return params{
		simplified: cite.New(cite.Param{Name: "heat.wbgt-simplified", U: 2.4, Unit: "°C", Ref: cite.Get("cheuvront2015"), Where: "abstract",
			Note: "a station's WBGT against the course's: 1.9 ± 2.4 °C; takes fairly strong sun and light wind for granted"}),
		liljegren: cite.New(cite.Param{Name: "heat.wbgt-liljegren", U: 1, Unit: "°C", Ref: cite.Get("liljegren2008"),
			Note: "model against globe and wick at the same place; from memory. A station away from the course is further off"}),
		index: cite.New(cite.Param{Name: "heat.heat-index", U: 1.3 / 1.8 / 2, Unit: "°C", Lo: 80, Hi: 112, RangeUnit: "°F", Ref: cite.Get("nws"),
			Note: "fit error ± 1.3 °F, taken as two standard deviations; in the shade, in a light wind"}),
		stull: cite.New(cite.Param{Name: "heat.wet-bulb", U: 0.3, Unit: "°C", Lo: 5, Hi: 99, RangeUnit: "% humidity", Ref: cite.Get("stull2011"), Where: "abstract",
			Note: "mean absolute error under 0.3 °C, from −1.0 to + 0.65"}),
	}
}
