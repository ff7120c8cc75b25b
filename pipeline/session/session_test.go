package session

import (
	"slices"
	"testing"
	"time"

	"saltpan/pipeline/record"
)

var start = time.Date(2026, 4, 12, 7, 3, 11, 0, time.UTC)

// bout is an activity that begins after min minutes and lasts long minutes.
func bout(id string, min, long int) record.Activity {
	return record.Activity{ID: id, Athlete: "ines", Sport: record.Running, Device: "watch 1",
		Start: start.Add(time.Duration(min) * time.Minute), Elapsed: time.Duration(long) * time.Minute, Origin: record.Origin{Path: id}}
}

func assemble(in Input) []Session {
	in.Athletes = []record.Athlete{{Key: "ines", Zone: "Europe/Lisbon"}}
	out, _ := Assemble(in)
	return out
}

func keys(list []Session) (out []string) {
	for _, s := range list {
		out = append(out, s.Key)
	}
	return out
}

func TestKeyIsAthleteLocalDateAndMinute(t *testing.T) {
	got := keys(assemble(Input{Activities: []record.Activity{bout("a:0", 0, 60)}}))
	if want := []string{"ines-2026-04-12-0803"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v: 07:03 UTC is 08:03 summer time in Lisbon", got, want)
	}
}

func TestCopiesOfOneRunAreOneSession(t *testing.T) {
	full, late := bout("a:0", 0, 60), bout("b:0", 2, 57)
	got := assemble(Input{Activities: []record.Activity{late, full}})
	if len(got) != 1 || len(got[0].Parts[0].Copies) != 2 || got[0].Parts[0].Best.ID != "a:0" {
		t.Errorf("got %+v", got)
	}
}

func TestUndamagedCopyIsBest(t *testing.T) {
	cut := bout("a:0", 0, 60)
	cut.Salvaged = "it ends early"
	got := assemble(Input{Activities: []record.Activity{cut, bout("b:0", 0, 59)}})
	if len(got) != 1 || got[0].Parts[0].Best.ID != "b:0" {
		t.Errorf("got %+v", got)
	}
}

func TestBoutsOfOneFileStayApart(t *testing.T) {
	got := assemble(Input{Activities: []record.Activity{bout("a:0", 0, 180), bout("a:1", 150, 5)}})
	if len(got) != 2 {
		t.Errorf("got %v", keys(got))
	}
}

func TestPiecesAreJoined(t *testing.T) {
	other := bout("b:0", 34, 30)
	other.Device = "watch 2"
	for _, c := range []struct {
		name    string
		second  record.Activity
		weighed bool
		want    int
	}{
		{"stopped and restarted after 4 min", bout("b:0", 34, 30), false, 1},
		{"a stop of 16 min", bout("b:0", 46, 30), false, 2},
		{"a weigh-in lies between", bout("b:0", 34, 30), true, 2},
		{"another device", other, false, 2},
	} {
		in := Input{Activities: []record.Activity{bout("a:0", 0, 30), c.second},
			Weighed: func(string, time.Time, time.Time) bool { return c.weighed }}
		if got := assemble(in); len(got) != c.want {
			t.Errorf("%s: %d sessions, want %d", c.name, len(got), c.want)
		}
	}
}

func TestJoinedTimeRunsOverTheStop(t *testing.T) {
	got := assemble(Input{Activities: []record.Activity{bout("a:0", 0, 30), bout("b:0", 34, 30)}})
	if got[0].Elapsed != 64*time.Minute {
		t.Errorf("elapsed %v, want 64 min: what is lost in the stop counts", got[0].Elapsed)
	}
}

func TestSplitUndoesJoinAndKeepsTheKey(t *testing.T) {
	acts := []record.Activity{bout("a:0", 0, 30), bout("b:0", 34, 30)}
	_, fresh := Assemble(Input{Activities: acts, Athletes: []record.Athlete{{Key: "ines", Zone: "Europe/Lisbon"}}})
	got := assemble(Input{Activities: acts, Keys: fresh,
		Corrections: []record.Correction{{Kind: record.Split, Activities: []string{"a:0", "b:0"}}}})
	if want := []string{"ines-2026-04-12-0803", "ines-2026-04-12-0837"}; !slices.Equal(keys(got), want) {
		t.Errorf("got %v, want %v", keys(got), want)
	}
}

func TestJoinKeepsTheSecondKeyAsAlias(t *testing.T) {
	acts := []record.Activity{bout("a:0", 0, 30), bout("b:0", 50, 30)}
	_, fresh := Assemble(Input{Activities: acts, Athletes: []record.Athlete{{Key: "ines", Zone: "Europe/Lisbon"}}})
	got := assemble(Input{Activities: acts, Keys: fresh,
		Corrections: []record.Correction{{Kind: record.Join, Activities: []string{"a:0", "b:0"}}}})
	if len(got) != 1 || !slices.Equal(got[0].Aliases, []string{"ines-2026-04-12-0853"}) {
		t.Errorf("got %+v", got)
	}
}

func TestKeyStaysAfterAChangeOfZone(t *testing.T) {
	acts := []record.Activity{bout("a:0", 0, 30)}
	_, fresh := Assemble(Input{Activities: acts, Athletes: []record.Athlete{{Key: "ines", Zone: "Asia/Tokyo"}}})
	got := assemble(Input{Activities: acts, Keys: fresh})
	if got[0].Key != "ines-2026-04-12-1603" {
		t.Errorf("got %v", got[0].Key)
	}
}

func TestMoveGivesAKeyOfTheNewAthlete(t *testing.T) {
	acts := []record.Activity{bout("a:0", 0, 30)}
	_, fresh := Assemble(Input{Activities: acts, Athletes: []record.Athlete{{Key: "ines", Zone: "Europe/Lisbon"}}})
	got := assemble(Input{Activities: acts, Keys: fresh,
		Corrections: []record.Correction{{Kind: record.MoveActivity, Activities: []string{"a:0"}, Athlete: "teo"}}})
	if got[0].Athlete != "teo" || got[0].Key != "teo-2026-04-12-0703" || got[0].Aliases[0] != "ines-2026-04-12-0803" {
		t.Errorf("got %+v", got[0])
	}
}

func TestOrderOfFilesNeverMatters(t *testing.T) {
	acts := []record.Activity{bout("a:0", 0, 30), bout("b:0", 1, 29), bout("c:0", 34, 30), bout("d:0", 300, 60)}
	want := keys(assemble(Input{Activities: acts}))
	slices.Reverse(acts)
	if got := keys(assemble(Input{Activities: acts})); !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
