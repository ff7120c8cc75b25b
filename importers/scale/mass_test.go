package scale

import (
	"strings"
	"testing"

	"saltpan/importers/importer"
)

// Factors: a pound is 0.45359237 kg exactly, a stone 14 pounds (international
// yard and pound agreement of 1959), a market jin 500 g.
func TestUnits(t *testing.T) {
	for name, c := range map[string]struct{ header, cells, kg string }{
		"kg in brackets":          {"weight (kg)", "75.5", "75.500"},
		"lb in square brackets":   {"weight [lb]", "166.5", "75.523"}, // 166.5 × 0.45359237
		"lbs":                     {"weight_lbs", "166.5", "75.523"},
		"stones":                  {"weight (st)", "11.5", "73.028"}, // 161 lb
		"stones and pounds":       {"weight (st lb)", "11st 7lb", "73.028"},
		"stones and pounds, bare": {"weight (st)", "11 7", "73.028"},
		"grams":                   {"weight g", "75500", "75.500"},
		"grams, grouped":          {"weight g", "75.500", "75.500"},
		"jin":                     {"体重(斤)", "151", "75.500"},
		"in each cell":            {"weight", "75.5 kg", "75.500"},
		"in each cell, no space":  {"weight", "75.5kg", "75.500"},
		"in each cell, pounds":    {"weight", "166.5 lbs", "75.523"},
		"in each cell, stones":    {"weight", "11st 7lb", "73.028"},
		"stones and half pounds":  {"weight", "11 st 7.5 lb", "73.255"}, // 161.5 lb
		"in each cell, jin":       {"weight", "151斤", "75.500"},
		"words":                   {"weight in pounds", "166.5", "75.523"},
		"plus sign":               {"weight kg", "+75.5", "75.500"},
	} {
		expect(t, name, c.header+";when\n"+c.cells+";2025-04-03 07:15\n", importer.Hints{}, "2025-04-03T07:15:00/m "+c.kg+" :2")
	}
	expect(t, "two columns", "when;weight (st);weight (lb)\n2025-04-03 07:15;11;7\n2025-04-04 07:15;11;\n", importer.Hints{},
		"2025-04-03T07:15:00/m 73.028 :2; 2025-04-04T07:15:00/m 69.853 :3") // 161 and 154 lb
	expect(t, "kilograms before pounds", "when;weight (kg);weight (lb)\n2025-04-03 07:15;75.5;166.4\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.500 :2")
	expect(t, "unit column", "unit;when;weight\nlbs;2025-04-03 07:15;166.5\nkg;2025-04-04 07:15;75.5\nstone;2025-04-05 07:15;11.5\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.523 :2; 2025-04-04T07:15:00/m 75.500 :3; 2025-04-05T07:15:00/m 73.028 :4")
	expect(t, "header beats unit column", "unit;when;weight kg\nlbs;2025-04-03 07:15;75.5\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.500 :2")
	expect(t, "cell against header", "when;weight kg\n2025-04-03 07:15;75.5 kg\n2025-04-04 07:15;166.5 lb\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.500 :2; unknown-unit :3")
	expect(t, "nowhere", "when;weight\n2025-04-03 07:15;75.5\n2025-04-04 07:15;75.1\n", importer.Hints{}, "refused unknown-unit")
	expect(t, "declared", "when;weight\n2025-04-03 07:15;166.5\n", importer.Hints{Unit: "lb"}, "2025-04-03T07:15:00/m 75.523 :2")
	expect(t, "declared does not beat the header", "when;weight kg\n2025-04-03 07:15;75.5\n", importer.Hints{Unit: "lb"},
		"2025-04-03T07:15:00/m 75.500 :2")
	expect(t, "one cell without", "when;weight\n2025-04-03 07:15;75.5 kg\n2025-04-04 07:15;75.1\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.500 :2; unknown-unit :3")
}

func TestUnitHint(t *testing.T) {
	r := read(t, "when;weight\n2025-04-03 07:15;75.5\n", importer.Hints{})
	if r.Refused == nil || r.Refused.Line != 2 || r.Refused.Hint != "say which it is with --unit kg, --unit lb or --unit st" {
		t.Errorf("%+v", r.Refused)
	}
}

func TestDecimalSign(t *testing.T) {
	const want = "2025-04-03T07:15:00/m 75.500 :2; 2025-04-04T07:15:00/m 75.000 :3"
	expect(t, "comma with semicolons", "when;kg\n2025-04-03 07:15;75,5\n2025-04-04 07:15;75\n", importer.Hints{}, want)
	expect(t, "comma with commas, quoted", "when,kg\n2025-04-03 07:15,\"75,5\"\n2025-04-04 07:15,75\n", importer.Hints{}, want)
	expect(t, "comma with tabs", "when\tkg\n2025-04-03 07:15\t75,5\n2025-04-04 07:15\t75\n", importer.Hints{}, want)
	expect(t, "both after a re-save", "when;kg\n2025-04-03 07:15;75,5\n2025-04-04 07:15;75.0\n", importer.Hints{}, want)
	expect(t, "comma with commas, not quoted", "when,kg,note\n2025-04-03 07:15,75,5,wet\n2025-04-04 07:15,75,\n", importer.Hints{},
		"2025-04-04T07:15:00/m 75.000 :3; bad-number :2")
}

// An empty column at the end must not hide that a comma cut the mass in two.
func TestTornMass(t *testing.T) {
	expect(t, "last column empty", "when,kg,note\n2025-04-03 07:15,75,5,\n2025-04-04 07:15,75,0,\n2025-04-05 07:15,75.1,\n", importer.Hints{},
		"2025-04-05T07:15:00/m 75.100 :4; bad-number :2; bad-number :3")
	expect(t, "trailing delimiters", "when,kg,note\n2025-04-03 07:15,75.5,5,\n", importer.Hints{}, "2025-04-03T07:15:00/m 75.500 :2")
}

func TestMissingAndImpossible(t *testing.T) {
	text := "when;kg\n2025-04-03 07:15;75.5\n"
	for _, m := range []string{"-", "--", "n/a", "N/A", "null", "0", "0.0", "0,0", "999", "999.0", "NaN", "none", "–"} {
		text += "2025-04-04 07:15;" + m + "\n"
	}
	expect(t, "missing", text+"2025-04-04 07:15;\n2025-04-04 07:16\n", importer.Hints{}, "2025-04-03T07:15:00/m 75.500 :2")
	expect(t, "only missing", "when;kg\n2025-04-03 07:15;--\n", importer.Hints{}, "refused empty")
	expect(t, "no rows", "when;kg\n", importer.Hints{}, "refused empty")
	expect(t, "out of range", "when;kg\n2025-04-03 07:15;24.9\n2025-04-03 07:15;300.1\n2025-04-03 07:15;25\n2025-04-04 07:15;300\n2025-04-05 07:15;1e400\n", importer.Hints{},
		"2025-04-03T07:15:00/m 25.000 :4; 2025-04-04T07:15:00/m 300.000 :5; out-of-range :2; out-of-range :3; bad-number :6")
	expect(t, "text", "when;kg\n2025-04-03 07:15;heavy\n2025-04-03 07:15;-75\n2025-04-03 07:15;1,234.5\n2025-04-04 07:15;75\n", importer.Hints{},
		"2025-04-04T07:15:00/m 75.000 :5; bad-number :2; bad-number :3; bad-number :4")
	expect(t, "nothing good", "when;kg\n2025-04-03 07:15;heavy\n", importer.Hints{}, "bad-number :2; refused bad-number")
}

func TestPersons(t *testing.T) {
	expect(t, "person column", "user;kg;when\n Ada L. ;75.5;2025-04-03 07:15\nbo;75.4;2025-04-03 07:15\n", importer.Hints{},
		"2025-04-03T07:15:00/m 75.500 Ada L. :2; 2025-04-03T07:15:00/m 75.400 bo :3")
	// The other person's mass is more than the spread of a burst away.
	expect(t, "two people without a person column", "kg;when\n75.5;2025-04-03 07:15\n62.1;2025-04-03 07:15\n75.4;2025-04-03 07:16\n", importer.Hints{},
		"2025-04-03T07:15:00/m 62.100 :3; 2025-04-03T07:16:00/m 75.400 :4")
}

// A jump is said, not judged: who and in which unit is for matching to find.
func TestJumps(t *testing.T) {
	for rows, want := range map[string]bool{
		"75.5;a;2025-04-03 07:15\n62.1;a;2025-04-04 07:15\n": true,
		"75.5;a;2025-04-03 07:15\n62.1;b;2025-04-04 07:15\n": false,
		"75.5;a;2025-04-03 07:15\n67.6;a;2025-04-04 07:15\n": false,
	} {
		r := read(t, "kg;person;when\n"+rows, importer.Hints{})
		if got := strings.Contains(strings.Join(r.Why, "\n"), "steps of more than 8 kg"); got != want || len(r.WeighIns) != 2 {
			t.Errorf("%s: said %v, want %v", rows, got, want)
		}
	}
}

func TestBursts(t *testing.T) {
	for name, c := range map[string]struct{ rows, want, also string }{
		"last of a burst":         {"75.5;2025-04-03 07:15:00\n75.3;2025-04-03 07:16:10\n75.2;2025-04-03 07:17:59\n", "2025-04-03T07:17:59/s 75.200 :4", "2 3"},
		"newest first":            {"75.2;2025-04-03 07:16:59\n75.5;2025-04-03 07:15:00\n", "2025-04-03T07:16:59/s 75.200 :2", "3"},
		"same minute":             {"75.5;2025-04-03 07:15\n75.4;2025-04-03 07:15\n", "2025-04-03T07:15:00/m 75.400 :3", "2"},
		"same minute, backwards":  {"70;2025-04-04 07:15\n75.5;2025-04-03 07:15\n75.4;2025-04-03 07:15\n", "2025-04-03T07:15:00/m 75.500 :3; 2025-04-04T07:15:00/m 70.000 :2", "4"},
		"the same row twice":      {"75.5;2025-04-03 07:15\n75.5;2025-04-03 07:15\n", "2025-04-03T07:15:00/m 75.500 :3", "2"},
		"the same day twice":      {"75.5;2025-04-03\n75.5;2025-04-03\n75.4;2025-04-03\n", "2025-04-03T00:00:00/d 75.500 :3; 2025-04-03T00:00:00/d 75.400 :4", "2"},
		"too long after":          {"75.5;2025-04-03 07:15:00\n75.5;2025-04-03 07:17:01\n", "2025-04-03T07:15:00/s 75.500 :2; 2025-04-03T07:17:01/s 75.500 :3", ""},
		"too far apart":           {"75.5;2025-04-03 07:15:00\n75.1;2025-04-03 07:15:30\n", "2025-04-03T07:15:00/s 75.500 :2; 2025-04-03T07:15:30/s 75.100 :3", ""},
		"just together":           {"75.5;2025-04-03 07:15:00\n75.2;2025-04-03 07:17:00\n", "2025-04-03T07:17:00/m 75.200 :3", "2"},
		"offsets are not the gap": {"75.5;2025-04-03T07:15:00+02:00\n75.5;2025-04-03T05:15:30Z\n", "2025-04-03T05:15:30/s/0s 75.500 :3", "2"},
	} {
		if name == "just together" {
			c.want = "2025-04-03T07:17:00/s 75.200 :3" // two rows are too few to say that the scale shows no seconds
		}
		expect(t, name, "kg;when\n"+c.rows, importer.Hints{}, c.want)
		also := ""
		for _, w := range read(t, "kg;when\n"+c.rows, importer.Hints{}).WeighIns {
			for _, o := range w.Also {
				also += " " + o.String()[len("scale.csv:"):]
			}
		}
		if len(also) > 0 {
			also = also[1:]
		}
		if also != c.also {
			t.Errorf("%s: also %q, want %q", name, also, c.also)
		}
	}
}

func TestSecondsAlwaysZero(t *testing.T) {
	rows := "kg;when\n"
	for _, d := range []string{"01", "02", "03", "04", "05"} {
		rows += "75.5;2025-04-" + d + " 07:15:00\n"
	}
	for _, w := range read(t, rows, importer.Hints{}).WeighIns {
		if w.Resolution.Minutes() != 1 {
			t.Errorf("resolution %v: want a minute where every second is zero", w.Resolution)
		}
	}
}
