//go:build unix

package store

import (
	"context"
	"fmt"
	"syscall"
	"testing"
	"time"

	"saltpan/pipeline/record"
)

func cpuTime(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkCommitActivity stores a run of 4,000 samples in a change of its own,
// as ingest does; cpu-ms/op leaves out the waiting for the disk.
func BenchmarkCommitActivity(b *testing.B) {
	s := fresh(b)
	samples := manySamples(4000)
	b.ReportAllocs()
	b.ResetTimer()
	before := cpuTime(b)
	for i := range b.N {
		change(b, s, func(t *Tx) error {
			return t.PutActivity(record.Activity{ID: fmt.Sprint(i), Athlete: "ines", Sport: record.Running, Start: t0,
				Elapsed: 4000 * time.Second, Samples: samples})
		})
	}
	b.ReportMetric((cpuTime(b)-before).Seconds()*1000/float64(b.N), "cpu-ms/op")
}

// BenchmarkSecondLook asks about files that are known already, in a store that
// holds a thousand.
func BenchmarkSecondLook(b *testing.B) {
	ctx := context.Background()
	s := fresh(b)
	for i := range 1000 {
		change(b, s, func(t *Tx) error {
			return t.PutSource(Source{Path: fmt.Sprint("/in/", i), SHA256: fmt.Sprint(i), Result: Stored})
		})
	}
	b.ResetTimer()
	for i := range b.N {
		if _, ok, err := s.SourceByStat(ctx, fmt.Sprint("/in/", i%1000), 0, 0, 0); !ok || err != nil {
			b.Fatal(ok, err)
		}
	}
}

// BenchmarkFacts reads a season of 300 runs and 1,000 readings.
func BenchmarkFacts(b *testing.B) {
	ctx := context.Background()
	s := fresh(b)
	samples := manySamples(4000)
	for i := range 300 {
		change(b, s, func(t *Tx) error {
			return t.PutActivity(record.Activity{ID: fmt.Sprint(i), Athlete: "ines", Start: t0, Samples: samples})
		})
	}
	change(b, s, func(t *Tx) error {
		var all []record.WeighIn
		for i := range 1000 {
			all = append(all, row("a", i, t0.Add(time.Duration(i)*time.Hour), 62, 0.1))
		}
		return t.PutWeighIns(all)
	})
	b.ResetTimer()
	for range b.N {
		if f, err := s.Facts(ctx, "ines"); err != nil || len(f.Activities) != 300 || len(f.WeighIns) != 1000 {
			b.Fatal(len(f.Activities), len(f.WeighIns), err)
		}
	}
}
