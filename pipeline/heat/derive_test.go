package heat_test

import (
	"math"
	"testing"
	"time"

	"saltpan/pipeline/cite"
	"saltpan/pipeline/heat"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

func known[Q ~float64](v Q, u float64, cause string) *heat.Condition[Q] {
	return &heat.Condition[Q]{Estimate: measure.Read("test", v, nil, measure.Part{Cause: cause, U: u}), From: "weather"}
}

// session is 70 kg and 1.75 m at 10 km/h, 898.9 W by the ACSM equation (see T6).
func session(t, humidity float64) heat.Input {
	w := measure.Read("test", quantity.Power(898.9), nil, measure.Part{Cause: "effort", U: 90})
	c := quantity.Celsius(t)
	return heat.Input{
		Air:       heat.Air{Temp: known(c, 0.5, "station"), Vapour: known(heat.VapourPressure(c, humidity), 0.5, "humidity"), Wind: known(quantity.Speed(1), 0.5, "wind")},
		Metabolic: &w, Speed: 10. / 3.6, Mass: 70, HeightM: 1.75,
	}
}

// SW-08: at 15 to 28 °C the sweat of this runner lies between 0.4 L/h and the
// 1.33 L/h that evaporate all of 898 W at 2430 J/g; the water that the balance
// requires has to as well.
func TestRequiredRateWithinBounds(t *testing.T) {
	for c := 15.0; c <= 28; c++ {
		r := heat.Derive(session(c, 50))
		if v := r.Load.RequiredRate.Value; v < 0.4 || v > 1.33 {
			t.Errorf("%v °C: %v L/h", c, v)
		}
		near(t, "production", float64(r.Load.Production.Value), 487.5, 0.5)
		if r.Load.Required.U() < 20 {
			t.Errorf("%v °C: u of %v W/m² leaves the effort's 10 %% out", c, r.Load.Required.U())
		}
	}
}

// Warmer air needs more evaporation, wetter air takes less, to the point where
// it cannot take what is needed.
func TestLoadFollowsTheAir(t *testing.T) {
	mild, warm, wet := heat.Derive(session(20, 50)), heat.Derive(session(30, 50)), heat.Derive(session(34, 90))
	if warm.Load.Required.Value <= mild.Load.Required.Value || warm.Load.Most.Value >= mild.Load.Most.Value {
		t.Errorf("20 °C %+v, 30 °C %+v", mild.Load, warm.Load)
	}
	if !has(wet.Warnings, "heat-uncompensable") || has(mild.Warnings, "heat-uncompensable") {
		t.Errorf("34 °C 90 %%: wettedness %v; 20 °C: %v", wet.Load.Wettedness, mild.Load.Wettedness)
	}
	if !has(mild.Warnings, "heat-model-ceiling") {
		t.Error("487 W/m² is not said to be beyond the sweat models")
	}
	if cold := heat.Derive(session(-10, 50)); !has(cold.Warnings, "heat-domain") || cold.HeatIndex != nil {
		t.Errorf("%+v", cold)
	}
}

// The same balance by hand at 30 °C, bare skin of 35 °C, air and radiation of
// one temperature, 2.5 kPa, 2.954 m/s, 0.1 clo left out of the sum: convection
// 8.7 · 2.954^0.6 = 16.66 W/(m² K), radiation 0.77 · 6.0; over 5 K that is 106 W/m², and
// clothes of 0.3 clo may only take some of it away.
func TestDryHeatNearTheBareSkins(t *testing.T) {
	bare := heat.RequiredEvaporation(heat.Runner{Metabolic: 487, Skin: 35, CloInsulation: 0.01, BodySpeed: 2.778, AirSpeed: 2.954, Temp: 30, Radiant: 30, Vapour: 25})
	near(t, "bare", float64(bare.Dry), 5*(8.7*math.Pow(2.954, 0.6)+0.77*6.27), 6)
	// Lewis: 16.5 W/(m² kPa) for each W/(m² K), over 5.62 − 2.5 kPa (ASHRAE, from memory).
	near(t, "Emax", float64(bare.Most)/(16.5*8.7*math.Pow(2.954, 0.6)*(5.62-2.5)), 1, 0.05)
	kit := heat.RequiredEvaporation(heat.Runner{Metabolic: 487, Skin: 35, CloInsulation: 0.3, BodySpeed: 2.778, AirSpeed: 2.954, Temp: 30, Radiant: 30, Vapour: 25})
	if kit.Dry >= bare.Dry || kit.Dry < bare.Dry/2 || kit.Most >= bare.Most {
		t.Errorf("bare %+v, in kit %+v", bare, kit)
	}
}

// Every index says where its air came from and how it was made; Liljegren needs
// sun, wind, pressure and place, and indoors nothing of the sky counts.
func TestIndicesSayWhereTheyComeFrom(t *testing.T) {
	in := session(25, 53.8)
	simple := heat.Derive(in)
	in.Air.Sun, in.Air.Wind = known(heat.Irradiance(500), 50, "sun"), known(quantity.Speed(0.44704), 0.1, "wind")
	in.Air.Pressure, in.Place = known(quantity.Pressure(985), 1, "pressure"), &record.Position{Lat: 33.7331, Lon: -83.6169}
	in.At = time.Date(2000, 6, 1, 15, 59, 30, 0, time.UTC)
	full := heat.Derive(in)
	in.Indoor = true
	inside := heat.Derive(in)
	near(t, "WG-05", float64(full.WBGT.Value), 27.219, 0.02)
	near(t, "natural", float64(full.NaturalWetBulb.Value), 23.32, 0.02)
	if simple.WBGT.By == full.WBGT.By || full.WBGT.By == inside.WBGT.By || full.WBGT.From != "weather" || full.Flag != heat.Red {
		t.Errorf("%+v, %+v, %+v", simple.WBGT, full.WBGT, inside.WBGT)
	}
	if inside.NaturalWetBulb != nil || inside.WBGT.Value >= simple.WBGT.Value {
		t.Errorf("indoors %v, outdoors %v", inside.WBGT.Value, simple.WBGT.Value)
	}
	// A seated or walking body in full sun takes up 100 to 150 W (common
	// figures, from memory), 55 to 80 W/m²; here 500 W/m² in moderate wind.
	in.Indoor, in.Air.Sun = false, known(heat.Irradiance(0), 1, "sun")
	night := heat.Derive(in)
	if gain := full.Load.Required.Value - night.Load.Required.Value; gain < 50 || gain > 170 {
		t.Errorf("500 W/m² of sun ask for %v W/m²", gain)
	}
}

func TestDeriveSaysWhatIsMissing(t *testing.T) {
	in := session(25, 50)
	in.Air.Vapour = nil
	if r := heat.Derive(in); r.Reason == "" || r.WBGT != nil {
		t.Errorf("%+v", r)
	}
	in = session(25, 50)
	in.Metabolic = nil
	if r := heat.Derive(in); r.Reason == "" || r.WBGT == nil || r.Load != nil {
		t.Errorf("%+v", r)
	}
	if r := heat.Derive(heat.Input{}); r.Reason == "" {
		t.Errorf("%+v", r)
	}
}

// Height not known widens the fluxes.
func TestUnknownHeightWidens(t *testing.T) {
	told := session(25, 50)
	unsaid := told
	unsaid.HeightM = 0
	if a, b := heat.Derive(told).Load.Production.U(), heat.Derive(unsaid).Load.Production.U(); b <= a {
		t.Errorf("u %v with, %v without height", a, b)
	}
}

// 60 ± 5 % at 20 ± 0.5 °C: e = 14.00 hPa; u = √((0.5·0.868)² + (0.05·23.33)²) =
// 1.245 hPa with de/dt = 17.625·243.04/(20 + 243.04)² e = 0.0619 e = 0.867.
func TestVapourCarriesUncertainty(t *testing.T) {
	e := heat.VapourFromHumidity(known(quantity.Celsius(20), 0.5, "station").Estimate, known(60.0, 5, "humidity").Estimate)
	near(t, "e", float64(e.Value), 14.00, 0.01)
	near(t, "u", e.U(), 1.245, 0.005)
	d := heat.VapourFromDewPoint(known(quantity.Celsius(12), 0.5, "station").Estimate)
	near(t, "dew", float64(heat.DewPoint(d.Value)), 12, 1e-9)
	// 4.87/ln(672.58) = 0.748 (FAO 56, table 2.9, prints 0.75 at 10 m; from memory).
	near(t, "wind", float64(heat.WindAt2m(1)), 0.748, 0.0005)
}

func TestParamsHaveSources(t *testing.T) {
	for _, p := range heat.Params() {
		if p.Ref.Kind == cite.Memory && p.U == 0 || p.Note == "" {
			t.Errorf("%+v", p)
		}
	}
}

func has(warnings []measure.Warning, code string) bool {
	for _, w := range warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}
