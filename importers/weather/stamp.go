package weather

import (
	"regexp"
	"strconv"
	"strings"
	"time"
)

// stamp is a time as read from a cell.
type stamp struct {
	hasDate, hasClock bool
	wall              time.Time      // date and time of day as written
	offset            *time.Duration // local time minus UTC, where the cell says it
	abs               bool           // an epoch: wall is UTC
	open              bool           // day and month could be either
}

var (
	yearFirst = regexp.MustCompile(`^([0-9]{4})([-/.])([0-9]{1,2})[-/.]([0-9]{1,2})(?:$|[t ,]+)`)
	yearLast  = regexp.MustCompile(`^([0-9]{1,2})([-/.])([0-9]{1,2})[-/.]([0-9]{4})(?:$|[t ,]+)`)
	compact   = regexp.MustCompile(`^(20[0-9]{2})([01][0-9])([0-3][0-9])(?:[t: ]?([0-2][0-9])([0-5][0-9])?([0-5][0-9])?)?(z)?$`)
	clock     = regexp.MustCompile(`^([0-9]{1,2}):([0-9]{2})(?::([0-9]{2})(?:[.,][0-9]+)?)? ?([ap]m)?`)
	offsetRE  = regexp.MustCompile(`^ ?(?:(z|utc|gmt)|(?:utc|gmt)? ?([-+])([0-9]{1,2}):?([0-9]{2})?)$`)
	epoch     = regexp.MustCompile(`^([0-9]{9,10}|[0-9]{13})(?:[.,][0-9]+)?$`)
	hourOnly  = regexp.MustCompile(`^([01]?[0-9]|2[0-4])$`)
)

// parseStamp reads ISO 8601 in its usual forms, seconds or milliseconds since
// 1970, and dates with the day first. order is "dmy" or "mdy" for those with
// slashes, empty if nobody said.
func parseStamp(cell, order string) stamp {
	text := strings.ToLower(sign.Replace(strings.TrimSpace(cell)))
	if m := compact.FindStringSubmatch(text); m != nil {
		s := dated(m[1], m[2], m[3])
		s.hasClock = s.hasDate && m[4] != ""
		s.add(m[4], m[5], m[6], "")
		if m[7] != "" {
			s.offset = new(time.Duration)
		}
		return s
	}
	if m := epoch.FindStringSubmatch(text); m != nil {
		n, _ := strconv.ParseInt(m[1], 10, 64)
		if len(m[1]) == 13 {
			n /= 1000
		}
		return stamp{hasDate: true, hasClock: true, abs: true, wall: time.Unix(n, 0).UTC()}
	}
	s, rest := parseDate(text, order)
	s.readClock(rest)
	return s
}

func parseDate(text, order string) (stamp, string) {
	if m := yearFirst.FindStringSubmatch(text); m != nil {
		return dated(m[1], m[3], m[4]), text[len(m[0]):]
	}
	m := yearLast.FindStringSubmatch(text)
	if m == nil {
		return stamp{}, text
	}
	s := dated(m[4], m[3], m[1])
	swapped := dated(m[4], m[1], m[3])
	// With full stops the day comes first (common practice).
	if m[2] != "." && s.hasDate && swapped.hasDate && !s.wall.Equal(swapped.wall) {
		s.open = order != "dmy" && order != "mdy"
	}
	if m[2] != "." && (order == "mdy" || !s.hasDate) {
		swapped.open = s.open
		s = swapped
	}
	return s, text[len(m[0]):]
}

// dated is a stamp of a date, without one if there is no such day.
func dated(year, month, day string) stamp {
	y, m, d := atoi(year), atoi(month), atoi(day)
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	return stamp{hasDate: t.Day() == d && int(t.Month()) == m, wall: t}
}

func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

// readClock reads the time of day and the offset behind a date.
func (s *stamp) readClock(rest string) {
	m := clock.FindStringSubmatch(rest)
	if m == nil {
		if hourOnly.MatchString(rest) {
			s.hasClock = true
			s.add(rest, "", "", "")
		}
		return
	}
	h, min, sec := atoi(m[1]), atoi(m[2]), atoi(m[3])
	if h > 24 || min > 59 || sec > 60 || h == 24 && min+sec > 0 || m[4] != "" && (h < 1 || h > 12) {
		return
	}
	tail := rest[len(m[0]):]
	o := offsetRE.FindStringSubmatch(tail)
	if tail != "" && o == nil {
		return // something follows that could change the meaning
	}
	s.hasClock = true
	s.add(m[1], m[2], m[3], m[4])
	if o != nil {
		s.offset = offset(o[2], o[3], o[4])
		s.hasClock = s.offset != nil
	}
}

// add puts a time of day on the date.
func (s *stamp) add(hour, minute, second, half string) {
	h := atoi(hour)
	if half != "" {
		h %= 12
	}
	if half == "pm" {
		h += 12
	}
	s.wall = s.wall.Add(time.Duration(h)*time.Hour + time.Duration(atoi(minute))*time.Minute + time.Duration(atoi(second))*time.Second)
}

// offset is hours and minutes from UTC, nil if nobody lives by it.
func offset(sign, hours, minutes string) *time.Duration {
	d := time.Duration(atoi(hours))*time.Hour + time.Duration(atoi(minutes))*time.Minute
	if d > 14*time.Hour || d%(15*time.Minute) != 0 {
		return nil
	}
	if sign == "-" {
		d = -d
	}
	return &d
}
