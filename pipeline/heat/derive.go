package heat

import (
	"fmt"
	"time"

	"saltpan/pipeline/cite"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

const method = "heat.Derive/1"

// Input is the air and the body of one session. What is not known is nil or zero.
type Input struct {
	Air         Air
	At          time.Time // the middle of the session
	Place       *record.Position
	Indoor, Fan bool
	Metabolic   *measure.Estimate[quantity.Power]
	Speed       quantity.Speed // over the ground, mean while moving
	Mass        quantity.Mass
	HeightM     float64
}

// Index is a temperature that stands for the heat, how it was made and whose
// air temperature it rests on.
type Index struct {
	measure.Estimate[quantity.Temperature]
	By   string `json:"by"`
	From string `json:"from"`
}

// Load is the heat balance of the session, per skin surface in W/m².
type Load struct {
	Production measure.Estimate[Flux] `json:"heat_production_w_per_m2"`
	Required   measure.Estimate[Flux] `json:"required_evaporation_w_per_m2"`
	Most       measure.Estimate[Flux] `json:"most_evaporation_w_per_m2"`
	Wettedness float64                `json:"required_wettedness"`
	// RequiredRate is the water that the required evaporation takes, nothing dripping.
	RequiredRate measure.Estimate[quantity.Rate] `json:"required_rate_l_per_h"`
}

// Result is what the air of a session means. Pointers are nil when there is
// too little to say.
type Result struct {
	DewPoint       *Index            `json:"dew_point_c,omitempty"`
	WBGT           *Index            `json:"wbgt_c,omitempty"`
	NaturalWetBulb *Index            `json:"natural_wet_bulb_c,omitempty"`
	HeatIndex      *Index            `json:"heat_index_c,omitempty"` // where it has a meaning
	Flag           Flag              `json:"flag,omitempty"`
	Load           *Load             `json:"load,omitempty"`
	Reason         string            `json:"reason,omitempty"` // why something is missing
	Warnings       []measure.Warning `json:"warnings,omitempty"`
}

// Derive is the heat of a session as far as its air and its work are known.
func Derive(in Input) Result {
	switch {
	case in.Air.Temp == nil:
		return Result{Reason: "the air temperature is not known"}
	case in.Air.Vapour == nil:
		return Result{Reason: "the humidity is not known"}
	}
	var r Result
	r.DewPoint = in.index("over water", cite.Param{}, func(_, e float64) float64 { return float64(DewPoint(quantity.Pressure(e))) })
	r.HeatIndex = in.heatIndex()
	bulbs, ok := in.bulbs()
	r.WBGT, r.NaturalWetBulb = in.wbgt(bulbs, ok)
	r.Flag = FlagAt(r.WBGT.Value)
	if in.Metabolic == nil || in.Mass <= 0 {
		r.Reason = "no metabolic rate, so no required evaporation"
		return r
	}
	r.Load = in.load(bulbs, ok)
	r.Warnings = in.warnings(*r.Load)
	return r
}

// index is a function of air temperature and vapour pressure with the
// uncertainty of both and of the formula.
func (in Input) index(by string, formula cite.Param, f func(t, e float64) float64) *Index {
	value := propagate[quantity.Temperature](method, func(x []float64) float64 { return f(x[0], x[1]) },
		of(in.Air.Temp.Estimate), of(in.Air.Vapour.Estimate))
	if formula.U > 0 {
		value = measure.Combine(method, value.Value, value.Times(1), formula.Estimate().Times(1))
	}
	return &Index{Estimate: value, By: by, From: in.Air.Temp.From}
}

func (in Input) heatIndex() *Index {
	f := func(t, e float64) float64 {
		c := quantity.Celsius(t)
		v, _ := HeatIndex(c, min(Humidity(c, quantity.Pressure(e)), 100))
		return float64(v)
	}
	_, within := HeatIndex(in.Air.Temp.Value, min(in.humidity(), 100))
	if !within {
		return nil
	}
	return in.index("by the NWS form", parameters().index, f)
}

func (in Input) humidity() float64 { return Humidity(in.Air.Temp.Value, in.Air.Vapour.Value) }

// bulbs are Liljegren's where sun, wind, pressure and place are known.
func (in Input) bulbs() (Bulbs, bool) {
	a := in.Air
	if in.Indoor || a.Sun == nil || a.Wind == nil || a.Pressure == nil || in.Place == nil {
		return Bulbs{}, false
	}
	return in.liljegren(float64(a.Temp.Value), float64(a.Vapour.Value))
}

func (in Input) liljegren(t, e float64) (Bulbs, bool) {
	c := quantity.Celsius(t)
	return Liljegren(Outdoor{Temp: c, HumidityPct: min(Humidity(c, quantity.Pressure(e)), 100), Pressure: in.Air.Pressure.Value,
		Wind: in.Air.Wind.Value, Sun: in.Air.Sun.Value, At: in.At, LatDeg: in.Place.Lat, LonDeg: in.Place.Lon})
}

// wbgt is Liljegren's, else the simplified form outdoors; indoors, where no
// sun heats the globe, 0.7 wet bulb + 0.3 air (common practice).
func (in Input) wbgt(b Bulbs, known bool) (index, natural *Index) {
	p := parameters()
	switch {
	case known:
		index = in.index("Liljegren", p.liljegren, func(t, e float64) float64 { b, _ := in.liljegren(t, e); return float64(b.WBGT) })
		natural = in.index("Liljegren", p.liljegren, func(t, e float64) float64 { b, _ := in.liljegren(t, e); return float64(b.NaturalWetBulb) })
		return index, natural
	case in.Indoor:
		return in.index("indoors: wet bulb and air", p.stull, func(t, e float64) float64 {
			c := quantity.Celsius(t)
			w, _ := WetBulb(c, min(Humidity(c, quantity.Pressure(e)), 100))
			return float64(WBGTNoSun(w, c))
		}), nil
	}
	return in.index("simplified: sun and light wind taken for granted", p.simplified, func(t, e float64) float64 {
		return float64(WBGTSimplified(quantity.Celsius(t), quantity.Pressure(e)))
	}), nil
}

// load is the heat balance with the uncertainty of everything it rests on.
func (in Input) load(b Bulbs, known bool) *Load {
	p := parameters()
	height := p.height.Estimate()
	if in.HeightM > 0 {
		height = measure.Exact(method, in.HeightM)
	}
	inputs := []input{of(*in.Metabolic), of(in.Air.Temp.Estimate), of(in.Air.Vapour.Estimate), of(p.skin.Estimate()), of(p.clo.Estimate()),
		of(in.airSpeed(p)), of(in.radiantExcess(b, known, p)), of(height), of(p.latent.Estimate()), of(p.most.Estimate())}
	at := func(x []float64) (Balance, float64) {
		area := float64(SurfaceArea(in.Mass, x[7]))
		return RequiredEvaporation(Runner{Metabolic: Flux(x[0] / area), Temp: quantity.Celsius(x[1]), Radiant: quantity.Celsius(x[1] + x[6]),
			Vapour: quantity.Pressure(x[2]), Skin: quantity.Celsius(x[3]), CloInsulation: max(x[4], 0.1), AirSpeed: quantity.Speed(max(x[5], 0.1)),
			BodySpeed: in.Speed}), area
	}
	part := func(pick func(b Balance, area, latent float64) float64) func([]float64) float64 {
		return func(x []float64) float64 {
			b, area := at(x)
			b.Most *= Flux(x[9])
			return pick(b, area, x[8])
		}
	}
	now, _ := at(values(inputs))
	return &Load{
		Production: propagate[Flux](method, part(func(b Balance, _, _ float64) float64 { return float64(b.Production) }), inputs...),
		Required:   propagate[Flux](method, part(func(b Balance, _, _ float64) float64 { return float64(b.Required) }), inputs...),
		Most:       propagate[Flux](method, part(func(b Balance, _, _ float64) float64 { return float64(b.Most) }), inputs...),
		Wettedness: now.Wettedness,
		RequiredRate: propagate[quantity.Rate](method, part(func(b Balance, area, latent float64) float64 {
			return max(float64(b.Required), 0) * area * 3600 / latent / 1000
		}), inputs...),
	}
}

// airSpeed over the body: wind and own speed outdoors, a fan or none indoors.
func (in Input) airSpeed(p params) measure.Estimate[quantity.Speed] {
	told := func(c cite.Param, own quantity.Speed) measure.Estimate[quantity.Speed] {
		return measure.Combine("heat.airSpeed/1", own+quantity.Speed(c.Value), c.Estimate().Times(1))
	}
	switch {
	case in.Indoor && in.Fan:
		return told(p.fan, 0)
	case in.Indoor:
		return told(p.stillAir, 0)
	case in.Air.Wind == nil:
		return told(p.windUnknown, in.Speed)
	}
	return propagate[quantity.Speed]("heat.AirOver/1", func(x []float64) float64 {
		return float64(AirOver(in.Speed, quantity.Speed(x[0])))
	}, of(in.Air.Wind.Estimate))
}

// radiantExcess is how much warmer the surroundings radiate than the air.
func (in Input) radiantExcess(b Bulbs, known bool, p params) measure.Estimate[float64] {
	switch {
	case in.Indoor:
		return measure.Exact("heat.radiantExcess/1", 0.0)
	case known:
		return measure.Combine("heat.radiantExcess/1", float64(b.Radiant-in.Air.Temp.Value), p.sunKnown.Estimate().Times(1))
	}
	return p.sunUnknown.Estimate()
}

func values(in []input) []float64 {
	out := make([]float64, len(in))
	for i, v := range in {
		out[i] = v.value
	}
	return out
}

func (in Input) warnings(l Load) []measure.Warning {
	var out []measure.Warning
	say := func(code, text string, args ...any) {
		out = append(out, measure.Warning{Code: code, Text: fmt.Sprintf(text, args...)})
	}
	if t := in.Air.Temp.Value; t < 15 || t > 50 {
		say("heat-domain", "the heat balance was validated at 15 to 50 °C of air, not at %.1f °C", float64(t))
	}
	if l.Required.Value < 0 {
		say("heat-cold", "the air takes more heat than the work makes; sweat does not follow from the balance")
	}
	if l.Wettedness > 1 {
		say("heat-uncompensable", "the air can take %.0f %% of what the body has to evaporate", 100/l.Wettedness)
	}
	if l.Production.Value > soldiersCeiling {
		say("heat-model-ceiling", "%.0f W/m² is above the %d W/m² where the published sweat models end; none was used", float64(l.Production.Value), soldiersCeiling)
	}
	return out
}
