package heat

import (
	"math"
	"testing"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

var seven = time.Date(2026, 6, 14, 7, 0, 0, 0, time.UTC)

func ptr[T any](v T) *T { return &v }

func hourly(temps ...float64) []record.Weather {
	var out []record.Weather
	for i, t := range temps {
		out = append(out, record.Weather{At: seven.Add(time.Duration(i) * time.Hour), AirTempC: t, HumidityPct: ptr(60.0)})
	}
	return out
}

// A straight line between 20 and 24 °C has its mean at 22 °C.
func TestWeatherIsReadBetweenObservations(t *testing.T) {
	a, _ := Conditions(Where{Start: seven, Stop: seven.Add(time.Hour)}, hourly(20, 24))
	if a == nil || math.Abs(float64(a.Temp.Value)-22) > 1e-9 || a.Temp.From != FromWeather {
		t.Fatalf("got %+v", a)
	}
	if h := Humidity(a.Temp.Value, a.Vapour.Value); a.Temp.Lo >= 22 || a.Temp.Hi <= 22 || math.Abs(h-60) > 1e-9 {
		t.Errorf("got %+v", a)
	}
}

func TestGapOrDistanceLeavesTheWeatherOut(t *testing.T) {
	far := hourly(20, 24)
	for i := range far {
		far[i].Place = &record.Position{Lat: 39, Lon: -9}
	}
	here := &record.Position{Lat: 38, Lon: -9} // 111 km away
	gap := []record.Weather{{At: seven.Add(-time.Hour), AirTempC: 20}, {At: seven.Add(time.Hour), AirTempC: 24}}
	if a, _ := Conditions(Where{Start: seven, Stop: seven.Add(30 * time.Minute)}, gap); a != nil {
		t.Errorf("two hours between observations: %+v", a)
	}
	if a, _ := Conditions(Where{Start: seven, Stop: seven.Add(time.Hour), Place: here}, far); a != nil {
		t.Errorf("111 km away: %+v", a)
	}
}

func TestOrderOfTrust(t *testing.T) {
	w := Where{Start: seven, Stop: seven.Add(time.Hour), Note: &record.Note{AirTemp: ptr(quantity.Celsius(19))}, Watch: ptr(quantity.Celsius(26))}
	if a, _ := Conditions(w, hourly(20, 24)); a.Temp.From != FromWeather {
		t.Errorf("got %s", a.Temp.From)
	}
	if a, _ := Conditions(w, nil); a.Temp.From != FromNote || a.Temp.Value != 19 {
		t.Errorf("got %+v", a)
	}
	w.Note = nil
	if a, _ := Conditions(w, nil); a.Temp.From != FromWatch || a.Temp.Value != 22 {
		t.Errorf("got %+v", a)
	}
	w.Watch = nil
	if a, _ := Conditions(w, nil); a != nil {
		t.Errorf("got %+v", a)
	}
}

func TestIndoorNeverTakesWeather(t *testing.T) {
	w := Where{Start: seven, Stop: seven.Add(time.Hour), Indoor: true, Watch: ptr(quantity.Celsius(26))}
	if a, _ := Conditions(w, hourly(20, 24)); a != nil {
		t.Errorf("without a room temperature there is none: %+v", a)
	}
	w.Note = &record.Note{Room: ptr(quantity.Celsius(21))}
	if a, _ := Conditions(w, hourly(30, 30)); a == nil || a.Temp.Value != 21 {
		t.Errorf("got %+v", a)
	}
}

func TestSettlingIsCutOff(t *testing.T) {
	a := record.Activity{}
	for m := range 60 {
		v := float32(16)
		if m < 20 {
			v = 24
		}
		a.Samples = append(a.Samples, record.Sample{At: time.Duration(m) * time.Minute, Temp: v})
	}
	if got := Settled(a); got == nil || *got != 16 {
		t.Errorf("got %v, want the 16 °C of the last 40 min", got)
	}
	if got := Settled(record.Activity{Samples: a.Samples[:15]}); got != nil {
		t.Errorf("15 min never settle: %v", *got)
	}
}

func TestBiasIsLearntFromFiveSessions(t *testing.T) {
	watch := []quantity.Temperature{26, 24, 21, 18, 29}
	air := []quantity.Temperature{20, 18, 16, 12, 23}
	if Bias(watch[:4], air[:4]) != nil {
		t.Error("four sessions are too few")
	}
	if b := Bias(watch, air); b == nil || math.Abs(b.Value-5.8) > 1e-9 {
		t.Errorf("got %+v, want the mean 5.8 of 6, 6, 5, 6, 6", b)
	}
}
