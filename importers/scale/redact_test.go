package scale

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"saltpan/importers/importer"
)

var secret = "Weighings of Ilse Brandt\n" +
	"Benutzer;Gewicht (kg);Zeitpunkt;Bemerkung;Arzt\n" +
	"Ilse Brandt;61,5;25.03.2025 07:15;Knie tut weh;Dr. Ohm\n" +
	"Ulf Brandt;83,4;26.03.2025 18:40;;Dr. Ohm\n" +
	"Ilse Brandt;--;27.03.2025 07:15;;\n" +
	"Ilse Brandt;61,2;28.03.2025 07:15;;0170 555\n"

func TestRedact(t *testing.T) {
	out := string(Redact([]byte(secret)))
	for _, word := range []string{"Ilse", "Brandt", "Ulf", "Knie", "Ohm", "555", "0170", "Bemerkung", "Arzt", "2025", "61,5", "83,4"} {
		if strings.Contains(out, word) {
			t.Errorf("%q is still there:\n%s", word, out)
		}
	}
	want := regexp.MustCompile(`^preamble
person;gewicht \(kg\);zeitpunkt;column 4;column 5
A;\d\d,\d;\d\d\.\d\d\.20\d\d 07:15;xxxx xxx xxx;xx\. xxx
B;\d\d,\d;\d\d\.\d\d\.20\d\d 18:40;;xx\. xxx
A;--;\d\d\.\d\d\.20\d\d 07:15
A;\d\d,\d;\d\d\.\d\d\.20\d\d 07:15;;9999 999
$`)
	if out = strings.Replace(out, "benutzer", "person", 1); !want.MatchString(out) {
		t.Errorf("got\n%s", out)
	}
	if !bytes.Equal(Redact([]byte(secret)), Redact([]byte(secret))) {
		t.Error("two samples of the same bytes differ")
	}
}

// A sample is read like its source: as many weigh-ins, the same steps between
// their times, and the same kind of problems.
func TestRedactedReadsAlike(t *testing.T) {
	for _, text := range []string{
		secret,
		"when,kg\n2025-04-03T07:15:20+02:00,75.5\n2025-04-05T07:15:20+02:00,75.1\n",
		"when,kg\n1743664520,75.5\n1743837320,75.1\n",
		"when,kg\n45750.30231,75.5\n45752.30231,75.1\n",
		"when,kg\n20250403071520,75.5\n20250405071520,75.1\n",
		"when|weight (lb)\nApr 3, 2025, 7:15 PM|166.5\nApr 5, 2025, 7:15 PM|165.5\n",
		"when|weight\n3 de abril de 2025 07:15|11st 7lb\n5 de abril de 2025 07:15|11st 8lb\n",
		"体重(kg),日時\n75.5,2025年4月3日 午後7時15分\n75.1,2025年4月5日 午後7時15分\n",
		"weight (st);weight (lb);time;date\n11;7;07:15;2025-04-03\n11;9;07:15;2025-04-05\n",
		"weight;unit;date\n75.5;kg;2025-04-03\n75.1;kg;2025-04-05\n",
	} {
		was, is := read(t, text, importer.Hints{}), read(t, string(Redact([]byte(text))), importer.Hints{})
		if len(was.WeighIns) == 0 || len(was.WeighIns) != len(is.WeighIns) || len(was.Problems) != len(is.Problems) {
			t.Errorf("%s\nread as %s\nits sample\n%s\nread as %s", text, short(was), Redact([]byte(text)), short(is))
			continue
		}
		week := was.WeighIns[0].Wall.Sub(is.WeighIns[0].Wall)
		if week <= 0 || week%(7*day) != 0 {
			t.Errorf("%s: moved by %v", text, week)
		}
		for i, w := range was.WeighIns {
			s := is.WeighIns[i]
			if w.Wall.Sub(s.Wall) != week || w.Resolution != s.Resolution || w.MassStep != s.MassStep || (w.UTCOffset == nil) != (s.UTCOffset == nil) {
				t.Errorf("%s: %+v became %+v", text, w, s)
			}
		}
	}
}

func TestRedactUnknown(t *testing.T) {
	out := string(Redact([]byte("Ilse Brandt, 61 kg\n" + strings.Repeat("born 1990\n", 40))))
	if strings.ContainsAny(out, "IlsBrandtk1605") || strings.Count(out, "\n") != 20 {
		t.Errorf("got\n%s", out)
	}
	if n := strings.Count(string(Redact([]byte("when,kg\n"+strings.Repeat("2025-04-03 07:15,75\n", 90)))), "\n"); n != 21 {
		t.Errorf("%d lines, want a header and 20 rows", n)
	}
}

func FuzzRedact(f *testing.F) {
	f.Add([]byte(secret))
	f.Add([]byte("when|weight\n3 de abril de 2025 07:15|11st 7lb\n"))
	f.Fuzz(func(t *testing.T, data []byte) { Redact(data) })
}
