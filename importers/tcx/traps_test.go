package tcx

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
	"saltpan/pipeline/record"
)

func read(t *testing.T, data string, hints importer.Hints) importer.Result {
	t.Helper()
	res := New().Read(importertest.Source("x.tcx", []byte(data), hints))
	importertest.Check(t, res)
	return res
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

func codes(res importer.Result) string {
	var out []string
	for _, p := range res.Problems {
		out = append(out, fmt.Sprintf("%s:%d", p.Code, p.Line))
	}
	return strings.Join(out, " ")
}

const (
	head = `<TrainingCenterDatabase xmlns="x"><Activities>`
	foot = `</Activities></TrainingCenterDatabase>`
)

func run(laps ...string) string {
	return head + `<Activity Sport="Running"><Id>2026-04-12T07:00:00Z</Id>` + strings.Join(laps, "\n") + `</Activity>` + foot
}

func lapOf(start, seconds, metres string, tracks ...string) string {
	return `<Lap StartTime="` + start + `"><TotalTimeSeconds>` + seconds + `</TotalTimeSeconds><DistanceMeters>` + metres + `</DistanceMeters>` +
		strings.Join(tracks, "") + `</Lap>`
}

func track(points ...string) string { return `<Track>` + strings.Join(points, "\n") + `</Track>` }

// at is a point at a time with whatever else it says.
func at(stamp string, more ...string) string {
	return `<Trackpoint><Time>` + stamp + `</Time>` + strings.Join(more, "") + `</Trackpoint>`
}

func metres(m string) string { return `<DistanceMeters>` + m + `</DistanceMeters>` }
func heartRate(v string) string {
	return `<HeartRateBpm xsi:type="x"><Value>` + v + `</Value></HeartRateBpm>`
}

const start = "2026-04-12T07:00:00Z"

// Timer time is 318 of 1821 s in a file like this: three laps whose totals are
// far below the time from the first to the last point.
func TestPausesShowAsElapsedOverMoving(t *testing.T) {
	a := only(t, read(t, run(
		lapOf(start, "100", "300", track(at(start), at("2026-04-12T07:01:00Z")), track(at("2026-04-12T07:10:00Z"), at("2026-04-12T07:10:40Z"))),
		lapOf("2026-04-12T07:20:00Z", "218", "700", track(at("2026-04-12T07:20:00Z"), at("2026-04-12T07:30:21Z")))), importer.Hints{}))
	if a.Elapsed != 1821*time.Second || a.Moving == nil || *a.Moving != 318*time.Second || *a.Distance != 1000 || len(a.Laps) != 2 {
		t.Errorf("elapsed %v, moving %v, distance %v, %d laps", a.Elapsed, a.Moving, a.Distance, len(a.Laps))
	}
}

func TestElapsedIsTheLaterOfPointsAndLaps(t *testing.T) {
	byLap := only(t, read(t, run(lapOf(start, "90.5", "1", track(at(start), at("2026-04-12T07:01:00Z")))), importer.Hints{}))
	byPoint := only(t, read(t, run(lapOf(start, "30", "1", track(at(start), at("2026-04-12T07:01:00Z")))), importer.Hints{}))
	if byLap.Elapsed != 90500*time.Millisecond || byPoint.Elapsed != time.Minute {
		t.Errorf("elapsed %v and %v, want 90.5 and 60 s", byLap.Elapsed, byPoint.Elapsed)
	}
	early := only(t, read(t, run(lapOf("2026-04-12T06:59:50Z", "70", "1", track(at(start), at("2026-04-12T07:01:00Z")))), importer.Hints{}))
	if early.Elapsed != 70*time.Second || early.Samples[0].At != 10*time.Second {
		t.Errorf("elapsed %v, first sample at %v; want 70 s and 10 s", early.Elapsed, early.Samples[0].At)
	}
}

func TestLastPointOfALapRepeated(t *testing.T) {
	twice := "2026-04-12T07:01:00Z"
	a := only(t, read(t, run(lapOf(start, "60", "200", track(at(start, metres("0")), at(twice, metres("200")))),
		lapOf(twice, "60", "200", track(at(twice, metres("200"), heartRate("150")), at("2026-04-12T07:02:00Z", metres("400"))))), importer.Hints{}))
	if len(a.Samples) != 3 || a.Samples[1].HRBpm != 150 || a.Samples[1].Distance != 200 {
		t.Errorf("samples %+v", a.Samples)
	}
}

func TestHeartRates(t *testing.T) {
	for text, want := range map[string]uint8{"150": 150, "150.0": 150, " 149.6 ": 150, "0": 0, "255": 0, "255.0": 0, "": 0, "300": 0, "-5": 0, "fast": 0} {
		a := only(t, read(t, run(lapOf(start, "60", "200", track(at(start, heartRate(text))))), importer.Hints{}))
		if got := a.Samples[0].HRBpm; got != want || (a.MeanHRBpm != nil) != (want > 0) {
			t.Errorf("heart rate %q is %d, want %d; mean %v", text, got, want, a.MeanHRBpm)
		}
	}
}

func TestHeartRateOnHalfThePoints(t *testing.T) {
	a := only(t, read(t, run(lapOf(start, "60", "200", track(at(start, heartRate("140")), at("2026-04-12T07:00:30Z"), at("2026-04-12T07:01:00Z", heartRate("160"))))), importer.Hints{}))
	if *a.MeanHRBpm != 150 {
		t.Errorf("mean heart rate %v, want 150 of the two points that have one", *a.MeanHRBpm)
	}
}

// The mean of the laps' means, weighted by their times: (140·60 + 160·180)/240.
func TestHeartRateOfTheLapsOnly(t *testing.T) {
	of := func(bpm string) string {
		return `<AverageHeartRateBpm><Value>` + bpm + `</Value></AverageHeartRateBpm>`
	}
	a := only(t, read(t, run(lapOf(start, "60", "200", of("140")), lapOf("2026-04-12T07:01:00Z", "180", "600", of("160"))), importer.Hints{}))
	if *a.MeanHRBpm != 155 {
		t.Errorf("mean heart rate %v, want 155", *a.MeanHRBpm)
	}
}

func TestTreadmillKeepsItsDistance(t *testing.T) {
	a := only(t, read(t, run(lapOf(start, "60", "210.5", track(at(start, metres("0")), at("2026-04-12T07:01:00Z", metres("210"))))), importer.Hints{}))
	if *a.Distance != 210.5 || a.StartAt != nil || a.Samples[1].Distance != 210 {
		t.Errorf("distance %v, start at %v, %+v", *a.Distance, a.StartAt, a.Samples)
	}
}

func TestLapsWithoutPoints(t *testing.T) {
	a := only(t, read(t, run(lapOf(start, "1800", "5000"), lapOf("2026-04-12T07:30:00Z", "1860", "5000")), importer.Hints{}))
	if a.Elapsed != 61*time.Minute || *a.Moving != 61*time.Minute || *a.Distance != 10_000 {
		t.Errorf("elapsed %v, moving %v, distance %v", a.Elapsed, a.Moving, a.Distance)
	}
	noStart := only(t, read(t, head+`<Activity Sport="Running"><Id>2026-04-12T07:00:00Z</Id><Lap><TotalTimeSeconds>60</TotalTimeSeconds></Lap></Activity>`+foot, importer.Hints{}))
	if noStart.Elapsed != time.Minute || noStart.Start.Format(time.RFC3339) != start {
		t.Errorf("start %v, elapsed %v", noStart.Start, noStart.Elapsed)
	}
}

func TestDistanceOfThePointsWhereLapsHaveNone(t *testing.T) {
	points := track(at(start, metres("0")), at("2026-04-12T07:01:00Z", metres("200")))
	for _, of := range []string{"", "NaN", "0", "Inf", "-3"} {
		if a := only(t, read(t, run(lapOf(start, "60", of, points)), importer.Hints{})); *a.Distance != 200 {
			t.Errorf("lap distance %q: distance %v, want 200", of, *a.Distance)
		}
	}
}

func TestBadValuesCostOnlyThemselves(t *testing.T) {
	place := func(lat, lon string) string {
		return `<Position><LatitudeDegrees>` + lat + `</LatitudeDegrees><LongitudeDegrees>` + lon + `</LongitudeDegrees></Position>`
	}
	for _, c := range []struct{ more, codes string }{
		{place("NaN", "1"), "bad-number:2"}, {place("91", "1"), "out-of-range:2"}, {place("", "1"), "bad-number:2"}, {place("0", "0"), "out-of-range:2"},
		{metres("NaN"), "bad-number:2"}, {metres("1e400"), "bad-number:2"}, {heartRate("n/a"), "bad-number:2"},
		{`<AltitudeMeters>--</AltitudeMeters>`, "bad-number:2"}, {`<Position/>`, ""}, {`<Cadence>255</Cadence><SensorState>Absent</SensorState>`, ""},
	} {
		res := read(t, run(lapOf(start, "60", "200", track(at(start), at("2026-04-12T07:01:00Z", c.more)))), importer.Hints{})
		if a := only(t, res); len(a.Samples) != 2 || codes(res) != c.codes {
			t.Errorf("%s: %d samples, problems %q, want 2 and %q", c.more, len(a.Samples), codes(res), c.codes)
		}
	}
}

func TestOffsets(t *testing.T) {
	a := only(t, read(t, run(lapOf("2026-04-12T09:00:00+02:00", "60", "200", track(at("2026-04-12T09:00:00.000+02:00"), at("2026-04-12T09:01:00.500+02:00")))), importer.Hints{}))
	if a.Start.Format(time.RFC3339) != start || a.UTCOffset == nil || *a.UTCOffset != 2*time.Hour || a.Elapsed != 60500*time.Millisecond {
		t.Errorf("start %v, offset %v, elapsed %v", a.Start, a.UTCOffset, a.Elapsed)
	}
}

func TestLocalTimesNeedAZone(t *testing.T) {
	naive := run(lapOf("2026-04-12T09:00:00", "60", "200", track(at("2026-04-12T09:00:00"))))
	refused(t, read(t, naive, importer.Hints{}), importer.NoZone, "--zone")
	if a := only(t, read(t, naive, importer.Hints{Zone: "Europe/Madrid"})); a.Start.Format(time.RFC3339) != start { // summer time, UTC+2
		t.Errorf("start %v", a.Start)
	}
}

func TestClockNeverSet(t *testing.T) {
	refused(t, read(t, run(lapOf("1989-12-31T00:00:00Z", "60", "1", track(at("1989-12-31T00:00:00Z")))), importer.Hints{}), importer.BadTime, "")
}

func TestSeveralActivities(t *testing.T) {
	one := func(sport, when string) string {
		return `<Activity Sport="` + sport + `">` + lapOf(when, "60", "1", track(at(when))) + `</Activity>` + "\n"
	}
	res := read(t, head+one("Running", "2016-04-12T07:00:00Z")+one("Biking", "2014-04-12T07:00:00Z")+one("Other", "2014-04-13T07:00:00Z")+one("", "2014-04-14T07:00:00Z")+foot, importer.Hints{})
	var got []string
	for _, a := range res.Activities {
		got = append(got, fmt.Sprintf("%s %d %s:%d", a.Sport, a.Start.Year(), a.ID[len(a.ID)-1:], a.Origin.Line))
	}
	if g := strings.Join(got, ", "); g != "running 2016 0:1, cycling 2014 1:2, other 2014 2:3, unknown 2014 3:4" {
		t.Errorf("got %s", g)
	}
}

func TestMultiSport(t *testing.T) {
	leg := func(sport, when string) string {
		return `<Activity Sport="` + sport + `">` + lapOf(when, "60", "1", track(at(when))) + `</Activity>`
	}
	res := read(t, head+`<MultiSportSession><Id>x</Id><FirstSport>`+leg("Biking", start)+`</FirstSport><NextSport><Transition StartTime="2026-04-12T07:01:00Z"><TotalTimeSeconds>30</TotalTimeSeconds><DistanceMeters>9</DistanceMeters>`+
		track(at("2026-04-12T07:01:20Z"))+`</Transition>`+leg("Running", "2026-04-12T07:02:00Z")+`</NextSport></MultiSportSession>`+foot, importer.Hints{})
	var got []string
	for _, a := range res.Activities {
		got = append(got, fmt.Sprintf("%s %v %d", a.Sport, a.Elapsed, len(a.Samples)))
	}
	if g := strings.Join(got, ", "); g != "cycling 1m0s 1, transition 30s 1, running 1m0s 1" {
		t.Errorf("got %s", g)
	}
}

func TestCoursesAndWorkoutsAreSkipped(t *testing.T) {
	course := `<TrainingCenterDatabase><Courses><Course><Name>c</Name>` + track(at(start), at("2026-04-12T07:01:00Z")) + `</Course></Courses></TrainingCenterDatabase>`
	if res := read(t, course, importer.Hints{}); res.Skipped != "a course" {
		t.Errorf("%s", importertest.Text(res))
	}
	workout := `<TrainingCenterDatabase><Workouts><Workout Sport="Running"/></Workouts></TrainingCenterDatabase>`
	if res := read(t, workout, importer.Hints{}); res.Skipped != "a workout" {
		t.Errorf("%s", importertest.Text(res))
	}
	// Folders only list names.
	folders := `<TrainingCenterDatabase><Folders><Courses><CourseFolder/></Courses><Workouts><Running/></Workouts></Folders></TrainingCenterDatabase>`
	refused(t, read(t, folders, importer.Hints{}), importer.Empty, "")
	refused(t, read(t, head+foot, importer.Hints{}), importer.Empty, "")
}

// A lap's totals come before its points: in a file cut in half they are those
// of the whole, and must not be taken.
func TestCutInHalf(t *testing.T) {
	whole := run(lapOf(start, "3600", "10000", track(at(start, metres("0"), heartRate("150")), at("2026-04-12T07:10:00Z", metres("1500")), at("2026-04-12T08:00:00Z", metres("10000")))))
	cut := whole[:strings.Index(whole, "<Time>2026-04-12T08")]
	a := only(t, read(t, cut, importer.Hints{}))
	if a.Elapsed != 10*time.Minute || *a.Distance != 1500 || a.Moving != nil || !strings.HasPrefix(a.Salvaged, "line 3: ") || len(a.Samples) != 2 {
		t.Errorf("elapsed %v, distance %v, moving %v, salvaged %q, %d samples", a.Elapsed, *a.Distance, a.Moving, a.Salvaged, len(a.Samples))
	}
}

func TestWhatPrecedesTheDamageIsWhole(t *testing.T) {
	one := `<Activity Sport="Running">` + lapOf(start, "60", "200", track(at(start), at("2026-04-12T07:01:00Z"))) + `</Activity>`
	res := read(t, head+one+one[:len(one)-40], importer.Hints{})
	if len(res.Activities) != 2 || res.Activities[0].Salvaged != "" || res.Activities[1].Salvaged == "" {
		t.Errorf("%s", importertest.Text(res))
	}
}

func TestErrorsNameTheLine(t *testing.T) {
	bad := head + "\n" + `<Activity Sport="Running"><Lap><Track>` + "\n" + `<Trackpoint><Time>2026</Lap>`
	res := read(t, bad, importer.Hints{})
	refused(t, res, importer.Truncated, "again")
	if res.Refused.Line != 3 || !strings.Contains(res.Refused.Text, "</Lap>") {
		t.Errorf("%+v", res.Refused)
	}
	refused(t, read(t, "", importer.Hints{}), importer.Empty, "")
}

func TestContainerDamageIsKept(t *testing.T) {
	src := importertest.Source("x.tcx", []byte(run(lapOf(start, "60", "200", track(at(start))))), importer.Hints{})
	src.Damaged = "wrong in its checksum"
	if a := only(t, New().Read(src)); a.Salvaged != src.Damaged || *a.Moving != time.Minute {
		t.Errorf("salvaged %q, moving %v", a.Salvaged, a.Moving)
	}
}

func TestLapTimesThatCannotBe(t *testing.T) {
	twice := lapOf(start, "3600", "100", track(at(start), at("2026-04-12T08:00:00Z")))
	res := read(t, run(twice, twice), importer.Hints{})
	if a := only(t, res); a.Moving != nil || !strings.Contains(codes(res), "out-of-range") {
		t.Errorf("moving %v, problems %s", a.Moving, codes(res))
	}
	res = read(t, run(lapOf("2011-01-01T00:00:00Z", "60", "100", track(at(start), at("2026-04-12T07:01:00Z")))), importer.Hints{})
	if a := only(t, res); a.Elapsed != time.Minute || codes(res) != "bad-time:1" {
		t.Errorf("elapsed %v, problems %s", a.Elapsed, codes(res))
	}
}

func TestRecordersAreToldApart(t *testing.T) {
	device := func(id string) string {
		data := strings.Replace(run(lapOf(start, "60", "1")), "</Activity>", `<Creator><Name>recorder</Name><UnitId>`+id+`</UnitId></Creator></Activity>`, 1)
		return only(t, read(t, data, importer.Hints{})).Device
	}
	if a, b := device("1"), device("2"); a == b || a != device("1") || strings.Contains(a, "recorder") {
		t.Errorf("devices %q and %q", a, b)
	}
}

func TestLimits(t *testing.T) {
	refused(t, read(t, head+strings.Repeat("<a>", 100_000), importer.Hints{}), importer.TooLarge, "")
	refused(t, read(t, head+"<Activity><Lap><Track>"+strings.Repeat("<Trackpoint/>", 500_001), importer.Hints{}), importer.TooLarge, "")
}

func TestIdentifyGoesByTheRoot(t *testing.T) {
	for data, want := range map[string]bool{
		"\n\n <?xml version='1.0'?>\n" + head: true, "\xEF\xBB\xBF" + head: true, `<n:TrainingCenterDatabase xmlns:n="x">`: true,
		`<gpx>`: false, ``: false, `TrainingCenterDatabase`: false, `<a><TrainingCenterDatabase>`: false,
	} {
		if New().Identify([]byte(data)) != want {
			t.Errorf("%q: want %v", data, want)
		}
	}
}
