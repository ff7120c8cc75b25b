package scale

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"saltpan/importers/importer/table"
)

// stamp is a date, a time of day or both as read from a cell, with the order
// of day, month and year still open where the cell leaves it so.
type stamp struct {
	hasDate, hasClock bool
	date              [3]int // as written
	order             string // "ymd", "dmy", "mdy"; empty while open
	short             bool   // the year has two digits
	dotted            bool
	clock             time.Duration
	resolution        time.Duration
	offset            *time.Duration
	abs               time.Time // set for epochs and spreadsheet serials instead of date
	at                [2]int    // where the date stands in the folded cell
}

const day = 24 * time.Hour

var (
	yearFirst = regexp.MustCompile(`(?:^|[^0-9])([0-9]{4})(?:[-./] ?|年 ?|년 ?)([0-9]{1,2})(?:[-./] ?|月 ?|월 ?)([0-9]{1,2})(?:[.日일]|[^0-9]|$)`)
	yearLast  = regexp.MustCompile(`(?:^|[^0-9])([0-9]{1,2})([-./ ]) ?([0-9]{1,2})[-./ ] ?([0-9]{4}|[0-9]{2})(?:[^0-9]|$)`)
	dayName   = regexp.MustCompile(`(?:^|[^0-9])([0-9]{1,2})(?:st|nd|rd|th|er|º)?[-./ ]*(?:de |of )?(\pL{3,})[-./, ]*(?:de |del )?([0-9]{4}|[0-9]{2})(?:[^0-9]|$)`)
	nameDay   = regexp.MustCompile(`(\pL{3,})[-./ ]*([0-9]{1,2})(?:st|nd|rd|th)?[-/, ]+([0-9]{4})(?:[^0-9]|$)`)
	yearName  = regexp.MustCompile(`(?:^|[^0-9])([0-9]{4})[-./ ]+(\pL{3,})[-./ ]+([0-9]{1,2})(?:[^0-9]|$)`)
	compact   = regexp.MustCompile(`^(20[0-9]{2})([0-9]{2})([0-9]{2})(?:[t ]?([0-9]{2})([0-9]{2})([0-9]{2})?)?(z)?$`)
	clockTime = regexp.MustCompile(`(?:^|[^0-9])([0-9]{1,2}) ?[:.h時时点시] ?([0-9]{2})(?:분|分)?(?: ?[:.m] ?([0-9]{2})(?:[.,][0-9]+)?| ?([0-9]{2})[秒초])?(?:[^0-9]|$)`)
	halfDay   = regexp.MustCompile(`(?:^|[^\pL])([ap])\.? ?m(?:\.|[^\pL]|$)`)
	offsetRE  = regexp.MustCompile(`([-+−])([0-9]{2}):?([0-9]{2})?(?:$|[^0-9:])`)
	zulu      = regexp.MustCompile(`(?:[^\pL]|^)(?:z|utc|gmt)(?:[^\pL]|$)`)
	numeric   = regexp.MustCompile(`^[0-9]+(?:[.,][0-9]+)?$`)
)

// parseStamp reads what a cell says; hasDate and hasClock are false if it says nothing.
// epoch tells how plain numbers are meant: seconds since 1970 or days of a spreadsheet.
func parseStamp(cell string, epoch bool) stamp {
	text := table.Fold(cell)
	if numeric.MatchString(text) {
		return parseNumber(text, epoch)
	}
	if s, ok := parseCompact(text); ok {
		return s
	}
	s := parseDate(text)
	rest := text
	if s.hasDate {
		rest = text[:s.at[0]] + " " + text[s.at[1]:]
	}
	s.readClock(rest)
	return s
}

func parseDate(text string) stamp {
	if m := yearFirst.FindStringSubmatchIndex(text); m != nil {
		return stamp{hasDate: true, date: [3]int{num(text, m, 1), num(text, m, 2), num(text, m, 3)}, order: "ymd", at: [2]int{m[2], m[7]}}
	}
	if m := dayName.FindStringSubmatchIndex(text); m != nil && month(text[m[4]:m[5]]) > 0 {
		return stamp{hasDate: true, date: [3]int{num(text, m, 1), month(text[m[4]:m[5]]), num(text, m, 3)}, order: "dmy", short: m[7]-m[6] == 2, at: [2]int{m[2], m[7]}}
	}
	if m := nameDay.FindStringSubmatchIndex(text); m != nil && month(text[m[2]:m[3]]) > 0 {
		return stamp{hasDate: true, date: [3]int{month(text[m[2]:m[3]]), num(text, m, 2), num(text, m, 3)}, order: "mdy", at: [2]int{m[2], m[7]}}
	}
	if m := yearName.FindStringSubmatchIndex(text); m != nil && month(text[m[4]:m[5]]) > 0 {
		return stamp{hasDate: true, date: [3]int{num(text, m, 1), month(text[m[4]:m[5]]), num(text, m, 3)}, order: "ymd", at: [2]int{m[2], m[7]}}
	}
	if m := yearLast.FindStringSubmatchIndex(text); m != nil {
		return stamp{hasDate: true, date: [3]int{num(text, m, 1), num(text, m, 3), num(text, m, 4)},
			short: m[9]-m[8] == 2, dotted: text[m[4]:m[5]] == ".", at: [2]int{m[2], m[9]}}
	}
	return stamp{}
}

func num(text string, m []int, group int) int {
	if m[2*group] < 0 {
		return 0
	}
	n, _ := strconv.Atoi(text[m[2*group]:m[2*group+1]])
	return n
}

// readClock reads the time of day, half of the day and offset in what is left of a cell.
func (s *stamp) readClock(rest string) {
	m := clockTime.FindStringSubmatchIndex(rest)
	if m == nil {
		return
	}
	h, min, sec := num(rest, m, 1), num(rest, m, 2), num(rest, m, 3)+num(rest, m, 4)
	end := m[5]
	s.resolution = time.Minute
	for _, g := range []int{3, 4} {
		if m[2*g] >= 0 {
			s.resolution, end = time.Second, m[2*g+1]
		}
	}
	h, ok := twentyFour(h, rest)
	if !ok || h > 24 || min > 59 || sec > 60 || h == 24 && min+sec > 0 {
		return
	}
	s.hasClock = true
	s.clock = time.Duration(h)*time.Hour + time.Duration(min)*time.Minute + time.Duration(sec)*time.Second
	s.offset = readOffset(rest[end:])
}

// twentyFour turns an hour of a half day into one of the day.
func twentyFour(h int, rest string) (int, bool) {
	half := ""
	if m := halfDay.FindStringSubmatch(rest); m != nil {
		half = m[1]
	}
	for _, w := range []string{"午前", "上午", "오전"} {
		if strings.Contains(rest, w) {
			half = "a"
		}
	}
	for _, w := range []string{"午後", "下午", "오후"} {
		if strings.Contains(rest, w) {
			half = "p"
		}
	}
	switch {
	case half == "":
		return h, true
	case h > 12 || h == 0 && half == "a":
		return h, h == 0 || half == "p" && h < 24 // "13:05 pm" is written too
	case half == "a":
		return h % 12, true
	}
	return h%12 + 12, true
}

// readOffset reads an offset from UTC: whole quarters of an hour within 14 hours.
func readOffset(rest string) *time.Duration {
	if m := offsetRE.FindStringSubmatch(rest); m != nil {
		h, _ := strconv.Atoi(m[2])
		min, _ := strconv.Atoi("0" + m[3])
		d := time.Duration(h)*time.Hour + time.Duration(min)*time.Minute
		if d > 14*time.Hour || min%15 != 0 {
			return nil
		}
		if m[1] != "+" {
			d = -d
		}
		return &d
	}
	if zulu.MatchString(rest) {
		return new(time.Duration)
	}
	return nil
}

// parseCompact reads 20250403, 202504030715 and 20250403T071500Z.
func parseCompact(text string) (stamp, bool) {
	m := compact.FindStringSubmatch(text)
	if m == nil {
		return stamp{}, false
	}
	var n [6]int
	for i := range n {
		n[i], _ = strconv.Atoi(m[i+1])
	}
	s := stamp{hasDate: true, date: [3]int{n[0], n[1], n[2]}, order: "ymd", hasClock: m[4] != "", resolution: time.Minute}
	if m[6] != "" {
		s.resolution = time.Second
	}
	s.clock = time.Duration(n[3])*time.Hour + time.Duration(n[4])*time.Minute + time.Duration(n[5])*time.Second
	if m[7] != "" {
		s.offset = new(time.Duration)
	}
	return s, n[3] < 24 && n[4] < 60 && n[5] < 60
}

// serialEpoch is day zero of spreadsheet dates after February 1900.
var serialEpoch = time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)

// parseNumber reads seconds or milliseconds since 1970, a compact date or a
// spreadsheet's days, whose fraction is the time of day.
func parseNumber(text string, epoch bool) stamp {
	whole, fraction, _ := strings.Cut(strings.Replace(text, ",", ".", 1), ".")
	if s, ok := parseCompact(text); ok {
		return s
	}
	v, err := strconv.ParseFloat(whole+"."+fraction+"0", 64)
	switch {
	case err != nil || v > 1e14:
		return stamp{}
	case epoch:
		if len(whole) > 11 {
			v /= 1000
		}
		return stamp{hasDate: true, hasClock: true, abs: time.Unix(int64(v), 0).UTC(), resolution: time.Second, offset: new(time.Duration)}
	case 1 <= v && v < 24 && len(fraction) == 2 && fraction < "60": // 7.15, a time of day with a full stop
		h, _ := strconv.Atoi(whole)
		min, _ := strconv.Atoi(fraction)
		return stamp{hasClock: true, clock: time.Duration(h)*time.Hour + time.Duration(min)*time.Minute, resolution: time.Minute}
	case v < 1 && len(fraction) > 0 && len(fraction) != 2: // 0.25 could be 6:00 or 0:25
		return stamp{hasClock: true, clock: time.Duration(math.Round(v*86400)) * time.Second, resolution: serialResolution(fraction)}
	case len(whole) != 5:
		return stamp{}
	}
	s := stamp{hasDate: true, abs: serialEpoch.Add(time.Duration(math.Round(v*86400)) * time.Second)}
	if fraction != "" {
		s.hasClock, s.resolution = true, serialResolution(fraction)
	}
	return s
}

// serialResolution is what the decimals of a fraction of a day can tell: the
// fifth is about a second.
func serialResolution(fraction string) time.Duration {
	if len(fraction) < 5 {
		return time.Minute
	}
	return time.Second
}
