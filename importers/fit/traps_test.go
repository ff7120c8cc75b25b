package fit

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/proto"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
	"saltpan/pipeline/record"
)

// summaryFirst has session and activity before the records and developer
// fields of doubtful description, as recent watches write.
func summaryFirst() []proto.Message {
	recs := recordsOf(began+1, 12)
	for i := range recs {
		recs[i].DeveloperFields = []proto.DeveloperField{{Num: 0, DeveloperDataIndex: 0, Value: proto.Uint16(uint16(200 + i))}}
	}
	describe := func(num byte, name, units string) proto.Message {
		return mesg(mesgFieldDescription, 0, byte(0), 1, num, 2, byte(0x84), descriptionName, []string{name}, descriptionUnits, []string{units})
	}
	return joined(fileOf(typeActivity), sessionOfSport(1, began, 13), activityOf(began+13, -5*3600),
		mesg(mesgDeveloperDataID, 3, byte(0)), describe(0, "effort", "W"), describe(1, "effort", "kJ"), describe(2, "", ""), recs)
}

// threeBouts is a swim, a transition and a run in one file, the distance
// counting on.
func threeBouts() []proto.Message {
	return joined(fileOf(typeActivity), recordsOf(began, 60), sessionOfSport(5, began, 20),
		sessionOfSport(3, began+20, 10), sessionOfSport(1, began+30, 30), activityOf(began+60, 3600))
}

// unsetClock counts from power-on; only local_timestamp knows the date.
func unsetClock() []proto.Message {
	return joined(fileOf(typeActivity), recordsOf(1000, 5), sessionOfSport(1, 1000, 5),
		mesg(mesgActivity, fieldTimestamp, uint32(1005), activityLocal, began))
}

func weights() []proto.Message {
	w := func(at uint32, mass, user uint16) proto.Message {
		return mesg(mesgWeightScale, fieldTimestamp, at, weightMass, mass, weightUser, user)
	}
	return joined(fileOf(typeWeight), w(began-600, 6240, 1), w(began-540, stillMeasuring, 1), w(began+6000, 6125, 1),
		w(began+7000, 0xFFFF, 1), w(began+9000, 8105, 2))
}

// A clock never set is refused; the hint names the only real time.
func TestUnsetClockIsRefused(t *testing.T) {
	got := readAll(t, encode(t, unsetClock()))
	if got.Refused == nil || got.Refused.Code != importer.BadTime ||
		!strings.Contains(got.Refused.Hint, "activity.local_timestamp says 2026-04-12 07:03:11") {
		t.Errorf("got %+v", got.Refused)
	}
	never := readAll(t, encode(t, joined(fileOf(typeActivity), recordsOf(1000, 5), sessionOfSport(1, 1000, 5))))
	if never.Refused == nil || never.Refused.Code != importer.BadTime || strings.Contains(never.Refused.Hint, "local_timestamp") {
		t.Errorf("got %+v", never.Refused)
	}
	first := stampOf("2000-01-01T00:00:10Z")
	reset := readAll(t, encode(t, joined(fileOf(typeActivity), recordsOf(first, 5), sessionOfSport(1, first, 5))))
	if reset.Refused == nil || reset.Refused.Code != importer.BadTime {
		t.Errorf("first day of 2000: got %+v", reset.Refused)
	}
}

// A session that began before the clock was set starts with its records.
func TestClockSetOnTheWay(t *testing.T) {
	a := only(t, encode(t, joined(fileOf(typeActivity), recordsOf(900, 3), recordsOf(began, 10), sessionOfSport(1, 900, 13))))
	if !a.Start.Equal(moment(began)) || len(a.Samples) != 10 {
		t.Errorf("%v with %d samples", a.Start, len(a.Samples))
	}
}

// Local time minus UTC is believed only if it can be a zone.
func TestOffsetHasToBeAZone(t *testing.T) {
	for ahead, want := range map[int]bool{
		0: true, 3600: true, 5*3600 + 45*60: true, -9*3600 - 1800: true, 14 * 3600: true,
		1080: false, 3601: false, 15 * 3600: false, -21 * 365 * 86400: false,
	} {
		a := only(t, encode(t, joined(fileOf(typeActivity), recordsOf(began, 5), sessionOfSport(1, began, 5), activityOf(began+5, ahead))))
		if got := a.UTCOffset; (got != nil) != want || want && *got != time.Duration(ahead)*time.Second {
			t.Errorf("%d s ahead: got %v, believed %v", ahead, got, want)
		}
	}
	zero := joined(fileOf(typeActivity), recordsOf(began, 5), mesg(mesgActivity, fieldTimestamp, began, activityLocal, uint32(0)))
	if a := only(t, encode(t, zero)); a.UTCOffset != nil {
		t.Errorf("raw 0: got %v", a.UTCOffset)
	}
	if a := only(t, encode(t, joined(fileOf(typeActivity), recordsOf(began, 5)))); a.UTCOffset != nil {
		t.Errorf("none: got %v", a.UTCOffset)
	}
}

// Cut short, the totals come from the records and the bout says so.
func TestCutShortIsSalvaged(t *testing.T) {
	whole := encode(t, runOf(100))
	a := only(t, whole[:len(whole)/2])
	if a.Salvaged == "" || len(a.Samples) < 40 || len(a.Samples) > 55 {
		t.Fatalf("%d samples, salvaged %q", len(a.Samples), a.Salvaged)
	}
	last := a.Samples[len(a.Samples)-1]
	if a.Elapsed != last.At || float64(*a.Distance) != float64(last.Distance) || a.Moving != nil || a.MeanHRBpm == nil {
		t.Errorf("totals %v %v %v do not come from the last record %+v", a.Elapsed, *a.Distance, a.Moving, last)
	}
	if a.Second == nil || a.Second.Failed == "" || a.Second.Samples != len(a.Samples) {
		t.Errorf("the second reader was not asked: %+v", a.Second)
	}
	wrong := bytes.Clone(whole)
	wrong[len(wrong)-1] ^= 1
	if a := only(t, wrong); a.Salvaged == "" || len(a.Samples) != 100 {
		t.Errorf("wrong checksum: %d samples, salvaged %q", len(a.Samples), a.Salvaged)
	}
	if a := only(t, whole); a.Salvaged != "" {
		t.Errorf("a whole file is called salvaged: %q", a.Salvaged)
	}
}

// Sessions may come before or after the records, and several share them by time.
func TestSessionsShareRecordsByTime(t *testing.T) {
	last := threeBouts()
	first := joined(last[:1], last[len(last)-4:], last[1:len(last)-4])
	a, b := readAll(t, encode(t, last)), readAll(t, encode(t, first))
	if len(a.Activities) != 3 || len(b.Activities) != 3 {
		t.Fatalf("%d and %d activities, want 3", len(a.Activities), len(b.Activities))
	}
	for i, want := range []struct {
		sport string
		at, n int
	}{{"swimming", 0, 20}, {"transition", 20, 10}, {"running", 30, 30}} {
		for _, got := range []record.Activity{a.Activities[i], b.Activities[i]} {
			if got.Sport != want.sport || !got.Start.Equal(moment(began+uint32(want.at))) || len(got.Samples) != want.n || got.Samples[0].At != 0 {
				t.Errorf("bout %d: %s at %v with %d samples, want %+v", i, got.Sport, got.Start, len(got.Samples), want)
			}
		}
	}
	if id := a.Activities[2].ID; !strings.HasSuffix(id, ":2") || len(id) != 66 {
		t.Errorf("id %q", id)
	}
}

// Each leg's session after its records, the last one lost to damage: the
// records left over are a bout of their own.
func TestLegWithoutItsSession(t *testing.T) {
	whole := encode(t, joined(fileOf(typeActivity), recordsOf(began, 100), sessionOfSport(2, began, 100),
		recordsOf(began+300, 100), sessionOfSport(1, began+300, 100)))
	got := readAll(t, whole[:len(whole)-300])
	if len(got.Activities) != 2 {
		t.Fatal(importertest.Text(got))
	}
	if a := got.Activities[1]; !a.Start.Equal(moment(began+300)) || a.Salvaged == "" || len(a.Samples) < 80 || a.Sport != record.UnknownSport {
		t.Error(importertest.Text(got))
	}
}

// Records outside every session of a whole file are told.
func TestRecordsOutsideSessions(t *testing.T) {
	got := readAll(t, encode(t, joined(fileOf(typeActivity), recordsOf(began, 200), sessionOfSport(1, began, 100))))
	if len(got.Activities) != 1 || len(got.Activities[0].Samples) != 161 || !strings.Contains(strings.Join(got.Why, "\n"), "39 moments lie outside every session") {
		t.Error(importertest.Text(got))
	}
}

// Heart rates of 0 and 255 are no readings.
func TestHeartRateThatIsNone(t *testing.T) {
	recs := recordsOf(began, 10)
	for i, hr := range []uint8{0, 255, 0, 100, 110, 0, 255, 0, 0, 0} {
		recs[i].FieldByNum(recordHR).Value = proto.Uint8(hr)
	}
	a := only(t, encode(t, joined(fileOf(typeActivity), recs)))
	if a.MeanHRBpm == nil || *a.MeanHRBpm != 105 || a.Samples[0].HRBpm != 0 || a.Samples[1].HRBpm != 0 {
		t.Errorf("mean %v, first %d %d", a.MeanHRBpm, a.Samples[0].HRBpm, a.Samples[1].HRBpm)
	}
	for i := range recs {
		recs[i].FieldByNum(recordHR).Value = proto.Uint8(0)
	}
	s := sessionOfSport(1, began, 10)
	s.FieldByNum(sessionMeanHR).Value = proto.Uint8(0)
	if a := only(t, encode(t, joined(fileOf(typeActivity), recs, s))); a.MeanHRBpm != nil {
		t.Errorf("zeros only: mean %v", *a.MeanHRBpm)
	}
}

// Wide speed and altitude win over the 16-bit ones; either will do.
// Scales of the FIT profile: speed 1000, altitude 5 with offset 500.
func TestSpeedAndAltitudeInBothWidths(t *testing.T) {
	rec := func(i int, fields ...any) proto.Message {
		return mesg(mesgRecord, append([]any{fieldTimestamp, began + uint32(i)}, fields...)...)
	}
	a := only(t, encode(t, joined(fileOf(typeActivity),
		rec(0, recordAltitude, uint16(2600), recordSpeed, uint16(2500)),
		rec(1, recordFineAltitude, uint32(2700), recordFineSpeed, uint32(2700)),
		rec(2, recordFineAltitude, uint32(2800), recordFineSpeed, uint32(2900), recordAltitude, uint16(9), recordSpeed, uint16(9)),
		rec(3, recordAltitude, uint16(9), recordSpeed, uint16(9), recordFineAltitude, uint32(2900), recordFineSpeed, uint32(3100)))))
	for i, want := range [][2]float32{{20, 2.5}, {40, 2.7}, {60, 2.9}, {80, 3.1}} {
		if s := a.Samples[i]; s.Altitude != want[0] || s.Speed != want[1] {
			t.Errorf("sample %d: %v m, %v m/s, want %v", i, s.Altitude, s.Speed, want)
		}
	}
}

// Messages that share an instant are one sample, field by field, and
// backward times are put in order.
func TestInstantsAreMerged(t *testing.T) {
	at := func(i int) []any { return []any{fieldTimestamp, began + uint32(i)} }
	a := only(t, encode(t, joined(fileOf(typeActivity),
		mesg(mesgRecord, append(at(0), recordLat, semicircles(38.71), recordLong, semicircles(-9.15))...),
		mesg(mesgRecord, append(at(0), recordDistance, uint32(100))...),
		mesg(mesgRecord, append(at(2), recordDistance, uint32(900))...),
		mesg(mesgRecord, append(at(1), recordDistance, uint32(500))...),
		mesg(mesgRecord, append(at(1), recordHR, uint8(99), recordDistance, uint32(501))...))))
	if len(a.Samples) != 3 || a.StartAt == nil || a.Samples[0].Distance != 1 {
		t.Fatalf("%+v", a.Samples)
	}
	if s := a.Samples[1]; s.Distance != 5 || s.HRBpm != 99 || s.At != time.Second {
		t.Errorf("second instant %+v", s)
	}
}

// Records of another week are damage, wherever the session stands.
func TestRecordsOfAnotherDecade(t *testing.T) {
	odd := recordsOf(stampOf("2085-12-21T16:46:58Z"), 1)
	old := recordsOf(began-2*day, 1)
	for _, m := range [][]proto.Message{
		joined(fileOf(typeActivity), recordsOf(began, 10), odd, old),
		joined(fileOf(typeActivity), sessionOfSport(1, began, 10), odd, old, recordsOf(began, 10)),
		joined(fileOf(typeActivity), odd, old, recordsOf(began, 10)),
	} {
		if got := readAll(t, encode(t, m)); len(got.Problems) != 1 || !strings.HasPrefix(got.Problems[0].Text, "2 of 12 records") {
			t.Errorf("not told: %s", importertest.Text(got))
		}
		a := only(t, encode(t, m))
		if len(a.Samples) != 10 || a.Elapsed > 10*time.Second || a.Distance == nil || *a.Distance > 31 {
			t.Errorf("%d samples, %v, %v m", len(a.Samples), a.Elapsed, *a.Distance)
		}
	}
}

// Elapsed and timer time are both kept, and a missing timer is nil.
func TestElapsedAndTimer(t *testing.T) {
	s := sessionOfSport(1, began, 3000)
	s.FieldByNum(sessionTimer).Value = proto.Uint32(2_400_500)
	a := only(t, encode(t, joined(fileOf(typeActivity), recordsOf(began, 5), recordsOf(began+2995, 5), s)))
	if a.Elapsed != 3000*time.Second || a.Moving == nil || *a.Moving != 2400500*time.Millisecond || len(a.Samples) != 10 {
		t.Errorf("elapsed %v, moving %v, %d samples", a.Elapsed, a.Moving, len(a.Samples))
	}
	s.RemoveFieldByNum(sessionTimer)
	if a := only(t, encode(t, joined(fileOf(typeActivity), recordsOf(began, 5), s))); a.Moving != nil {
		t.Errorf("moving %v, want none", *a.Moving)
	}
}

// A session starts up to a second before its first record, or after it.
func TestSessionStartBesideFirstRecord(t *testing.T) {
	a := only(t, encode(t, joined(fileOf(typeActivity), sessionOfSport(1, began, 10), recordsOf(began+1, 9))))
	if a.Samples[0].At != time.Second || len(a.Samples) != 9 {
		t.Errorf("first sample at %v of %d", a.Samples[0].At, len(a.Samples))
	}
	a = only(t, encode(t, joined(fileOf(typeActivity), sessionOfSport(1, began+2, 10), recordsOf(began, 9))))
	if a.Samples[0].At != -2*time.Second || len(a.Samples) != 9 {
		t.Errorf("first sample at %v of %d", a.Samples[0].At, len(a.Samples))
	}
}

// Other sports are kept by name; files that hold no session are skipped.
func TestOtherSportsAndFiles(t *testing.T) {
	for code, want := range map[int]string{0: "other", 1: "running", 2: "cycling", 3: "transition", 5: "swimming", 11: "walking", 200: "other"} {
		if a := only(t, encode(t, joined(fileOf(typeActivity), recordsOf(began, 3), sessionOfSport(code, began, 3)))); a.Sport != want {
			t.Errorf("sport %d is %q, want %q", code, a.Sport, want)
		}
	}
	for kind, want := range map[int]string{2: "device settings", 5: "a workout", 6: "a course", 15: "daily monitoring", 32: "daily monitoring", 34: "a course segment", 99: "a file of type 99"} {
		got := readAll(t, encode(t, joined(fileOf(kind), recordsOf(began, 3), lapOf(began, 3))))
		if got.Skipped != want {
			t.Errorf("type %d: %s, want skipped as %q", kind, importertest.Text(got), want)
		}
	}
}

// Developer fields are told, and change nothing.
func TestDeveloperFields(t *testing.T) {
	got := readAll(t, encode(t, summaryFirst(), encoder.WithProtocolVersion(proto.V2)))
	if len(got.Activities) != 1 || len(got.Activities[0].Samples) != 12 || got.Activities[0].Samples[11].Distance != 33 {
		t.Fatal(importertest.Text(got))
	}
	if why := strings.Join(got.Why, "\n"); !strings.Contains(why, `"effort" in "W", "effort" in "kJ", "" in ""`) {
		t.Errorf("not told: %s", why)
	}
	latin1 := raw(14, definition(0, mesgFileID, 0, 1, 0), data(0, []byte{typeActivity}),
		definition(1, mesgFieldDescription, descriptionName, 4, 0x07), data(1, []byte("h\xF6he")),
		definition(2, mesgRecord, 253, 4, 0x86), data(2, le(began)), data(2, le(began+1)))
	if why := strings.Join(readAll(t, latin1).Why, "\n"); !strings.Contains(why, `"h?he"`) {
		t.Errorf("not told: %s", why)
	}
}

// Weight messages are weigh-ins in kg and UTC (FIT profile: scale 100).
func TestWeights(t *testing.T) {
	got := readAll(t, encode(t, weights()))
	if len(got.WeighIns) != 3 || len(got.Problems) != 0 {
		t.Fatal(importertest.Text(got))
	}
	for i, want := range []struct {
		mass   float64
		at     uint32
		person string
	}{{62.40, began - 600, "user 1"}, {61.25, began + 6000, "user 1"}, {81.05, began + 9000, "user 2"}} {
		w := got.WeighIns[i]
		if math.Abs(w.Mass.Kilograms()-want.mass) > 1e-9 || !w.Wall.Equal(moment(want.at)) || w.Person != want.person ||
			w.UTCOffset == nil || *w.UTCOffset != 0 || w.Scale != "scale" || w.Resolution != time.Second || math.Abs(float64(w.MassStep)-0.05) > 1e-9 {
			t.Errorf("weigh-in %d: %+v, want %+v", i, w, want)
		}
	}
	if w := readAll(t, encode(t, weights()), importer.Hints{Scale: "hall"}).WeighIns[0]; w.Scale != "hall" {
		t.Errorf("scale %q", w.Scale)
	}
	unset := joined(fileOf(typeWeight), mesg(mesgWeightScale, fieldTimestamp, uint32(500), weightMass, uint16(6240)))
	if got := readAll(t, encode(t, unset)); len(got.WeighIns) != 0 || got.Refused == nil || got.Refused.Code != importer.BadTime {
		t.Errorf("unset clock: %s", importertest.Text(got))
	}
	busy := joined(fileOf(typeWeight), mesg(mesgWeightScale, fieldTimestamp, began, weightMass, uint16(stillMeasuring)))
	if got := readAll(t, encode(t, busy)); got.Skipped != "a weight file without readings" {
		t.Errorf("still measuring: %s", importertest.Text(got))
	}
}

// The weight in a user's profile is a setting. Field 4 of user_profile is
// weight in 0.1 kg.
func TestProfileWeightIsNoWeighIn(t *testing.T) {
	profile := mesg(mesgUserProfile, 4, uint16(624))
	if got := readAll(t, encode(t, joined(runOf(10)[:1], profile, runOf(10)[1:]))); len(got.WeighIns) != 0 || len(got.Activities) != 1 {
		t.Error(importertest.Text(got))
	}
	if got := readAll(t, encode(t, joined(fileOf(2), profile))); got.Skipped != "device settings" {
		t.Error(importertest.Text(got))
	}
}
