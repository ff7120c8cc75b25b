package fit

import (
	"strings"
	"sync"
	"testing"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

func TestSecondReaderAgrees(t *testing.T) {
	got := readAll(t, encode(t, threeBouts()), importer.Hints{Second: true})
	if len(got.Activities) != 3 {
		t.Fatal(importertest.Text(got))
	}
	for _, a := range got.Activities {
		s := a.Second
		if s == nil || s.Reader != secondReader || s.Failed != "" || !s.Start.Equal(a.Start) || *s.Elapsed != a.Elapsed ||
			*s.Moving != *a.Moving || *s.Distance != *a.Distance || *s.MeanHRBpm != *a.MeanHRBpm || s.Samples != len(a.Samples) {
			t.Errorf("%s: second %+v", a.Sport, s)
		}
	}
	if a := only(t, encode(t, runOf(5))); a.Second != nil {
		t.Error("asked although nobody wanted it")
	}
}

// What the first reader cannot find at all is taken from the second.
func TestSecondReaderRescues(t *testing.T) {
	r := &reading{src: importertest.Source("invented.fit", encode(t, runOf(10)), importer.Hints{Athlete: "ines"})}
	r.res.Refused = r.problem(importer.Truncated, "it cannot be read past byte 14 of 999", "")
	r.secondOpinion()
	if r.res.Refused != nil || len(r.res.Activities) != 1 {
		t.Fatal(importertest.Text(r.res))
	}
	a := r.res.Activities[0]
	if !strings.HasPrefix(a.Salvaged, "read by the second reader only") || len(a.Samples) != 10 || a.Sport != "running" || a.Athlete != "ines" {
		t.Error(importertest.Text(r.res))
	}
	importertest.Check(t, r.res)
}

// The second decoder keeps state in package variables; run with -race.
func TestSecondReaderFromManySides(t *testing.T) {
	file := oldWatch()
	want := importertest.Text(readAll(t, file, importer.Hints{Second: true}))
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			got := New().Read(importertest.Source("invented.fit", file, importer.Hints{Second: true}))
			if len(got.Activities) != 1 || got.Activities[0].Second == nil {
				t.Errorf("got %s, want %s", importertest.Text(got), want)
			}
		})
	}
	wg.Wait()
}
