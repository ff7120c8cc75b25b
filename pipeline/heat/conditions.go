package heat

import (
	"fmt"
	"math"
	"time"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// Where the air's state was learnt, in the order of trust.
const (
	FromWeather = "weather"
	FromNote    = "note"
	FromRoom    = "room"
	FromWatch   = "watch"
)

// Limits on observations (own rules; hourly reports are the common case).
const (
	// maxGap between two observations to read a moment between them.
	maxGap = 90 * time.Minute
	// maxDistanceKm from the session's start to where the air was observed.
	maxDistanceKm = 50.0
	// settling is how long a watch's sensor takes to cool down to what the wrist
	// lets it: 20 min in a recorded run that began 8 °C warm.
	settling = 20 * time.Minute
)

// Uncertainties, k = 1, °C (from memory, orders of magnitude).
const (
	uStation = 0.5 // a station near by against the air on the course
	uNoted   = 1.0
	// uHumidity is in % relative humidity.
	uHumidity = 5.0
	// The wrist warms a watch: between 0 and 8 °C too warm was seen where two
	// sensors were read side by side.
	watchBias  = 4.0
	uWatchBias = 2.5
	// leastBias is how many sessions with both watch and weather a bias is learnt from.
	leastBias = 5
)

// Where is what is known about the air of one session.
type Where struct {
	Start, Stop time.Time
	Place       *record.Position
	Indoor      bool
	Note        *record.Note
	// Watch is the settled mean of the watch's sensor; Bias is what it reads too
	// much on this athlete's wrist, nil until enough sessions tell.
	Watch *quantity.Temperature
	Bias  *measure.Estimate[float64]
}

// Conditions is the air of a session by trust: weather, note, watch; nil when
// nothing says it. Indoors the weather outside says nothing. why says in words
// how it was found.
func Conditions(w Where, weather []record.Weather) (air *Air, why string) {
	if w.Indoor {
		return room(w)
	}
	if a := observed(w, weather); a != nil {
		return a, "observations on both sides of the session, read between them"
	}
	if n := w.Note; n != nil && n.AirTemp != nil {
		return told(*n.AirTemp, n.Humidity, FromNote), "as noted"
	}
	return worn(w)
}

// room is what the note says of an indoor session.
func room(w Where) (*Air, string) {
	if w.Note == nil || w.Note.Room == nil {
		return nil, "indoors, and nobody said how warm the room was"
	}
	return told(*w.Note.Room, w.Note.Humidity, FromRoom), "the room as noted"
}

func told(t quantity.Temperature, pct *float64, from string) *Air {
	a := &Air{Temp: &Condition[quantity.Temperature]{temp(t, uNoted, from+"-temp"), from}}
	if pct != nil {
		a.Vapour = vapour(a.Temp.Estimate, *pct, from)
	}
	return a
}

// worn is the watch's own reading less its bias.
func worn(w Where) (*Air, string) {
	if w.Watch == nil {
		return nil, "no weather, no note, and no watch that settled"
	}
	bias := measure.Read("heat.watchBias/1", watchBias, nil, measure.Part{Cause: "watch-bias", U: uWatchBias})
	why := "the watch's sensor after it settled, less 4 °C that a wrist adds (from memory)"
	if w.Bias != nil {
		bias, why = *w.Bias, fmt.Sprintf("the watch's sensor after it settled, less %.1f °C learnt from sessions with weather", w.Bias.Value)
	}
	t := measure.Combine("heat.Conditions/1", *w.Watch-quantity.Temperature(bias.Value),
		temp(*w.Watch, measure.Uniform(0.5), "watch-step").Times(1), bias.Times(-1))
	return &Air{Temp: &Condition[quantity.Temperature]{t, FromWatch}}, why
}

func temp(t quantity.Temperature, u float64, cause string) measure.Estimate[quantity.Temperature] {
	return measure.Read("heat.Conditions/1", t, nil, measure.Part{Cause: cause, U: u})
}

// vapour is the vapour pressure at a humidity known to 5 %.
func vapour(t measure.Estimate[quantity.Temperature], pct float64, from string) *Condition[quantity.Pressure] {
	h := measure.Read("heat.Conditions/1", pct, nil, measure.Part{Cause: "humidity/" + from, U: uHumidity})
	return &Condition[quantity.Pressure]{VapourFromHumidity(t, h), from}
}

// observed reads the weather at five moments of the session, between the
// observations on either side of each.
func observed(w Where, weather []record.Weather) *Air {
	const moments = 5
	var sum, humidity, low, high float64
	low, high = math.Inf(1), math.Inf(-1)
	humid := true
	for i := range moments {
		at := w.Start.Add(w.Stop.Sub(w.Start) * time.Duration(i) / (moments - 1))
		t, h, ok := between(at, w.Place, weather)
		if !ok {
			return nil
		}
		sum, low, high = sum+t, min(low, t), max(high, t)
		humid = humid && !math.IsNaN(h)
		humidity += h
	}
	t := temp(quantity.Temperature(sum/moments), math.Hypot(uStation, measure.Uniform((high-low)/2)), "station")
	a := &Air{Temp: &Condition[quantity.Temperature]{t, FromWeather}}
	if humid {
		a.Vapour = vapour(t, humidity/moments, FromWeather)
	}
	return a
}

// between is temperature and humidity (NaN if not observed) at a moment.
func between(at time.Time, place *record.Position, weather []record.Weather) (t, h float64, ok bool) {
	var before, after *record.Weather
	for i := range weather {
		o := &weather[i]
		if !near(place, o.Place) {
			continue
		}
		if !o.At.After(at) && (before == nil || o.At.After(before.At)) {
			before = o
		}
		if !o.At.Before(at) && (after == nil || o.At.Before(after.At)) {
			after = o
		}
	}
	if before == nil || after == nil || after.At.Sub(before.At) > maxGap {
		return 0, 0, false
	}
	share := 0.0
	if span := after.At.Sub(before.At); span > 0 {
		share = float64(at.Sub(before.At)) / float64(span)
	}
	mix := func(a, b float64) float64 { return a + share*(b-a) }
	return mix(before.AirTempC, after.AirTempC), mix(humidityOf(*before), humidityOf(*after)), true
}

// humidityOf is an observation's relative humidity in %, from its dew point if
// that is what was observed.
func humidityOf(o record.Weather) float64 {
	switch {
	case o.HumidityPct != nil:
		return *o.HumidityPct
	case o.DewPointC != nil:
		return Humidity(quantity.Celsius(o.AirTempC), SaturationPressure(quantity.Celsius(*o.DewPointC)))
	}
	return math.NaN()
}

// near reports whether two places are within the limit; a place not known is near.
func near(a, b *record.Position) bool {
	if a == nil || b == nil {
		return true
	}
	const kmPerDegree = 111.2 // a great circle's 40,030 km / 360
	dLat := (a.Lat - b.Lat) * kmPerDegree
	dLon := (a.Lon - b.Lon) * kmPerDegree * math.Cos(a.Lat*math.Pi/180)
	return math.Hypot(dLat, dLon) <= maxDistanceKm
}

// Settled is the mean of a watch's own sensor after it settled, nil if the
// activity is shorter or holds no temperature.
func Settled(a record.Activity) *quantity.Temperature {
	var sum float64
	n := 0
	for _, s := range a.Samples {
		if s.At >= settling && !math.IsNaN(float64(s.Temp)) {
			sum, n = sum+float64(s.Temp), n+1
		}
	}
	if n == 0 {
		return nil
	}
	t := quantity.Temperature(sum / float64(n))
	return &t
}

// Bias is what watches read too much, from sessions with both a watch and the
// weather; nil while there are too few.
func Bias(watch, air []quantity.Temperature) *measure.Estimate[float64] {
	n := float64(len(watch))
	if len(watch) < leastBias || len(watch) != len(air) {
		return nil
	}
	var sum, squares float64
	for i := range watch {
		d := float64(watch[i] - air[i])
		sum, squares = sum+d, squares+d*d
	}
	mean := sum / n
	sd := math.Sqrt(max(0, squares-n*mean*mean) / (n - 1))
	// A new session's bias scatters like the others, about a mean known to sd/√n.
	e := measure.Read("heat.Bias/1", mean, nil, measure.Part{Cause: "watch-bias", U: sd * math.Sqrt(1+1/n), DF: n - 1})
	return &e
}
