package store

import (
	"context"
	"errors"
	"reflect"
	"testing"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

func TestAthleteIsMergedFieldByField(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	mass, none := quantity.Kilograms(62), []string{}
	change(t, s, func(t *Tx) error {
		return t.PutAthlete(record.Athlete{Key: "ines", Name: "Ines", Zone: "Europe/Lisbon", UsualMass: &mass,
			Trips: []record.Trip{{Zone: "Asia/Tokyo", From: "2026-01-01", To: "2026-01-09"}}})
	})
	change(t, s, func(t *Tx) error {
		return t.PutAthlete(record.Athlete{Key: "ines", Zone: "Europe/Madrid", Medical: &none,
			Trips: []record.Trip{{Zone: "UTC", From: "2026-02-01", To: "2026-02-02"}}})
	})
	got, there, err := s.Athlete(ctx, "ines")
	want := record.Athlete{Key: "ines", Name: "Ines", Zone: "Europe/Madrid", UsualMass: &mass, Medical: &none,
		Trips: []record.Trip{{Zone: "Asia/Tokyo", From: "2026-01-01", To: "2026-01-09"}, {Zone: "UTC", From: "2026-02-01", To: "2026-02-02"}}}
	if err != nil || !there || !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v (%v)\nwant %+v", got, err, want)
	}
	if _, there, err := s.Athlete(ctx, "nobody"); there || err != nil {
		t.Errorf("nobody is there: %v", err)
	}
}

// row is a line of a scale's file.
func row(sha string, line int, at time.Time, mass, step float64) record.WeighIn {
	o := record.Origin{Path: sha + ".csv", Line: line, SHA256: sha, Reader: "scale/1"}
	return record.WeighIn{ID: o.SHA256 + ":" + string(rune('0'+line)), Scale: "bath", Wall: at, Resolution: time.Minute,
		Mass: quantity.Kilograms(mass), MassStep: quantity.Kilograms(step), Origin: o}
}

func TestReadingsOfALaterExportAreKnown(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	later := t0.Add(24 * time.Hour)
	change(t, s, func(t *Tx) error {
		return t.PutWeighIns([]record.WeighIn{row("a", 2, t0, 62, 0.5)})
	})
	change(t, s, func(t *Tx) error {
		return t.PutWeighIns([]record.WeighIn{row("b", 2, later, 61.7, 0.1), row("b", 3, t0, 62, 0.1)})
	})
	change(t, s, func(t *Tx) error {
		return t.PutWeighIns([]record.WeighIn{row("c", 7, later, 61.7, 0.1)})
	})
	got := facts(t, s).WeighIns
	if len(got) != 2 || got[0].ID != "a:2" || got[0].MassStep != 0.1 || got[1].ID != "b:2" {
		t.Errorf("readings %+v, want each once, by its first name, with the finest step", got)
	}
	if _, err := s.Retract(ctx, t0, 2); err != nil {
		t.Fatal(err)
	}
	if got := facts(t, s).WeighIns; len(got) != 2 {
		t.Errorf("without the second export: %+v, want what the first and third hold", got)
	}
}

func TestToldWeighInsAreNumberedAndAllKept(t *testing.T) {
	s := fresh(t)
	w := record.WeighIn{Scale: "told", Athlete: "ines", Wall: t0, Mass: 62}
	change(t, s, func(t *Tx) error { return t.PutWeighIns([]record.WeighIn{w, w}) })
	got := facts(t, s).WeighIns
	if len(got) != 2 || got[0].ID != "1" || got[1].ID != "2" {
		t.Errorf("readings %+v", got)
	}
}

func TestBackgroundAddsUp(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	for range 2 {
		change(t, s, func(t *Tx) error {
			return errors.Join(t.AddBackground("bath", map[[2]int]int{{80, 7}: 2, {15, 20}: 1}),
				t.AddBackground("bath", map[[2]int]int{{80, 7}: 1}))
		})
	}
	want := []record.Background{{Scale: "bath", Count: map[[2]int]int{{80, 7}: 6, {15, 20}: 2}}}
	if got := facts(t, s).Backgrounds; !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if _, err := s.Undo(ctx, t0, 1); err != nil {
		t.Fatal(err)
	}
	if got := facts(t, s).Backgrounds[0].Count[[2]int{80, 7}]; got != 3 {
		t.Errorf("%d after undo, want 3", got)
	}
}

func TestOverlappingWeatherIsThereOnce(t *testing.T) {
	s := fresh(t)
	for _, temp := range []float64{18, 19} {
		change(t, s, func(t *Tx) error {
			return t.PutWeather([]record.Weather{{At: t0, AirTempC: temp, Place: &record.Position{Lat: 38.7, Lon: -9.1}}})
		})
	}
	if got := facts(t, s).Weather; len(got) != 1 || got[0].AirTempC != 19 {
		t.Errorf("weather %+v, want the last told", got)
	}
}

func TestFactsOfSomeAthletes(t *testing.T) {
	s := fresh(t)
	change(t, s, func(t *Tx) error {
		run := func(id, athlete string) record.Activity {
			return record.Activity{ID: id, Athlete: athlete, Start: t0}
		}
		return errors.Join(
			t.PutAthlete(record.Athlete{Key: "ines"}), t.PutAthlete(record.Athlete{Key: "joao"}),
			t.PutScale(record.Scale{Key: "hers", Athletes: []string{"ines"}}),
			t.PutScale(record.Scale{Key: "his", Athletes: []string{"joao"}}),
			t.PutActivity(run("a", "ines")), t.PutActivity(run("b", "joao")), t.PutActivity(run("c", "joao")),
			t.PutCorrection(record.Correction{Kind: record.MoveActivity, Activities: []string{"c"}, Athlete: "ines"}),
			t.PutCorrection(record.Correction{Kind: record.DropActivity, Activities: []string{"b"}}),
			t.PutKeys([]record.SessionKey{{Key: "ka", Activity: "a"}, {Key: "kb", Activity: "b"}}),
			t.PutNote(record.Note{Session: "ka"}), t.PutNote(record.Note{Session: "kb"}),
			t.PutWeighIns([]record.WeighIn{{Scale: "hers"}, {Scale: "his"}, {Scale: "hall"}, {Scale: "his", Athlete: "ines"}}))
	})
	f := facts(t, s, "ines")
	if len(f.Athletes) != 1 || len(f.Scales) != 1 || len(f.Activities) != 2 || len(f.Corrections) != 1 ||
		len(f.Keys) != 1 || len(f.Notes) != 1 || len(f.WeighIns) != 3 {
		t.Errorf("facts %+v", f)
	}
	if f := facts(t, s); len(f.Activities) != 3 || len(f.WeighIns) != 4 || len(f.Notes) != 2 {
		t.Errorf("facts of all %+v", f)
	}
}

func TestSources(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	look := func(path string) (Source, bool) {
		t.Helper()
		got, ok, err := s.SourceByStat(ctx, path, 10, 20, 1<<63)
		if err != nil {
			t.Fatal(err)
		}
		return got, ok
	}
	put := func(src Source) {
		src.SizeBytes, src.MtimeNS, src.Inode = 10, 20, 1<<63
		change(t, s, func(t *Tx) error { return t.PutSource(src) })
	}
	put(Source{Path: "/a.zip!run.fit", SHA256: "feed", Result: Stored, Athlete: "ines"})
	put(Source{Path: "/a.zip", SHA256: "cafe", Result: Known, Kind: "zip"})
	put(Source{Path: "/copy.fit", SHA256: "feed", Result: Known, Athlete: "ines"})
	put(Source{Path: "/photo", SHA256: "f00d", Result: Refused, Reason: "unknown-format"})
	put(Source{Path: "/photo", SHA256: "f00d", Result: Refused, Reason: "unknown-format"})
	for _, path := range []string{"/a.zip!run.fit", "/a.zip", "/copy.fit", "/photo"} {
		if _, ok := look(path); !ok {
			t.Errorf("%s is not known by its stat", path)
		}
	}
	if _, ok, err := s.SourceByStat(ctx, "/photo", 11, 20, 1<<63); ok || err != nil {
		t.Errorf("a file of another size is known: %v", err)
	}
	if _, ok, err := s.SourceByHash(ctx, "feed", "joao"); ok || err != nil {
		t.Errorf("the content is known for somebody else: %v", err)
	}
	if all, err := s.Sources(ctx); err != nil || len(all) != 4 {
		t.Errorf("sources %+v, %v", all, err)
	}
	if _, err := s.Undo(ctx, t0, 1); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/a.zip!run.fit", "/a.zip", "/copy.fit"} {
		if got, ok := look(path); ok {
			t.Errorf("%s is still known after its facts were taken back: %+v", path, got)
		}
	}
	put(Source{Path: "/a.zip!run.fit", SHA256: "feed", Result: Stored, Athlete: "ines"})
	if _, ok := look("/a.zip"); !ok {
		t.Error("the archive is not known although its member is there again")
	}
}

func TestDigestsOfTheMethodAsked(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	for _, method := range []string{"1", "2"} {
		if err := s.PutDigests(ctx, method, map[string][]byte{"a": []byte(method)}); err != nil {
			t.Fatal(err)
		}
	}
	old, err := s.Digests(ctx, "1")
	if err != nil || len(old) != 0 {
		t.Errorf("digests of the method before: %v, %v", old, err)
	}
	if now, err := s.Digests(ctx, "2"); err != nil || string(now["a"]) != "2" {
		t.Errorf("digests %v, %v", now, err)
	}
}

func TestMeta(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	if err := errors.Join(s.SetMeta(ctx, "method", "1"), s.SetMeta(ctx, "method", "2")); err != nil {
		t.Fatal(err)
	}
	for key, want := range map[string]string{"method": "2", "none": ""} {
		if got, err := s.Meta(ctx, key); err != nil || got != want {
			t.Errorf("%s is %q (%v), want %q", key, got, err, want)
		}
	}
}
