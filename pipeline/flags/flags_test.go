package flags

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

func codes(list []Flag) string {
	var out []string
	for _, f := range list {
		out = append(out, f.Code)
	}
	return strings.Join(out, " ")
}

func TestEveryCodeHasWordsAndAnAskSaysWhatToDo(t *testing.T) {
	for _, code := range Codes() {
		f := Raise(code)
		if f.Text == "" || f.Level == Ask && f.Do == "" {
			t.Errorf("%s: %+v", code, f)
		}
	}
}

// Limits: 2 % ACSM 2007 and NATA 2017; 4 % NATA 2017; a gain is never hidden.
func TestMass(t *testing.T) {
	for pct, want := range map[float64]string{0.6: "gain", 0: "", -1.9: "", -2.1: "loss-over-2", -4.1: "loss-over-4"} {
		if got := codes(Mass(pct)); got != want {
			t.Errorf("%+.1f %%: %q, want %q", pct, got, want)
		}
	}
}

// Range measured in 506 athletes, Baker et al. 2016: 0.26 to 5.73 L/h.
func TestRate(t *testing.T) {
	for rate, want := range map[float64]string{0.2: "implausible-rate", 0.3: "", 5.7: "", 5.8: "implausible-rate", -1.4: "implausible-rate"} {
		if got := codes(Rate(rate)); got != want {
			t.Errorf("%.2f L/h: %q, want %q", rate, got, want)
		}
	}
}

func TestPause(t *testing.T) {
	moving := 50 * time.Minute
	if got := Pause(62*time.Minute, &moving); codes(got) != "long-pause" || !strings.Contains(got[0].Text, "12 min") {
		t.Errorf("12 min: %+v", got)
	}
	if got := Pause(55*time.Minute, &moving); got != nil {
		t.Errorf("5 min: %+v", got)
	}
	if got := Pause(55*time.Minute, nil); got != nil {
		t.Errorf("no timer: %+v", got)
	}
}

func TestReadersDisagreeTellsBothValues(t *testing.T) {
	ours, theirs := quantity.Distance(10248.7), quantity.Distance(13354)
	a := record.Activity{Distance: &ours, Second: &record.Totals{Distance: &theirs}}
	got := Activity(a)
	if codes(got) != "readers-disagree" || !strings.Contains(got[0].Text, "10249 m and 13354 m") {
		t.Errorf("got %+v", got)
	}
	near := ours + 40
	a.Second.Distance = &near
	if got := Activity(a); got != nil {
		t.Errorf("40 m apart: %+v", got)
	}
}

func TestSecondReaderThatFailsIsNoDisagreement(t *testing.T) {
	a := record.Activity{Second: &record.Totals{Failed: "it stopped"}}
	if got := codes(Activity(a)); got != "not-checked" {
		t.Errorf("got %q", got)
	}
	a.Salvaged = "it ends early"
	if got := codes(Activity(a)); got != "salvaged" {
		t.Errorf("damaged: got %q", got)
	}
}

func ExampleRaise() {
	f := Raise("long-gap", "70 min before")
	fmt.Println(f.Level, f.Text)
	// Output: remark long time between a weigh-in and the run: 70 min before
}
