package trackxml

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"saltpan/importers/importer"
)

// Examples of RFC 3339, section 5.8: fractions, an offset, a leap second in two
// zones, and the odd offset of the Netherlands in 1937.
func TestExamplesOfRFC3339(t *testing.T) {
	for text, utc := range map[string]string{
		"1985-04-12T23:20:50.52Z":      "1985-04-12T23:20:50.52Z",
		"1996-12-19T16:39:57-08:00":    "1996-12-20T00:39:57Z",
		"1990-12-31T23:59:60Z":         "1991-01-01T00:00:00Z",
		"1990-12-31T15:59:60-08:00":    "1991-01-01T00:00:00Z",
		"1937-01-01T12:00:27.87+00:20": "1937-01-01T11:40:27.87Z",
	} {
		s, ok := ParseStamp(text)
		if got := s.Time.Format(time.RFC3339Nano); !ok || got != utc || s.Naive {
			t.Errorf("%s is %s, want %s", text, got, utc)
		}
	}
}

func TestStampsBesideRFC3339(t *testing.T) {
	for text, want := range map[string]struct {
		utc    string
		naive  bool
		offset time.Duration
	}{
		"2026-04-12T07:03:11":             {"2026-04-12T07:03:11Z", true, 0},
		"2026-04-12 07:03:11Z":            {"2026-04-12T07:03:11Z", false, 0},
		"2026-04-12t07:03:11z":            {"2026-04-12T07:03:11Z", false, 0},
		"2026-04-12T07:03Z":               {"2026-04-12T07:03:00Z", false, 0},
		"2026-04-12T07:03:11+0530":        {"2026-04-12T01:33:11Z", false, 330 * time.Minute},
		"2026-04-12T07:03:11+02":          {"2026-04-12T05:03:11Z", false, 2 * time.Hour},
		"2026-04-12T07:03:11,5 +02:00":    {"2026-04-12T05:03:11.5Z", false, 2 * time.Hour},
		"2026-04-12T07:03:11+00:00":       {"2026-04-12T07:03:11Z", false, 0},
		"2026-04-12T07:03:11+00:07":       {"2026-04-12T06:56:11Z", false, 0}, // no zone has it
		"2026-04-12T24:00:00Z":            {"2026-04-13T00:00:00Z", false, 0},
		"2026-04-12T07:03:11[Asia/Tokyo]": {"2026-04-12T07:03:11Z", true, 0},
	} {
		s, ok := ParseStamp(text)
		var offset time.Duration
		if s.Offset != nil {
			offset = *s.Offset
		}
		if got := s.Time.Format(time.RFC3339Nano); !ok || got != want.utc || s.Naive != want.naive || offset != want.offset {
			t.Errorf("%s is %s, naive %v, offset %v; want %+v", text, got, s.Naive, offset, want)
		}
	}
}

func TestNoStamps(t *testing.T) {
	for _, text := range []string{"", "1689408000", "2026-04-12", "2026-02-30T07:03:11Z", "2026-13-01T07:03:11Z", "2026-04-00T07:03:11Z",
		"2026-04-12T24:00:01Z", "2026-04-12T07:60:00Z", "2026-04-12T07:03:61Z", "2026-04-12T07:03:1Z", "2026-04-12T07:03:11+15:00",
		"2026-04-12T07:03:11-13:00", "2026-04-12T07:03:11+2", "2026-04-12T07:03:11 local", "2026/04/12 07:03:11", "-026-04-12T07:03:11Z", "2026-04-12T+7:03:11Z"} {
		if s, ok := ParseStamp(text); ok {
			t.Errorf("%q is taken for %v", text, s.Time)
		}
	}
}

// What the standard library writes is read as what it was.
func TestStampsAsWrittenByTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		at := time.Unix(rapid.Int64Range(946_684_800, 4_102_444_799).Draw(r, "unix"), rapid.Int64Range(0, 999_999_999).Draw(r, "nanos"))
		zone := time.FixedZone("", 900*rapid.IntRange(-48, 56).Draw(r, "quarters"))
		s, ok := ParseStamp(at.In(zone).Format(time.RFC3339Nano))
		if !ok || !s.Time.Equal(at) || s.Naive {
			r.Errorf("%v is read as %+v", at.In(zone), s)
		}
	})
}

// Clock changes of 2025: Berlin +2 to +1 h on 26 October and +1 to +2 h on 30
// March, both at 01:00 UTC (Directive 2000/84/EC); New York -4 to -5 h on 2
// November at 06:00 UTC and back on 9 March at 07:00 UTC (15 U.S.C. 260a).
func TestClockChanges(t *testing.T) {
	for _, c := range []struct {
		zone  string
		reads [][2]string
	}{
		{"Europe/Berlin", [][2]string{{"2025-10-26T01:59:00", "2025-10-25T23:59:00Z"}, {"2025-10-26T02:30:00", "2025-10-26T00:30:00Z"},
			{"2025-10-26T02:00:00", "2025-10-26T01:00:00Z"}, {"2025-10-26T03:00:00", "2025-10-26T02:00:00Z"}}},
		{"Europe/Berlin", [][2]string{{"2025-03-30T01:59:00", "2025-03-30T00:59:00Z"}, {"2025-03-30T02:30:00", "2025-03-30T01:30:00Z"},
			{"2025-03-30T03:31:00", "2025-03-30T01:31:00Z"}}},
		{"America/New_York", [][2]string{{"2025-11-02T01:30:00", "2025-11-02T05:30:00Z"}, {"2025-11-02T01:10:00", "2025-11-02T06:10:00Z"}}},
		{"America/New_York", [][2]string{{"2025-03-09T02:30:00", "2025-03-09T07:30:00Z"}}},
	} {
		clock := NewClock(c.zone, &Tally{Path: "x"})
		for _, r := range c.reads {
			if got := clock.Read(r[0], 1).Format(time.RFC3339); got != r[1] {
				t.Errorf("%s in %s is %s, want %s", r[0], c.zone, got, r[1])
			}
		}
	}
}

func TestFirstTimeThatComesTwiceIsTold(t *testing.T) {
	tally := &Tally{Path: "x"}
	NewClock("Europe/Berlin", tally).Read("2025-10-26T02:30:00", 7)
	if p := tally.First(importer.BadTime); p == nil || p.Line != 7 {
		t.Errorf("problems %+v", tally.Problems())
	}
}
