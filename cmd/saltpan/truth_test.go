package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"saltpan/pipeline/simulate"
)

// say runs a command on a store and gives what it wrote to stdout.
func say(t *testing.T, store string, args ...string) []byte {
	t.Helper()
	var out, bad bytes.Buffer
	e := &env{in: strings.NewReader(""), out: &out, voice: voice{&bad}, now: func() time.Time { return time.Date(2026, 7, 1, 12, 0, 0, 0, time.UTC) }}
	if code := execute(context.Background(), e, append([]string{"--store", store}, args...)); code != 0 {
		t.Fatalf("saltpan %v: exit code %d\n%s", args, code, bad.Bytes())
	}
	return out.Bytes()
}

// TestSeasonAgainstTruth reads an invented season from its files and holds
// every session against what really happened: no weigh-in of somebody else, no
// loss far from the truth, and intervals that hold what they promise.
func TestSeasonAgainstTruth(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	say(t, "unused", "demo", dir)
	truth := map[string]simulate.Session{}
	for _, s := range simulate.Run(demoSeed, simulate.Options{}).Sessions {
		truth[s.Key] = s
	}
	complete, held, heldRate, bounds := 0, 0, 0, 0
	dec := json.NewDecoder(bytes.NewReader(say(t, filepath.Join(dir, "store", "saltpan.db"), "--json", "sessions")))
	for {
		var s sessionJSON
		if err := dec.Decode(&s); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		real, known := truth[s.Session]
		if !known {
			t.Errorf("%s is no session of the season", s.Session)
			continue
		}
		if s.SweatLossL == nil {
			continue
		}
		// What the season calls truth is the sweat from weigh-in to weigh-in.
		sweat := float64(real.Truth.Sweat)
		if *s.AtLeast {
			bounds++
			if *s.SweatLossL.Lo > sweat {
				t.Errorf("%s: at least %.2f L, really %.2f L", s.Session, *s.SweatLossL.Lo, sweat)
			}
			continue
		}
		complete++
		if math.Abs(*s.SweatLossL.Value-sweat) > 0.5 {
			t.Errorf("%s: %.2f L, really %.2f L", s.Session, *s.SweatLossL.Value, sweat)
		}
		if *s.SweatLossL.Lo <= sweat && sweat <= *s.SweatLossL.Hi {
			held++
		}
		if rate := float64(real.Truth.Rate); *s.LossRate.Lo <= rate && rate <= *s.LossRate.Hi {
			heldRate++
		}
	}
	if complete < 100 || bounds < 10 {
		t.Errorf("%d losses and %d bounds; the season has more", complete, bounds)
	}
	for what, n := range map[string]int{"loss": held, "rate": heldRate} {
		share := float64(n) / float64(complete)
		t.Logf("the 95 %% interval of the %s holds the truth in %.1f %% of %d sessions", what, 100*share, complete)
		if share < 0.90 {
			t.Errorf("the interval of the %s is too narrow", what)
		}
	}
}
