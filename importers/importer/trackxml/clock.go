package trackxml

import (
	"strconv"
	"strings"
	"time"

	"saltpan/importers/importer"
)

// Stamp is a date and time as written.
type Stamp struct {
	// Time is the instant, or the wall time with UTC as a stand-in if Naive.
	Time time.Time
	// Naive is true when neither Z nor an offset is written.
	Naive bool
	// Offset is local time minus UTC, nil for Z and for +00:00, which writers
	// use for Z.
	Offset *time.Duration
}

// ParseStamp reads an RFC 3339 date and time, with what is seen beside it:
// blanks for the T, no seconds, 24:00:00, a leap second, an offset without a
// colon or minutes, a zone in brackets (RFC 9557), no offset at all.
func ParseStamp(text string) (Stamp, bool) {
	text, _, _ = strings.Cut(text, "[")
	if len(text) < 16 || text[4] != '-' || text[7] != '-' || text[13] != ':' {
		return Stamp{}, false
	}
	if c := text[10]; c != 'T' && c != 't' && c != ' ' {
		return Stamp{}, false
	}
	year, month, day := digits(text[0:4]), digits(text[5:7]), digits(text[8:10])
	hour, minute := digits(text[11:13]), digits(text[14:16])
	second, nanos, rest, ok := seconds(text[16:])
	if !ok || year < 0 || month < 1 || month > 12 || day < 1 || hour < 0 || minute < 0 || minute > 59 {
		return Stamp{}, false
	}
	if hour > 24 || hour == 24 && (minute > 0 || second > 0) || second > 60 {
		return Stamp{}, false
	}
	if time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Day() != day {
		return Stamp{}, false
	}
	wall := time.Date(year, time.Month(month), day, hour, minute, second, nanos, time.UTC)
	offset, naive, ok := zoneOffset(strings.TrimSpace(rest))
	stamp := Stamp{Time: wall.Add(-offset), Naive: naive}
	if offset != 0 && offset%(15*time.Minute) == 0 {
		stamp.Offset = &offset
	}
	return stamp, ok
}

// digits is a whole number of digits only, -1 for anything else.
func digits(s string) int {
	n := 0
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return -1
		}
		n = n*10 + int(s[i]-'0')
	}
	return n
}

// seconds reads ":05.25" and gives what follows; without seconds they are zero.
func seconds(s string) (second, nanos int, rest string, ok bool) {
	if s == "" || s[0] != ':' {
		return 0, 0, s, true
	}
	if len(s) < 3 || digits(s[1:3]) < 0 {
		return 0, 0, "", false
	}
	second, s = digits(s[1:3]), s[3:]
	if s == "" || s[0] != '.' && s[0] != ',' {
		return second, 0, s, true
	}
	end := 1
	for end < len(s) && s[end] >= '0' && s[end] <= '9' {
		end++
	}
	fraction := (s[1:end] + "000000000")[:9]
	nanos, err := strconv.Atoi(fraction)
	return second, nanos, s[end:], err == nil
}

// zoneOffset reads what follows the time. The offsets in use lie between
// -12:00 and +14:00.
func zoneOffset(s string) (offset time.Duration, naive, ok bool) {
	switch s {
	case "":
		return 0, true, true
	case "Z", "z":
		return 0, false, true
	}
	figures := strings.Replace(s[1:], ":", "", 1)
	if len(figures) == 2 {
		figures += "00"
	}
	n := digits(figures)
	if len(figures) != 4 || n < 0 || n%100 > 59 || s[0] != '+' && s[0] != '-' {
		return 0, false, false
	}
	offset = time.Duration(n/100)*time.Hour + time.Duration(n%100)*time.Minute
	if s[0] == '-' {
		offset = -offset
	}
	return offset, false, offset >= -12*time.Hour && offset <= 14*time.Hour
}

// latest is the end of what can be true, far from any clock now running.
var latest = time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC)

// Clock turns the times of one file into instants. Times without an offset
// are read in the declared zone; without one they are passed over.
type Clock struct {
	Tally *Tally
	// Offset is the first offset the bout states, nil if none.
	Offset *time.Duration

	zone *time.Location
	last time.Time
}

// NewClock makes a clock for a file whose zone may have been declared.
func NewClock(zone string, tally *Tally) *Clock {
	c := &Clock{Tally: tally}
	if zone == "" {
		return c
	}
	loc, err := time.LoadLocation(zone)
	if err != nil {
		tally.Add(importer.NoZone, "a zone that is not known", zone, 0, zoneHint)
		return c
	}
	c.zone = loc
	return c
}

const zoneHint = "name the zone the times are in, for example --zone Europe/Lisbon"

// Begin starts a bout, whose offset and times have nothing to do with the last.
func (c *Clock) Begin() { c.Offset, c.last = nil, time.Time{} }

// Read is the instant in UTC, zero if the text gives none; the reason is counted.
func (c *Clock) Read(text string, line int) time.Time {
	if text == "" {
		return time.Time{}
	}
	stamp, ok := ParseStamp(text)
	at := stamp.Time
	switch {
	case !ok:
		c.Tally.Add(importer.BadTime, "a time that is none was passed over", text, line,
			"times look like 2026-04-12T07:03:11Z")
		return time.Time{}
	case at.Before(importer.Earliest) || !at.Before(latest):
		c.Tally.Add(importer.BadTime, "a time of a clock that was never set was passed over", text, line,
			"set the recorder's clock before the next run")
		return time.Time{}
	case stamp.Naive && c.zone == nil:
		c.Tally.Add(importer.NoZone, "a local time without a zone was passed over", text, line, zoneHint)
		return time.Time{}
	case stamp.Naive:
		at = c.local(at, text, line)
	}
	if c.Offset == nil {
		c.Offset = stamp.Offset
	}
	c.last = at
	return at
}

// local resolves a wall time. Where the clock goes back it takes the first of
// the two instants that is not before the time read last; where it goes forward,
// the recorder had not yet switched.
func (c *Clock) local(wall time.Time, text string, line int) time.Time {
	before, after := c.at(wall, -24*time.Hour), c.at(wall, 24*time.Hour)
	switch {
	case before.Equal(after) || !c.shows(after, wall):
		return before
	case !c.shows(before, wall):
		return after
	}
	if c.last.IsZero() {
		c.Tally.Add(importer.BadTime, "a local time that comes twice as clocks go back; the first was taken", text, line, "")
	}
	if before.Before(c.last) {
		return after
	}
	return before
}

// at is the instant of a wall time under the offset in force some time away.
func (c *Clock) at(wall time.Time, away time.Duration) time.Time {
	_, offset := wall.Add(away).In(c.zone).Zone()
	return wall.Add(-time.Duration(offset) * time.Second)
}

func (c *Clock) shows(at, wall time.Time) bool {
	local := at.In(c.zone)
	return local.Hour() == wall.Hour() && local.Minute() == wall.Minute()
}
