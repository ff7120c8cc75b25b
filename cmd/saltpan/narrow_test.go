package main

import (
	"testing"

	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
)

// Two readings of 0.03 kg each and a drink of 0.01 kg: without the readings
// 0.01 of √(0.0018 + 0.0001) = 0.0436 is left, 77 % less.
func TestNarrowerTakesTheReadingsTogether(t *testing.T) {
	loss := measure.Read("test", quantity.Litres(1), nil, measure.Part{Cause: "reading/a.csv:2", U: 0.03},
		measure.Part{Cause: "reading/a.csv:3", U: 0.03}, measure.Part{Cause: "drunk", U: 0.01})
	if got, want := narrower(loss), "a scale with a finer step would narrow it most, by up to 77 %"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestNarrowerIsSilentWhereNothingHelps(t *testing.T) {
	loss := measure.Read("test", quantity.Litres(1), nil, measure.Part{Cause: "nobody knows", U: 0.1}, measure.Part{Cause: "drunk", U: 0.01})
	if got := narrower(loss); got != "" {
		t.Errorf("got %q", got)
	}
}
