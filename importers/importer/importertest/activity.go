package importertest

import (
	"math"
	"testing"

	"saltpan/importers/importer"
	"saltpan/pipeline/record"
)

// checkActivity fails on anything in an activity that cannot be true.
func checkActivity(t *testing.T, a record.Activity) {
	t.Helper()
	if a.ID == "" || a.Sport == "" || a.Start.Before(importer.Earliest) || a.Elapsed < 0 {
		t.Errorf("activity that cannot be: %q %q %v %v", a.ID, a.Sport, a.Start, a.Elapsed)
	}
	if a.Moving != nil && *a.Moving < 0 {
		t.Errorf("moving time %v below zero", *a.Moving)
	}
	if a.Distance != nil && !(*a.Distance >= 0 && float64(*a.Distance) < 1e7) {
		t.Errorf("distance %v", *a.Distance)
	}
	for i, s := range a.Samples {
		if i > 0 && s.At <= a.Samples[i-1].At {
			t.Errorf("sample %d at %v is not after the one before, %v", i, s.At, a.Samples[i-1].At)
			return
		}
		for _, v := range []float32{s.Distance, s.Altitude, s.Speed, s.Temp} {
			if math.IsInf(float64(v), 0) {
				t.Errorf("sample %d holds an infinite value: %+v", i, s)
				return
			}
		}
	}
}
