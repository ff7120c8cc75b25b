package match

import (
	"testing"
	"time"
)

// The dates are those of the IANA time zone database: Europe/Berlin changes on
// the last Sundays of March and October at 01:00 UTC, Australia/Lord_Howe by
// half an hour on the first Sundays of April and October, America/New_York on
// the second Sunday of March and the first of November; Pacific/Apia left out
// the whole of 2011-12-30.
func TestInstants(t *testing.T) {
	for _, tt := range []struct {
		zone, wall string
		want       []string
	}{
		{"Europe/Berlin", "2026-03-29T01:59:59", []string{"2026-03-29T00:59:59Z"}},
		{"Europe/Berlin", "2026-03-29T02:30:00", nil},
		{"Europe/Berlin", "2026-03-29T03:00:00", []string{"2026-03-29T01:00:00Z"}},
		{"Europe/Berlin", "2026-10-25T02:30:00", []string{"2026-10-25T00:30:00Z", "2026-10-25T01:30:00Z"}},
		{"Europe/Berlin", "2026-10-25T03:00:00", []string{"2026-10-25T02:00:00Z"}},
		{"America/New_York", "2026-03-08T02:30:00", nil},
		{"America/New_York", "2026-11-01T01:30:00", []string{"2026-11-01T05:30:00Z", "2026-11-01T06:30:00Z"}},
		{"Australia/Lord_Howe", "2026-10-04T02:15:00", nil},
		{"Australia/Lord_Howe", "2026-10-04T02:30:00", []string{"2026-10-03T15:30:00Z"}},
		{"Australia/Lord_Howe", "2026-04-05T01:45:00", []string{"2026-04-04T14:45:00Z", "2026-04-04T15:15:00Z"}},
		{"Pacific/Apia", "2011-12-29T23:30:00", []string{"2011-12-30T09:30:00Z"}},
		{"Pacific/Apia", "2011-12-30T12:00:00", nil},
		{"Pacific/Apia", "2011-12-31T00:00:00", []string{"2011-12-30T10:00:00Z"}},
		{"Asia/Kathmandu", "2026-05-01T07:00:00", []string{"2026-05-01T01:15:00Z"}},
		{"UTC", "2026-05-01T07:00:00", []string{"2026-05-01T07:00:00Z"}},
	} {
		loc, err := time.LoadLocation(tt.zone)
		if err != nil {
			t.Fatal(err)
		}
		wall, err := time.Parse("2006-01-02T15:04:05", tt.wall)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, at := range Instants(wall, loc) {
			got = append(got, at.Format(time.RFC3339))
		}
		if len(got) != len(tt.want) {
			t.Errorf("%s in %s: got %v, want %v", tt.wall, tt.zone, got, tt.want)
			continue
		}
		for i := range got {
			if got[i] != tt.want[i] {
				t.Errorf("%s in %s: got %v, want %v", tt.wall, tt.zone, got, tt.want)
			}
		}
	}
}

// Every instant has a wall clock that means it again, in every hour of a year.
func TestInstantsReadBack(t *testing.T) {
	for _, zone := range []string{"Europe/Berlin", "Australia/Lord_Howe", "America/St_Johns", "Africa/Casablanca", "Antarctica/Troll"} {
		loc, err := time.LoadLocation(zone)
		if err != nil {
			t.Fatal(err)
		}
		for at := time.Date(2026, 1, 1, 0, 10, 0, 0, time.UTC); at.Year() == 2026; at = at.Add(30 * time.Minute) {
			found := false
			for _, got := range Instants(at.In(loc), loc) {
				found = found || got.Equal(at)
			}
			if !found {
				t.Fatalf("%s: %s is not among the instants of its own wall clock", zone, at)
			}
		}
	}
}
