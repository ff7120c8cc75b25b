package weather

import (
	"fmt"
	"strings"
	"testing"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
	"saltpan/pipeline/record"
)

func TestSamples(t *testing.T) {
	altitude := 12.0
	importertest.Run(t, New(), importer.Hints{Zone: "Europe/Lisbon", Place: &record.Position{Lat: 38.7, Lon: -9.42}, AltitudeM: &altitude})
}

func read(t *testing.T, text string, hints importer.Hints) importer.Result {
	t.Helper()
	r := New().Read(importertest.Source("air.csv", []byte(text), hints))
	importertest.Check(t, r)
	return r
}

// short is each observation in a line: time, temperature, what else there is, line.
func short(r importer.Result) string {
	var out []string
	for _, w := range r.Weather {
		s := w.At.Format("2006-01-02T15:04:05") + fmt.Sprintf(" %.4g", w.AirTempC)
		for _, f := range []struct {
			name string
			v    *float64
		}{{"d", w.DewPointC}, {"h", w.HumidityPct}, {"w", w.WindMPerS}, {"s", w.SunWPerM2}, {"p", w.PressureHPa}} {
			if f.v != nil {
				s += fmt.Sprintf(" %s%.6g", f.name, *f.v)
			}
		}
		if w.Station != "" {
			s += " " + w.Station
		}
		out = append(out, fmt.Sprintf("%s :%d", s, w.Origin.Line))
	}
	for _, p := range r.Problems {
		out = append(out, fmt.Sprintf("%s :%d", p.Code, p.Line))
	}
	if r.Refused != nil {
		out = append(out, fmt.Sprintf("refused %s :%d", r.Refused.Code, r.Refused.Line))
	}
	return strings.Join(out, "; ")
}

func expect(t *testing.T, name, text string, hints importer.Hints, want string) {
	t.Helper()
	t.Run(name, func(t *testing.T) {
		t.Helper()
		r := read(t, text, hints)
		if got := short(r); got != want {
			t.Errorf("read\n%s\ngot  %s\nwant %s\nwhy %s\nproblems %+v %+v", text, got, want, strings.Join(r.Why, "\n    "), r.Problems, r.Refused)
		}
	})
}

// None of these is weather, though some have a time and a temperature.
func TestIdentifyOthers(t *testing.T) {
	for _, head := range []string{
		"", "\n", "date,weight_kg\n2025-04-03 07:15,75.5\n", "time,weight,temperature\n2025-04-03 07:15,75.5,21\n",
		"Zeit;Gewicht kg;Temperatur C\n", "session,start,temp,drunk_ml\nada-1,2025-04-03 07:15,21,600\n",
		"time,heart_rate,temperature\n2025-04-03T07:15:00Z,140,21\n", "time,distance_m,temp_c\n", "timestamp,lat,lon\n1,2,3\n",
		"time,soil temperature\n2025-04-03T07:15:00Z,12\n", "temp_c,humidity\n12,80\n",
		"<?xml version=\"1.0\"?>\n<gpx><desc>\nMETAR XAAA 031250Z 05010KT 14/12\n</desc></gpx>",
		"{\"report\":\n\"METAR XAAA 031250Z 05010KT 14/12\"}", "\x0e\x10\x5d\x08\x00\x00\x00\x00.FIT\x00\x00\x40\x00\x00\x00\x00", "PK\x03\x04",
		"a note about METAR and temperature\n",
	} {
		if New().Identify([]byte(head)) {
			t.Errorf("claims %q", head)
		}
		r := read(t, head, importer.Hints{})
		if r.Refused == nil || r.Refused.Code != importer.UnknownFormat {
			t.Errorf("%q: %+v", head, r)
		}
	}
}

func TestIdentify(t *testing.T) {
	for _, head := range []string{
		"time,temp_c\n", "Station 4\nSource: a mast\n\nair temperature (°C);UTC\n", "METAR XAAA 031250Z 05010KT 14/12 Q1013=\n",
		"201905121244 SPECI XAAA 121244Z 05010KT 14/12", "where,when,report\nXAAA,2019-05-12 12:44,XAAA 121244Z AUTO 05010KT 14/12\n",
		"\xff\xfet\x00i\x00m\x00e\x00,\x00t\x00e\x00m\x00p\x00\n\x00",
	} {
		if !New().Identify([]byte(head)) {
			t.Errorf("does not claim %q", head)
		}
	}
}

// What stands there twice is one observation, with what either row has.
func TestMerge(t *testing.T) {
	expect(t, "sorted and merged", "time,temp_c,rh,station\n2025-04-03T09:00Z,12,,a\n2025-04-03T08:00Z,11,,a\n2025-04-03T09:00Z,12,80,a\n2025-04-03T09:00Z,13,,b\n",
		importer.Hints{}, "2025-04-03T08:00:00 11 a :3; 2025-04-03T09:00:00 12 h80 a :2; 2025-04-03T09:00:00 13 b :5")
	expect(t, "two temperatures", "time,temp_c,rh\n2025-04-03T09:00Z,12,\n2025-04-03T10:00+01:00,19,80\n", importer.Hints{}, "2025-04-03T09:00:00 12 :2; bad-time :3")
	expect(t, "one rounded", "time,temp_c\n2025-04-03T09:00Z,12.4\n2025-04-03T09:00Z,12\n", importer.Hints{}, "2025-04-03T09:00:00 12.4 :2")
	expect(t, "corrected", "20250403 METAR XAAA 030900Z 12/10=\n20250403 METAR COR XAAA 030900Z 19/10=\n20250403 METAR XAAA 030900Z 12/10=\n",
		importer.Hints{}, "2025-04-03T09:00:00 19 d10 XAAA :2")
}

func TestPlace(t *testing.T) {
	altitude := 412.0
	w := read(t, "time,temp_c\n2025-04-03T09:00Z,12\n", importer.Hints{Place: &record.Position{Lat: 47.1, Lon: 8.2}, AltitudeM: &altitude}).Weather[0]
	if w.Place == nil || w.Place.Lat != 47.1 || w.Place.Lon != 8.2 || w.AltitudeM == nil || *w.AltitudeM != 412 {
		t.Errorf("got %+v", w)
	}
	if w.Origin.Path != "air.csv" || w.Origin.Line != 2 || w.Origin.Reader != "weather/1" || len(w.Origin.SHA256) != 64 {
		t.Errorf("origin %+v", w.Origin)
	}
	if w := read(t, "time,temp_c\n2025-04-03T09:00Z,12\n", importer.Hints{}).Weather[0]; w.Place != nil || w.AltitudeM != nil {
		t.Errorf("a place out of nowhere: %+v", w)
	}
}

func TestTooLarge(t *testing.T) {
	for _, text := range []string{"time,temp_c\n" + strings.Repeat("1557662640,12\n", 100_001), strings.Repeat("20250403 XAAA 030900Z 12/10\n", 100_002)} {
		if r := read(t, text, importer.Hints{}); r.Refused == nil || r.Refused.Code != importer.TooLarge {
			t.Errorf("got %+v", r.Refused)
		}
	}
}

func TestNothing(t *testing.T) {
	expect(t, "no row", "time,temp_c\n", importer.Hints{}, "refused empty :0")
	expect(t, "all missing", "time,temp_c\n2025-04-03T09:00Z,M\n", importer.Hints{}, "refused empty :0")
	expect(t, "only faults", "time,temp_c\n2025-04-03T09:00Z,warm\n2025-04-03T10:00Z,99\n", importer.Hints{}, "refused bad-number :2")
}
