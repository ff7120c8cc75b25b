package scale

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

func TestSamples(t *testing.T) { importertest.Run(t, New(), importer.Hints{}) }

// read reads a table and fails if the result breaks the contract.
func read(t *testing.T, text string, hints importer.Hints) importer.Result {
	t.Helper()
	r := New().Read(importertest.Source("scale.csv", []byte(text), hints))
	importertest.Check(t, r)
	return r
}

// short is a weigh-in in one line: time, resolution, offset, kilograms, person, line.
func short(r importer.Result) string {
	var out []string
	for _, w := range r.WeighIns {
		s := w.Wall.Format("2006-01-02T15:04:05") + "/" + map[time.Duration]string{time.Second: "s", time.Minute: "m", day: "d"}[w.Resolution]
		if w.UTCOffset != nil {
			s += "/" + w.UTCOffset.String()
		}
		s += fmt.Sprintf(" %.3f", w.Mass.Kilograms())
		if w.Person != "" {
			s += " " + w.Person
		}
		out = append(out, fmt.Sprintf("%s :%d", s, w.Origin.Line))
	}
	for _, p := range r.Problems {
		out = append(out, fmt.Sprintf("%s :%d", p.Code, p.Line))
	}
	if r.Refused != nil {
		out = append(out, fmt.Sprintf("refused %s", r.Refused.Code))
	}
	return strings.Join(out, "; ")
}

func expect(t *testing.T, name, text string, hints importer.Hints, want string) {
	t.Helper()
	t.Run(name, func(t *testing.T) {
		t.Helper()
		r := read(t, text, hints)
		if got := short(r); got != want {
			t.Errorf("read\n%s\ngot  %s\nwant %s\nwhy %s", text, got, want, strings.Join(r.Why, "\n    "))
		}
	})
}

// A mass stands among a dozen other columns, at any place and in any language.
func TestColumns(t *testing.T) {
	const want = "2025-04-03T07:15:00/m 75.500 :2"
	for header, row := range map[string]string{
		"no,body fat (kg),hydration (kg),weight (kg),measured at": "1,12.3,40.1,75.5,2025-04-03 07:15",
		"Optimal weight(kg),weight(kg),time of measurement":       "70,75.5,2025-04-03T07:15",
		"Target to optimal weight,Weight (kg),Date and time":      "-5.5,75.5,2025-04-03 07:15",
		"Fat-free Body Weight(lb),Body Weight(kg),Recorded":       "140.2,75.5,2025-04-03 07:15",
		"BMI,BMR,bone,date,fat,goal,mass_kg,muscle,time,water,zz": "24,1700,3,2025-04-03,20,70,75.5,33,07:15,55,1",
		"bodyWaterKg,bodyWeightKg,measuredAt":                     "40,75.5,2025-04-03 07:15",
		"Muskelmasse kg,Fettmasse kg,Gewicht in kg,Zeitpunkt":     "33,12,75.5,2025-04-03 07:15",
		"Zielgewicht (kg),Uhrzeit,Datum,Körpergewicht (kg)":       "70,07:15,03.04.2025,75.5",
		"Masse grasse (kg),Poids (kg),Date,Heure":                 "12,75.5,2025-04-03,07h15",
		"Hora,Peso (kg),Fecha,Masa ósea (kg)":                     "7:15,75.5,2025-04-03,3",
		"Massa grassa kg,Ora,Data,Peso kg":                        "12,07:15,2025-04-03,75.5",
		"Vetmassa (kg),Tijdstip,Lichaamsgewicht (kg)":             "12,2025-04-03 07:15,75.5",
		"Muskelmassa (kg),Vikt (kg),Tid":                          "33,75.5,2025-04-03 07:15",
		"Kellonaika,Paino (kg),Päivämäärä,Rasva (kg)":             "7.15,75.5,3.4.2025,12",
		"Masa mięśniowa (kg),Masa ciała (kg),Data i godzina":      "33,75.5,2025-04-03 07:15",
		"Мышечная масса кг,Вес (кг),Дата и время":                 "33,75.5,03.04.2025 07:15",
		"体脂肪 (kg),体重 (kg),測定日時":                                   "12,75.5,2025年4月3日 7時15分",
		"体水分(kg),体重(公斤),日期,时间":                                    "40,75.5,2025/4/3,7:15",
		"근육량 (kg),체중 (kg),일시":                                     "33,75.5,2025년 4월 3일 오전 7:15",
		"kg,timestamp":                                            "75.5,2025-04-03 07:15",
		"Created at,Weight kg,When":                               "2026-01-01 00:00,75.5,2025-04-03 07:15",
		"time zone,Weight kg,date time":                           "2,75.5,2025-04-03 07:15",
	} {
		expect(t, header, header+"\n"+row+"\n", importer.Hints{}, want)
	}
}

func TestDelimitersAndLineEnds(t *testing.T) {
	const want = "2025-04-03T07:15:00/m 75.500 :3; 2025-04-04T07:10:00/m 75.200 :2"
	rows := [][]string{{"recorded at", "note", "mass kg"}, {"2025-04-04 07:10", "", "75.2"}, {"2025-04-03 07:15", "wet hair", "75.5"}}
	for _, delim := range []string{",", ";", "\t", "|"} {
		for _, end := range []string{"\r\n", "\n", "\r", "\r\r\n"} {
			for _, trailing := range []string{"", delim} {
				for _, quote := range []string{"", `"`} {
					text := ""
					for _, row := range rows {
						text += quote + strings.Join(row, quote+delim+quote) + quote + trailing + end
					}
					expect(t, fmt.Sprintf("%q %q %q %s", delim, end, trailing, quote), text, importer.Hints{}, want)
				}
			}
		}
	}
	expect(t, "sep line", "sep=;\r\nZeit;Masse (kg)\r\n2025-04-03 07:15;75,5\r\n", importer.Hints{}, "2025-04-03T07:15:00/m 75.500 :3")
	expect(t, "sep of its own", "\"sep=~\"\nZeit~Masse (kg)\n2025-04-03 07:15~75,5\n", importer.Hints{}, "2025-04-03T07:15:00/m 75.500 :3")
	expect(t, "cell over two lines", "note,weight kg,date time\n\"after\r\nrun\",75.5,2025-04-03 07:15\nx,75.1,2025-04-04 07:15\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.500 :2; 2025-04-04T07:15:00/m 75.100 :4")
	expect(t, "stray quote", "note,weight kg,date time\n\"oops,75.5,2025-04-03 07:15\nx,75.1,2025-04-04 07:15\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.500 :2; 2025-04-04T07:15:00/m 75.100 :3")
}

func TestPreamble(t *testing.T) {
	text := "Weighings of the house, date range 2025\nWeight unit: kg, Date format: any\n"
	text += strings.Repeat("a line of words\n", 14)
	text += "Mass (kg),Measured on,Time of day\n75.5,2025-04-03,7:15 pm\n"
	expect(t, "sixteen lines", text, importer.Hints{}, "2025-04-03T19:15:00/m 75.500 :18")
	expect(t, "seventeen lines", "one more\n"+strings.Repeat("x\n", 2)+text, importer.Hints{}, "refused unknown-format")
	expect(t, "header again in the middle", "kg,when\n75.5,2025-04-03 07:15\nkg,when\n75.1,2025-04-05 07:15\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.500 :2; 2025-04-05T07:15:00/m 75.100 :4")
}

func TestMassStep(t *testing.T) {
	for text, want := range map[string]float64{
		"75.5":                0.1,
		"75.5 75.55":          0.05 / 5,
		"75.5 75":             0.1,
		"75 76":               1,
		"75.2 75.4 75.6 75.8": 0.1, // too few to know
		"75.2 75.4 75.6 75.8 76.0 74.2 74.4 74.6":                0.2,
		"75.20 75.45 75.60 75.85 76.00 74.25 74.40 74.65":        0.05,
		"75.2 75.4 75.6 75.8 76.0 74.2 74.4 74.7":                0.1,
		"75.00 75.50 76.00 76.50 77.00 77.50 78.00 78.50 79.00 ": 0.05,
	} {
		rows := "mass kg,when\n"
		for i, m := range strings.Fields(text) {
			rows += fmt.Sprintf("%s,2025-04-%02d 07:15\n", m, i+1)
		}
		got := read(t, rows, importer.Hints{}).WeighIns[0].MassStep.Kilograms()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("step of %s: got %v, want %v", text, got, want)
		}
	}
}

func TestLimits(t *testing.T) {
	var b strings.Builder
	b.WriteString("when,kg\n")
	at := time.Date(2010, 1, 1, 7, 0, 0, 0, time.UTC)
	for i := range 100_001 {
		fmt.Fprintf(&b, "%s,%d.5\n", at.Add(time.Duration(i)*time.Hour).Format("2006-01-02 15:04"), 70+i%3)
	}
	text := b.String()
	if got := short(read(t, text, importer.Hints{})); got != "refused too-large" {
		t.Errorf("one row too many: %.100s", got)
	}
	text = text[:strings.LastIndexByte(text[:len(text)-1], '\n')]
	start := time.Now()
	if r := read(t, text, importer.Hints{}); len(r.WeighIns) != 100_000 {
		t.Errorf("%d weigh-ins of 100000 rows; refused %v", len(r.WeighIns), r.Refused)
	}
	t.Logf("100000 rows in %v", time.Since(start))
}

func TestIdentify(t *testing.T) {
	for text, want := range map[string]bool{
		"date,weight kg\n": true,
		"date,weight kg":   true,
		"":                 false,
		"time,temp,humidity,wind_speed\n2025-04-03T07:00Z,12,80,3\n":  false,
		"station,valid,tmpc,dwpc,relh\nXX,2025-04-03 07:00,12,9,80\n": false,
		"date,time,temperature (C),relative humidity (%),pressure":    false,
		"session,athlete,start,elapsed,drunk_l,eaten_g,weighing":      false,
		"date,exercise,weight (kg),reps\n2025-04-03,press,60,8\n":     false,
		"name,birth date,weight (kg)\nAda,1990-01-01,60\n":            false,
		"date,BMI,fat (kg),water (kg)\n":                              false,
		"weight (kg)\n75\n":                                           false,
		"<?xml version=\"1.0\"?><gpx><time>2025</time>, weight</gpx>": false,
	} {
		if got := New().Identify([]byte(text)); got != want {
			t.Errorf("Identify(%q) = %v, want %v", text, got, want)
		}
	}
	cut := []byte("preamble é\nweight (kg);date;ä")
	if !New().Identify(cut[:len(cut)-1]) {
		t.Error("a head cut within a character is not identified")
	}
}

// The order of rows in the file changes nothing but the lines.
func TestRowOrder(t *testing.T) {
	rows := []string{"2025-04-03 07:15,75.5,Ada", "2025-04-03 07:15,62.5,Bo", "2025-04-03 07:16,75.4,Ada", "2025-04-03 09:00,74.1,Ada", "2025-04-09 07:00,62.0,Bo"}
	strip := func(r importer.Result) string {
		out := ""
		for _, w := range r.WeighIns {
			out += fmt.Sprint(w.Wall, w.Mass, w.Person, len(w.Also), "\n")
		}
		return out
	}
	there := strip(read(t, "when,kg,person\n"+strings.Join(rows, "\n"), importer.Hints{}))
	for i, j := 0, len(rows)-1; i < j; i, j = i+1, j-1 {
		rows[i], rows[j] = rows[j], rows[i]
	}
	back := strip(read(t, "when,kg,person\n"+strings.Join(rows, "\n"), importer.Hints{}))
	if there != back || strings.Count(there, "\n") != 4 {
		t.Errorf("want the same four weigh-ins each way:\n%s\n%s", there, back)
	}
}

func TestProvenance(t *testing.T) {
	text := "mass kg,person,when\n75.5,Ada,2025-04-03 07:15\n"
	w := read(t, text, importer.Hints{Zone: "Europe/Lisbon", Scale: "hall"}).WeighIns[0]
	sum := importer.Hash([]byte(text))
	if w.ID != sum+":2" || w.Scale != "hall" || w.Zone != "Europe/Lisbon" || w.Person != "Ada" ||
		w.Origin.String() != "scale.csv:2" || w.Origin.SHA256 != sum || w.Origin.Reader != "scale/1" {
		t.Errorf("%+v", w)
	}
	if w := read(t, text, importer.Hints{}).WeighIns[0]; w.Scale != "scale" || w.Zone != "" || w.UTCOffset != nil {
		t.Errorf("without hints: %+v", w)
	}
}
