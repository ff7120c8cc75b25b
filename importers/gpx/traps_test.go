package gpx

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
	"saltpan/pipeline/record"
)

func read(t *testing.T, data string, hints importer.Hints) importer.Result {
	t.Helper()
	res := New().Read(importertest.Source("x.gpx", []byte(data), hints))
	importertest.Check(t, res)
	return res
}

// doc is a document with one track of points.
func doc(points ...string) string {
	return `<gpx version="1.1"><trk><trkseg>` + strings.Join(points, "\n") + `</trkseg></trk></gpx>`
}

// at is a point at a time as written.
func at(stamp string) string {
	return `<trkpt lat="44.1" lon="-27.2"><time>` + stamp + `</time></trkpt>`
}

func only(t *testing.T, res importer.Result) record.Activity {
	t.Helper()
	if len(res.Activities) != 1 {
		t.Fatalf("%d activities, want 1; %s", len(res.Activities), importertest.Text(res))
	}
	return res.Activities[0]
}

func refused(t *testing.T, res importer.Result, code importer.Code, hint string) {
	t.Helper()
	if res.Refused == nil || res.Refused.Code != code || !strings.Contains(res.Refused.Hint, hint) {
		t.Errorf("want a refusal %s with a hint of %q; %s", code, hint, importertest.Text(res))
	}
}

// codes of the problems, in order of line.
func codes(res importer.Result) string {
	var out []string
	for _, p := range res.Problems {
		out = append(out, fmt.Sprintf("%s:%d", p.Code, p.Line))
	}
	return strings.Join(out, " ")
}

func TestTimesWithOffsets(t *testing.T) {
	for stamp, want := range map[string]string{
		"2023-07-15T08:00:00+02:00":                  "2023-07-15T06:00:00Z",
		"2023-07-15T08:00:00.000+02:00":              "2023-07-15T06:00:00Z",
		"2023-07-15T08:00:00.123Z":                   "2023-07-15T08:00:00.123Z",
		"2023-07-15T08:00:00-03:30":                  "2023-07-15T11:30:00Z",
		"2023-07-15T08:00Z":                          "2023-07-15T08:00:00Z",
		"2023-07-15T24:00:00Z":                       "2023-07-16T00:00:00Z",
		"2023-06-30T23:59:60Z":                       "2023-07-01T00:00:00Z",
		"2023-07-15T08:00:00+02:00[Europe/Brussels]": "2023-07-15T06:00:00Z",
	} {
		a := only(t, read(t, doc(at(stamp)), importer.Hints{}))
		if got := a.Start.Format(time.RFC3339Nano); got != want {
			t.Errorf("%s is %s, want %s", stamp, got, want)
		}
		if believed := a.UTCOffset != nil; believed != strings.ContainsAny(stamp[16:], "+-") {
			t.Errorf("%s: offset %v", stamp, a.UTCOffset)
		}
	}
}

func TestTimesThatAreNone(t *testing.T) {
	for _, stamp := range []string{"1689408000", "yesterday", "2023-02-29T08:00:00Z", "2023-07-15T25:00:00Z",
		"2023-07-15T08:00:00+99:00", "15.07.2023 08:00:00", "2023-07-15", "1901-12-13T20:45:52.2073437Z", "2000-01-01T00:00:00Z"} {
		refused(t, read(t, doc(at(stamp)), importer.Hints{}), importer.BadTime, "")
	}
}

func TestLocalTimesNeedAZone(t *testing.T) {
	naive := doc(at("2026-07-15T08:00:00"), at("2026-07-15T08:00:10"))
	refused(t, read(t, naive, importer.Hints{}), importer.NoZone, "--zone")
	refused(t, read(t, naive, importer.Hints{Zone: "Nowhere/Town"}), importer.NoZone, "--zone")
	a := only(t, read(t, naive, importer.Hints{Zone: "Europe/Lisbon"})) // summer time, UTC+1
	if got := a.Start.Format(time.RFC3339); got != "2026-07-15T07:00:00Z" || a.UTCOffset != nil {
		t.Errorf("start %s, offset %v", got, a.UTCOffset)
	}
}

// In Europe clocks go from 02:59:59 back to 02:00 (Berlin) on 2025-10-26 at
// 01:00 UTC (Directive 2000/84/EC).
func TestLocalTimesAcrossTheClockChange(t *testing.T) {
	a := only(t, read(t, doc(at("2025-10-26T01:50:00"), at("2025-10-26T02:55:00"), at("2025-10-26T02:05:00"), at("2025-10-26T03:00:00")),
		importer.Hints{Zone: "Europe/Berlin"}))
	if got := a.Start.Format(time.RFC3339); got != "2025-10-25T23:50:00Z" || a.Elapsed != 130*time.Minute {
		t.Errorf("start %s, elapsed %v", got, a.Elapsed)
	}
}

func TestPointExtensionsInAnyNamespace(t *testing.T) {
	for _, ext := range []string{
		`<extensions><p:TrackPointExtension xmlns:p="urn:example:v1"><p:atemp>21</p:atemp><p:hr>150</p:hr></p:TrackPointExtension></extensions>`,
		`<extensions><undeclared:TrackPointExtension><undeclared:hr>150</undeclared:hr><undeclared:atemp>21.0</undeclared:atemp></undeclared:TrackPointExtension></extensions>`,
		`<extensions><hr>150</hr><atemp>21</atemp></extensions>`,
		`<extensions><TrackPointExtension xmlns="urn:example:v2"><wtemp>9</wtemp><hr>149.6</hr><atemp>21</atemp><wtemp>9</wtemp></TrackPointExtension></extensions>`,
	} {
		a := only(t, read(t, doc(`<trkpt lat="44.1" lon="-27.2"><time>2026-04-12T07:03:11Z</time>`+ext+`</trkpt>`), importer.Hints{}))
		if a.MeanHRBpm == nil || *a.MeanHRBpm != 150 || a.MeanTemp == nil || *a.MeanTemp != 21 {
			t.Errorf("%s: heart rate %v, temperature %v", ext, a.MeanHRBpm, a.MeanTemp)
		}
	}
}

func TestWaterTemperatureIsNotAir(t *testing.T) {
	a := only(t, read(t, doc(`<trkpt lat="1" lon="1"><time>2026-04-12T07:03:11Z</time><extensions><wtemp>9</wtemp></extensions></trkpt>`), importer.Hints{}))
	if a.MeanTemp != nil {
		t.Errorf("temperature %v of water taken", *a.MeanTemp)
	}
}

// An extension with a time or an elevation of its own says nothing about the point.
func TestTimeInAnExtensionIsNotThePoints(t *testing.T) {
	a := only(t, read(t, doc(`<trkpt lat="1" lon="1"><ele>5</ele><time>2026-04-12T07:03:11Z</time><extensions><n><time>31151</time><ele>900</ele></n></extensions></trkpt>`), importer.Hints{}))
	if a.Samples[0].Altitude != 5 || a.Start.Second() != 11 {
		t.Errorf("got %+v from %v", a.Samples[0], a.Start)
	}
}

func TestBadValuesCostOnlyThemselves(t *testing.T) {
	good := `<trkpt lat="44.1" lon="-27.2"><ele>12</ele><time>2026-04-12T07:03:11Z</time></trkpt>`
	for _, c := range []struct{ point, codes string }{
		{`<trkpt lat="NaN" lon="1"><ele>3</ele><time>2026-04-12T07:03:16Z</time></trkpt>`, "bad-number:2"},
		{`<trkpt lat="+Inf" lon="1"><ele>3</ele><time>2026-04-12T07:03:16Z</time></trkpt>`, "bad-number:2"},
		{`<trkpt lon="1"><ele>3</ele><time>2026-04-12T07:03:16Z</time></trkpt>`, "bad-number:2"},
		{`<trkpt lat="999" lon="1"><ele>3</ele><time>2026-04-12T07:03:16Z</time></trkpt>`, "out-of-range:2"},
		{`<trkpt lat="0" lon="0.0"><ele>3</ele><time>2026-04-12T07:03:16Z</time></trkpt>`, "out-of-range:2"},
		{`<trkpt lat="1" lon="1"><ele>n/a</ele><time>2026-04-12T07:03:16Z</time></trkpt>`, "bad-number:2"},
		{`<trkpt lat="1" lon="1"><ele>1e400</ele><time>2026-04-12T07:03:16Z</time></trkpt>`, "bad-number:2"},
		{`<trkpt lat="1" lon="1"><ele>3</ele><time>2026-04-12T07:03:16Z</time><hr>fast</hr></trkpt>`, "bad-number:2"},
		{`<trkpt lat="1" lon="1"><ele></ele><time>2026-04-12T07:03:16Z</time><hr>255</hr></trkpt>`, ""},
	} {
		res := read(t, doc(good, c.point), importer.Hints{})
		a := only(t, res)
		if len(a.Samples) != 2 || codes(res) != c.codes {
			t.Errorf("%s: %d samples, problems %q, want 2 and %q", c.point, len(a.Samples), codes(res), c.codes)
		}
		if a.Samples[1].HRBpm != 0 {
			t.Errorf("%s: heart rate %d", c.point, a.Samples[1].HRBpm)
		}
	}
}

func TestOneProblemForEachKind(t *testing.T) {
	points := []string{at("2026-04-12T07:03:11Z")}
	for range 9000 {
		points = append(points, `<trkpt lat="NaN" lon="1"><time>2026-04-12T07:03:12Z</time></trkpt>`)
	}
	res := read(t, doc(points...), importer.Hints{})
	if len(res.Problems) != 1 || res.Problems[0].Line != 2 || !strings.Contains(res.Problems[0].Text, "8999 more") {
		t.Errorf("problems %+v", res.Problems)
	}
}

func TestSegmentsArePauses(t *testing.T) {
	res := read(t, `<gpx><trk><trkseg>`+at("2026-04-12T07:00:00Z")+at("2026-04-12T07:10:00Z")+`</trkseg><trkseg>`+
		at("2026-04-12T07:25:00Z")+at("2026-04-12T07:30:00Z")+`</trkseg></trk></gpx>`, importer.Hints{})
	a := only(t, res)
	if a.Elapsed != 30*time.Minute || a.Moving == nil || *a.Moving != 15*time.Minute {
		t.Errorf("elapsed %v, moving %v; want 30 and 10+5 minutes", a.Elapsed, a.Moving)
	}
	if b := only(t, read(t, doc(at("2026-04-12T07:00:00Z"), at("2026-04-12T07:25:00Z")), importer.Hints{})); b.Moving != nil {
		t.Errorf("one segment and yet a moving time, %v", *b.Moving)
	}
}

// One degree of a great circle on the mean sphere is 6371008.8 m x pi/180.
func TestWayIsNotCountedAcrossSegments(t *testing.T) {
	point := func(lat, minute int) string {
		return fmt.Sprintf(`<trkpt lat="%d" lon="-27"><time>2026-04-12T07:%02d:00Z</time></trkpt>`, lat, minute)
	}
	res := read(t, `<gpx><trk><trkseg>`+point(40, 0)+point(41, 1)+`</trkseg><trkseg>`+point(50, 2)+point(51, 3)+`</trkseg></trk></gpx>`, importer.Hints{})
	want := 2 * 6371008.8 * math.Pi / 180
	if got := float64(*only(t, res).Distance); math.Abs(got-want) > 0.01 {
		t.Errorf("way %.2f m, want %.2f", got, want)
	}
}

func TestPlannedTracksAndRoutesAreSkipped(t *testing.T) {
	place := `<trkpt lat="44.1" lon="-27.2"/>`
	for _, data := range []string{
		doc(place, place, place),
		doc(at("2026-04-12T07:03:11Z"), place, place, place, at("2026-04-12T08:03:11Z")), // a time at each turn
		`<gpx><rte><rtept lat="1" lon="1"><time>2026-04-12T07:03:11Z</time></rtept></rte></gpx>`,
	} {
		if res := read(t, data, importer.Hints{}); res.Skipped != "a route or planned track" {
			t.Errorf("%s", importertest.Text(res))
		}
	}
	if res := read(t, `<gpx><wpt lat="1" lon="1"/></gpx>`, importer.Hints{}); res.Skipped != "waypoints without a track" {
		t.Errorf("%s", importertest.Text(res))
	}
	refused(t, read(t, `<gpx></gpx>`, importer.Hints{}), importer.Empty, "")
}

func TestTracksYearsApart(t *testing.T) {
	one := `<trk><type>running</type><trkseg>` + at("2014-04-12T07:00:00Z") + at("2014-04-12T07:10:00Z") + `</trkseg></trk>`
	two := `<trk><type>walk</type><trkseg>` + at("2016-04-12T07:00:00Z") + at("2016-04-12T07:20:00Z") + `</trkseg></trk>`
	res := read(t, `<gpx>`+one+"\n"+two+`</gpx>`, importer.Hints{})
	if len(res.Activities) != 2 {
		t.Fatalf("%d activities, want 2", len(res.Activities))
	}
	a, b := res.Activities[0], res.Activities[1]
	if a.Sport != record.Running || b.Sport != record.Walking || a.Elapsed != 10*time.Minute || b.Elapsed != 20*time.Minute ||
		!strings.HasSuffix(b.ID, ":1") || a.Origin.Line != 1 || b.Origin.Line != 2 {
		t.Errorf("got %+v and %+v", a, b)
	}
}

func TestSegmentsDaysApartAreSeveralBouts(t *testing.T) {
	res := read(t, doc(at("2014-04-12T07:00:00Z"), at("2014-04-12T07:10:00Z"), at("2014-04-14T07:00:00Z"), at("2014-04-14T07:20:00Z")), importer.Hints{})
	if len(res.Activities) != 2 || res.Activities[1].Elapsed != 20*time.Minute {
		t.Errorf("%s", importertest.Text(res))
	}
}

func TestOneStrayTimeSplitsNothing(t *testing.T) {
	for i, stamps := range [][]string{
		{"2014-04-12T07:00:00Z", "2005-01-01T00:00:00Z", "2014-04-12T07:10:00Z"},
		{"2005-01-01T00:00:00Z", "2014-04-12T07:00:00Z", "2014-04-12T07:10:00Z"},
		{"2014-04-12T07:00:00Z", "2014-04-12T07:10:00Z", "2031-01-01T00:00:00Z"},
	} {
		res := read(t, doc(at(stamps[0]), at(stamps[1]), at(stamps[2])), importer.Hints{})
		if a := only(t, res); a.Elapsed != 10*time.Minute || !strings.HasPrefix(codes(res), "bad-time") {
			t.Errorf("case %d: elapsed %v, problems %s", i, a.Elapsed, codes(res))
		}
	}
}

func TestPointsInTheWrongOrder(t *testing.T) {
	res := read(t, doc(at("2026-04-12T07:00:10Z"), at("2026-04-12T07:00:00Z"), at("2026-04-12T07:00:10Z")), importer.Hints{})
	if a := only(t, res); a.Start.Second() != 0 || a.Elapsed != 10*time.Second || len(a.Samples) != 2 || codes(res) != "bad-time:2" {
		t.Errorf("%s", importertest.Text(res))
	}
}

func TestTypes(t *testing.T) {
	for text, want := range map[string]string{
		"running": "running/", "run": "running/", "Run": "running/", "trail_running": "running/trail", "Trail Running": "running/trail",
		"treadmill_running": "running/treadmill", "walking": "walking/", "hiking": "hiking/", "cycling": "cycling/", "9": "unknown/", "": "unknown/", "...": "unknown/",
	} {
		a := only(t, read(t, `<gpx><trk><type>`+text+`</type><trkseg>`+at("2026-04-12T07:00:00Z")+`</trkseg></trk></gpx>`, importer.Hints{}))
		if got := a.Sport + "/" + a.SubSport; got != want {
			t.Errorf("type %q is %q, want %q", text, got, want)
		}
	}
	a := only(t, read(t, doc(at("2026-04-12T07:00:00Z")), importer.Hints{}))
	if a.Sport != record.UnknownSport {
		t.Errorf("no type is %q", a.Sport)
	}
}

func TestPointLimit(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<gpx><trk><trkseg>`)
	for range 500_001 {
		b.WriteString(`<trkpt/>`)
	}
	refused(t, read(t, b.String(), importer.Hints{}), importer.TooLarge, "")
}

func TestContainerDamageIsKept(t *testing.T) {
	src := importertest.Source("x.gpx", []byte(doc(at("2026-04-12T07:00:00Z"))), importer.Hints{})
	src.Damaged = "wrong in its checksum"
	if a := only(t, New().Read(src)); a.Salvaged != src.Damaged {
		t.Errorf("salvaged %q, want %q", a.Salvaged, src.Damaged)
	}
}

func TestEachTrackHasItsOwnOffset(t *testing.T) {
	one := func(stamp string) string { return `<trk><trkseg>` + at(stamp) + `</trkseg></trk>` }
	res := read(t, `<gpx>`+one("2026-04-12T07:00:00+01:00")+one("2026-06-12T07:00:00-05:00")+one("2026-07-12T07:00:00Z")+`</gpx>`, importer.Hints{})
	var got []string
	for _, a := range res.Activities {
		if a.UTCOffset == nil {
			got = append(got, "none")
		} else {
			got = append(got, a.UTCOffset.String())
		}
	}
	if g := strings.Join(got, " "); g != "1h0m0s -5h0m0s none" {
		t.Errorf("offsets %s", g)
	}
}
