package weather

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/table"
	"saltpan/pipeline/record"
)

// head is the beginning of a report: its kind, the station, day, hour and
// minute in UTC. Its form is that of FM 15 METAR and FM 16 SPECI (WMO-No. 306,
// Manual on Codes, volume I.1; from memory).
var head = regexp.MustCompile(`(?:^|[^A-Z0-9])(?:(METAR|SPECI|TAF)\s+)?(?:(COR|AMD)\s+)?([A-Z][A-Z0-9]{3})\s+([0-3][0-9])([0-2][0-9])([0-5][0-9])Z(?:[\s=]|$)`)

// period is the time for which a forecast holds.
var period = regexp.MustCompile(`^\s*(?:NIL\b|CNL\b|[0-9]{4}/[0-9]{4}\b)`)

// scoreReport says whether a row has a report.
func scoreReport(cells []string) int {
	line := strings.Join(cells, " ")
	m := head.FindStringIndex(line)
	if m == nil || m[0] > 100 {
		return 0
	}
	return 1
}

// reports reads the lines of a source, the first of which is the table's header.
func (j *job) reports(t table.Table) {
	j.say("encoding: %s", t.Encoding)
	j.say("reports from line %d on", t.Header.Line)
	for _, r := range joined(append([]table.Row{t.Header}, t.Rows...)) {
		j.report(r.line, r.text)
	}
}

// line is a report and the line it begins on.
type line struct {
	line int
	text string
}

// joined puts reports together that run over lines, as they may where every
// report ends with an equals sign.
func joined(rows []table.Row) []line {
	var out []line
	ends := false
	for _, r := range rows {
		ends = ends || strings.HasSuffix(r.Cells[len(r.Cells)-1], "=")
	}
	for _, r := range rows {
		text := strings.Join(r.Cells, " ")
		if n := len(out) - 1; ends && n >= 0 && !head.MatchString(text) && !strings.HasSuffix(out[n].text, "=") {
			out[n].text += " " + text
			continue
		}
		out = append(out, line{r.Line, text})
	}
	return out
}

// report reads one report.
func (j *job) report(line int, text string) {
	m := head.FindStringSubmatchIndex(text)
	group := func(i int) string {
		if m[2*i] < 0 {
			return ""
		}
		return text[m[2*i]:m[2*i+1]]
	}
	if m == nil || group(1) == "TAF" || period.MatchString(text[m[1]:]) {
		j.other++
		return
	}
	at, f := reportTime(text[:m[0]+min(1, m[0])], atoi(group(4)), atoi(group(5)), atoi(group(6)), text[m[8]:m[1]])
	if f != nil {
		j.problem(line, f)
		return
	}
	o := observation{Weather: record.Weather{At: at, Station: group(3)}, corrects: group(2) == "COR"}
	if f := o.groups(text[m[1]:]); f != nil {
		j.problem(line, f)
		return
	}
	if o.missing {
		j.lacking++
		return
	}
	j.check(line, &o.Weather)
	j.add(line, o)
}

// reportTime is the time of a report. It names no month: that comes from the
// date before it, which is at most a day away (a local date can be).
func reportTime(before string, day, hour, minute int, text string) (time.Time, *fault) {
	date, ok := dateBefore(before)
	if !ok {
		return time.Time{}, &fault{importer.BadTime, fmt.Sprintf("time %q: no month and year", strings.TrimSpace(text)), "put the date before each report, such as 201905121244 or 2019-05-12"}
	}
	for _, away := range []int{0, 1, -1} {
		d := date.AddDate(0, 0, away)
		if d.Day() == day && hour < 24 {
			t := time.Date(d.Year(), d.Month(), day, hour, minute, 0, 0, time.UTC)
			return t, credible(t, text)
		}
	}
	return time.Time{}, &fault{importer.BadTime, fmt.Sprintf("time %q: it does not go with the date before it, %s", strings.TrimSpace(text), date.Format(time.DateOnly)), ""}
}

var datePrefix = regexp.MustCompile(`(?:^|[^0-9])([0-9]{4})[-/.]([0-9]{2})[-/.]([0-9]{2})(?:[^0-9]|$)|(?:^|[^0-9])(20[0-9]{2})([01][0-9])([0-3][0-9])(?:[0-9]{4}|[0-9]{6}|[tT][0-9]{4,6})?(?:[^0-9]|$)`)

// dateBefore is the date that stands before a report.
func dateBefore(text string) (time.Time, bool) {
	m := datePrefix.FindStringSubmatch(text)
	if m == nil {
		return time.Time{}, false
	}
	s := dated(m[1]+m[4], m[2]+m[5], m[3]+m[6])
	return s.wall, s.hasDate
}
