package season

import (
	"path"
	"slices"
	"time"

	"saltpan/pipeline/simulate"
)

// scaleRows is how many rows the scale of WriteRuns holds.
const scaleRows = 1000

// WriteRuns writes n FIT runs of one athlete, a record each second and about
// 4,000 records each, and a scale CSV of 1,000 rows, under dir: a load for
// benchmarks. It returns the names as Write does, and never overwrites a file.
func WriteRuns(dir string, n int, seed uint64) ([]string, error) {
	s := simulate.Run(seed, simulate.Options{Athletes: 1, Weeks: n/3 + 1,
		Start: time.Date(2023, time.January, 2, 0, 0, 0, 0, time.UTC)})
	var names []string
	put := func(f file) error {
		names = append(names, f.name)
		return f.write(dir)
	}
	for _, x := range s.Sessions[:min(n, len(s.Sessions))] {
		data, err := bout{x, x.Parts[0], 1, time.Second}.fit()
		if err != nil {
			return names, err
		}
		name := path.Join(x.Athlete, simulate.Local(x.Start()).Format("2006-01-02-1504.fit"))
		if err := put(file{name, data}); err != nil {
			return names, err
		}
	}
	return names, put(scaleFile(s.Scales[0], thin(s.WeighIns)))
}

// thin keeps scaleRows readings, those around sessions first.
func thin(all []simulate.WeighIn) []simulate.WeighIn {
	kept := slices.Clone(all)
	slices.SortStableFunc(kept, func(a, b simulate.WeighIn) int {
		return rank(a) - rank(b)
	})
	kept = kept[:min(scaleRows, len(kept))]
	slices.SortStableFunc(kept, func(a, b simulate.WeighIn) int { return a.At.Compare(b.At) })
	return kept
}

func rank(w simulate.WeighIn) int {
	if w.Session != "" {
		return 0
	}
	return 1
}
