package scale

import (
	"fmt"
	"strings"
	"testing"

	"saltpan/importers/importer"
)

// One row with the stamp in every form; the forms are those of ISO 8601, of
// the Unicode locale data's short and medium patterns, and of common practice.
func TestStamps(t *testing.T) {
	const m, s, d = "2025-04-03T07:15:00/m", "2025-04-03T07:15:20/s", "2025-04-03T00:00:00/d"
	const evening = "2025-04-03T19:15:00/m"
	for stamp, want := range map[string]string{
		"2025-04-03 07:15":                  m,
		"2025-04-03T07:15":                  m,
		"2025-04-03T07:15:20":               s,
		"2025-04-03T07:15:20.123":           s,
		"2025-04-03 7:15":                   m,
		"2025-04-03T07:15:20Z":              s + "/0s",
		"2025-04-03T07:15:20.5Z":            s + "/0s",
		"2025-04-03T07:15:20+02:00":         s + "/2h0m0s",
		"2025-04-03T07:15:20-0330":          s + "/-3h30m0s",
		"2025-04-03 07:15:20 +05":           s + "/5h0m0s",
		"2025-04-03 07:15 UTC":              m + "/0s",
		"2025-04-03 07:15 GMT+1":            m + "/0s",
		"2025.04.03 07:15":                  m,
		"2025/04/03 07:15":                  m,
		"2025/4/3 7:15":                     m,
		"2025. 4. 3. 오후 7:15":               evening,
		"20250403T071520Z":                  s + "/0s",
		"20250403071520":                    s,
		"202504030715":                      m,
		"20250403":                          d,
		"03.04.2025 07:15":                  m,
		"03.04.2025, 07:15 Uhr":             m,
		"3.4.2025 7.15":                     m,
		"03.04.25 07:15":                    m,
		"03-Apr-25 07:15":                   m,
		"3 April 2025 at 07:15":             m,
		"Thu, 3 Apr 2025 07:15:20":          s,
		"jeu. 3 avr. 2025 07:15":            m,
		"3 août 2025 07:15":                 strings.Replace(m, "-04-", "-08-", 1),
		"3. März 2025 07:15":                strings.Replace(m, "-04-", "-03-", 1),
		"3 de abril de 2025 7:15":           m,
		"3 апреля 2025 07:15":               m,
		"3. huhtikuuta 2025 7.15":           m,
		"Apr 3, 2025, 7:15 AM":              m,
		"Apr 3, 2025, 7:15\u202fAM":         m,
		"Apr 3, 2025, 7:15\u00a0PM":         evening,
		"April 3rd, 2025 7:15 p.m.":         evening,
		"2025 Apr 3 07:15":                  m,
		"2025-04-03 12:15 AM":               "2025-04-03T00:15:00/m",
		"2025-04-03 12:15 PM":               "2025-04-03T12:15:00/m",
		"2025-04-03 7:15 a. m.":             m,
		"2025年4月3日 午後7:15":                  evening,
		"2025年4月3日 19時15分":                  evening,
		"２０２５/０４/０３ ０７:１５":                  m,
		"2025-04-03 24:00":                  "2025-04-04T00:00:00/m",
		"1743664520":                        s + "/0s", // date -u -d 2025-04-03T07:15:20Z +%s
		"1743664520123":                     s + "/0s",
		"1743664520.25":                     s + "/0s",
		"45750.302":                         "2025-04-03T07:14:53/m", // 45750 is 3 April 2025 in the 1900 date system; 0.302 of a day is 7 h 14 min 52.8 s
		"45750,30231":                       s,
		"45750":                             d,
		"2025-04-03":                        d,
		"3 Apr 2025":                        d,
		"2025-04-03 07:15:20 [Europe/Rome]": s,
	} {
		expect(t, stamp, "when|kg\n"+stamp+"|75.5\n", importer.Hints{}, want+" 75.500 :2")
	}
}

func TestStampsThatAreNone(t *testing.T) {
	for _, stamp := range []string{"", "yesterday", "2025-13-03 07:15", "2025-02-30 07:15", "2025-04-03 25:15x", "07:15", "n/a", "12",
		"1970-01-01 00:04", "1989-12-31 07:15", "2000-01-01 00:00", "0000-00-00 00:00", "2135-04-03 07:15", "45/45/2025 07:15", "120", "100000000"} {
		r := read(t, "when|kg\n"+stamp+"|75.5\n2025-04-04 07:15|75.1\n", importer.Hints{})
		if len(r.Problems) == 1 && r.Problems[0].Code == importer.BadTime && r.Problems[0].Line == 2 && len(r.WeighIns) == 1 {
			continue
		}
		if stamp == "2025-04-03 25:15x" && r.WeighIns[0].Resolution == day {
			continue // the date holds, the time of day does not
		}
		t.Errorf("%q: %s", stamp, short(r))
	}
}

func TestTwoColumns(t *testing.T) {
	expect(t, "date and time", "time,kg,date\n07:15:20,75.5,2025-04-03\n", importer.Hints{}, "2025-04-03T07:15:20/s 75.500 :2")
	expect(t, "serials", "time,kg,date\n0.302315,75.5,45750\n", importer.Hints{}, "2025-04-03T07:15:20/s 75.500 :2")
	expect(t, "half days", "time,kg,date\n07:15 PM,75.5,2025-04-03\n", importer.Hints{}, "2025-04-03T19:15:00/m 75.500 :2")
	expect(t, "offset", "time,kg,date\n07:15:20+02:00,75.5,2025-04-03\n", importer.Hints{}, "2025-04-03T07:15:20/s/2h0m0s 75.500 :2")
	expect(t, "time of day missing once", "time,kg,date\n,75.5,2025-04-03\n07:15,75.1,2025-04-04\n", importer.Hints{},
		"2025-04-03T00:00:00/d 75.500 :2; 2025-04-04T07:15:00/m 75.100 :3")
	expect(t, "instant beats local time", "date,kg,timestamp\n2025-04-03 09:15,75.5,1743664520\n", importer.Hints{},
		"2025-04-03T07:15:20/s/0s 75.500 :2")
	expect(t, "an empty column of the same name", "time,weight kg,mass kg,timestamp\n,,75.5,2025-04-03 07:15\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.500 :2")
}

func TestHeaderSaysUTC(t *testing.T) {
	expect(t, "one column", "kg,time (UTC)\n75.5,2025-04-03 07:15\n", importer.Hints{}, "2025-04-03T07:15:00/m/0s 75.500 :2")
	expect(t, "two columns", "kg,date,utc time\n75.5,2025-04-03,07:15\n", importer.Hints{}, "2025-04-03T07:15:00/m/0s 75.500 :2")
	expect(t, "the cell knows better", "kg,timestamp_utc\n75.5,2025-04-03T07:15+02:00\n", importer.Hints{}, "2025-04-03T07:15:00/m/2h0m0s 75.500 :2")
}

// A local time stays as written even where the clocks change; what instant it
// means is not settled by reading.
func TestDaylightSaving(t *testing.T) {
	expect(t, "gap and overlap", "when,kg\n2025-03-30 02:30,75.5\n2025-10-26 02:30,75.1\n", importer.Hints{Zone: "Europe/Berlin"},
		"2025-03-30T02:30:00/m 75.500 :2; 2025-10-26T02:30:00/m 75.100 :3")
}

func TestDateOrder(t *testing.T) {
	table := func(dates ...string) string {
		text := "kg;when\n"
		for i, d := range dates {
			text += fmt.Sprintf("%d;%s 07:15\n", 70+i, d)
		}
		return text
	}
	for name, c := range map[string]struct {
		dates []string
		hint  string
		want  string // the dates, or the refusal
	}{
		"day over twelve":             {[]string{"03/04/2025", "13/04/2025"}, "", "2025-04-03 2025-04-13"},
		"month cannot be over twelve": {[]string{"04/03/2025", "04/13/2025"}, "", "2025-04-03 2025-04-13"},
		"hyphens":                     {[]string{"03-04-2025", "13-04-2025"}, "", "2025-04-03 2025-04-13"},
		"runs forwards only as dmy":   {[]string{"30/11/2024", "01/12/2024", "02/01/2025"}, "", "2024-11-30 2024-12-01 2025-01-02"},
		"order of time, dmy":          {[]string{"11/02/2025", "12/02/2025", "01/03/2025", "02/03/2025"}, "", "2025-02-11 2025-02-12 2025-03-01 2025-03-02"},
		"order of time, mdy":          {[]string{"02/11/2025", "02/12/2025", "03/01/2025"}, "", "2025-02-11 2025-02-12 2025-03-01"},
		"newest first":                {[]string{"03/01/2025", "02/12/2025", "02/11/2025"}, "", "2025-02-11 2025-02-12 2025-03-01"},
		"the same either way":         {[]string{"04/04/2025", "05/05/2025"}, "", "2025-04-04 2025-05-05"},
		"undecidable":                 {[]string{"03/04/2025", "05/06/2025"}, "", "refused unclear-dates"},
		"undecidable, many":           {[]string{"01/02/2025", "02/03/2025", "03/04/2025", "04/05/2025"}, "", "refused unclear-dates"},
		"both orders in one file":     {[]string{"13/04/2025", "04/14/2025"}, "", "refused unclear-dates"},
		"declared dmy":                {[]string{"03/04/2025", "05/06/2025"}, "dmy", "2025-04-03 2025-06-05"},
		"declared mdy":                {[]string{"03/04/2025", "05/06/2025"}, "mdy", "2025-03-04 2025-05-06"},
		"declared against one row":    {[]string{"13/04/2025", "04/14/2025"}, "dmy", "2025-04-13 bad-time"},
		"two digits, day last":        {[]string{"25-04-03", "25-04-04", "25-04-13"}, "", "2025-04-03 2025-04-04 2025-04-13"},
		"two digits, day first":       {[]string{"03/04/25", "04/04/25", "13/04/25"}, "", "2025-04-03 2025-04-04 2025-04-13"},
		"two digits, declared":        {[]string{"10-11-12"}, "ymd", "2010-11-12"},
		"two digits, undecidable":     {[]string{"10-11-12"}, "", "refused unclear-dates"},
		"ymd declared, year last":     {[]string{"03/04/2025", "13/04/2025"}, "ymd", "2025-04-03 2025-04-13"},
		"full stops":                  {[]string{"03.04.2025", "05.04.2025"}, "", "2025-04-03 2025-04-05"},
		"full stops, month first":     {[]string{"04.03.2025", "04.13.2025"}, "", "2025-04-03 2025-04-13"},
	} {
		t.Run(name, func(t *testing.T) {
			r := read(t, table(c.dates...), importer.Hints{Dates: c.hint})
			var got []string
			for _, w := range r.WeighIns {
				got = append(got, w.Wall.Format("2006-01-02"))
			}
			for _, p := range r.Problems {
				got = append(got, string(p.Code))
			}
			if r.Refused != nil {
				got = append(got, "refused "+string(r.Refused.Code))
				if !strings.Contains(r.Refused.Hint, "--dates dmy or --dates mdy") {
					t.Errorf("hint %q", r.Refused.Hint)
				}
			}
			if s := strings.Join(got, " "); s != c.want {
				t.Errorf("%v: got %s, want %s\n%s", c.dates, s, c.want, strings.Join(r.Why, "\n"))
			}
		})
	}
}
