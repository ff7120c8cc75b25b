package notes

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"golang.org/x/text/encoding/unicode"
	"pgregory.net/rapid"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
	"saltpan/pipeline/record"
)

func TestSamples(t *testing.T) { importertest.Run(t, New(), importer.Hints{}) }

func read(t *testing.T, text string) importer.Result {
	t.Helper()
	r := New().Read(importertest.Source("sheet.csv", []byte(text), importer.Hints{}))
	importertest.Check(t, r)
	return r
}

// short is the notes as JSON without where they come from, then the problems.
func short(r importer.Result) string {
	var out []string
	for _, n := range r.Notes {
		line := n.Origin.Line
		n.Origin = record.Origin{}
		js, _ := json.Marshal(n)
		s := strings.NewReplacer(`"at":"0001-01-01T00:00:00Z",`, "", `,"at":"0001-01-01T00:00:00Z"`, "", `,"origin":{}`, "", `"`, "").Replace(string(js))
		out = append(out, fmt.Sprintf("%s:%d", s, line))
	}
	for _, p := range r.Problems {
		out = append(out, fmt.Sprintf("%s:%d", p.Code, p.Line))
	}
	if r.Skipped != "" {
		out = append(out, "skipped")
	}
	if r.Refused != nil {
		out = append(out, "refused "+string(r.Refused.Code))
	}
	return strings.Join(out, " ")
}

func expect(t *testing.T, name, text, want string) {
	t.Helper()
	if got := short(read(t, text)); got != want {
		t.Errorf("%s: read\n%s\ngot  %s\nwant %s", name, text, got, want)
	}
}

// However a spreadsheet saves the sheet, the same notes come back.
func TestSavedBySpreadsheets(t *testing.T) {
	rows := [][]string{
		{"session", "athlete", "start", "elapsed", "missing", "drunk_l", "eaten_g", "toilet", "race", "felt"},
		{"nele-2026-04-12-0803", "nele", "12.04.2026 08:03", "01:30:12", "note", "0.5", "40", "none", "yes", "heavy legs"},
		{"nele-2026-04-14-0640", "nele", "14.04.2026 06:40", "00:50:00", "note", "", "", "", "", ""},
		{"nele-2026-04-15-0640", "nele", "15.04.2026 06:40", "00:50:00", "note", "0", "", "yes", "", ""},
	}
	const want = "{session:nele-2026-04-12-0803,drunk_l:0.5,eaten_kg:0.04,toilet:none,race:true,felt:heavy legs}:2 " +
		"{session:nele-2026-04-15-0640,drunk_l:0,toilet:yes}:4"
	save := func(delim, end, quote string, comma bool) string {
		text := ""
		for _, r := range rows {
			for i, c := range r {
				if comma && c == "0.5" {
					c = "0,5"
				}
				if i > 0 {
					text += delim
				}
				text += quote + c + quote
			}
			text += end
		}
		return text
	}
	utf16 := func(s string) string {
		out, _ := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(s)
		return out
	}
	expect(t, "as written", save(",", "\r\n", "", false), want)
	expect(t, "semicolons and decimal comma", save(";", "\r\n", "", true), want)
	expect(t, "quotes", save(",", "\r\n", `"`, true), want)
	expect(t, "byte order mark", "\ufeff"+save(";", "\r\n", `"`, true), want)
	expect(t, "tabs", save("\t", "\n", "", true), want)
	expect(t, "UTF-16 with tabs", utf16(save("\t", "\r\n", "", true)), want)
	expect(t, "lone CR", save(";", "\r", "", true), want)
	expect(t, "trailing delimiter", strings.ReplaceAll(save(";", "\r\n", "", true), "\r\n", ";;\r\n"), want)
}

func TestCells(t *testing.T) {
	for cell, want := range map[string]string{
		"drunk_l=0.5":            "drunk_l:0.5",
		"drunk_l=600 ml":         "drunk_l:0.6",
		"drunk_l=5dl":            "drunk_l:0.5",
		"drunk_l=nothing":        "drunk_l:0",
		"drunk_l=0":              "drunk_l:0",
		"drunk_l=0,500":          "drunk_l:0.5",
		"drunk_l='0.5":           "drunk_l:0.5",
		"drunk_ml=600":           "drunk_l:0.6",
		"Drunk (ml)=600":         "drunk_l:0.6",
		"drunk_floz=20":          "drunk_l:0.59147059125", // × 0.0295735295625, 231 cubic inches / 128
		"eaten_g=40":             "eaten_kg:0.04",
		"eaten_kg=0.04":          "eaten_kg:0.04",
		"eaten_oz=1":             "eaten_kg:0.028349523125", // 1/16 of 0.45359237
		"drunk=600 ml":           "drunk_l:0.6",
		"drunk=0.6":              "bad-number:2 refused bad-number",
		"urine_ml=300":           "urine_l:0.3",
		"toilet=yes":             "toilet:yes",
		"toilet=No":              "toilet:none",
		"toilet=nichts":          "toilet:none",
		"poured_l=1,2":           "poured_l:1.2",
		"clothes_off_g=250":      "clothes_off_kg:0.25",
		"clothes_wet_g=250":      "clothes_wet_kg:0.25",
		"picked_up_g=500":        "picked_up_kg:0.5",
		"left_behind_oz=2 lb":    "left_behind_kg:0.90718474",
		"stool_g=150":            "stool_kg:0.15",
		"weighing=Carrying":      "weighing:carrying",
		"towelled=ja":            "towelled:true",
		"race=Sí":                "race:true",
		"indoor=non":             "indoor:false",
		"fan=TRUE":               "fan:true",
		"felt='=strong":          "felt:=strong",
		"felt='twas hot":         "felt:'twas hot",
		"drunk_l=half a bottle":  "bad-number:2 refused bad-number",
		"drunk_l=05. Jan":        "bad-number:2 refused bad-number", // what a spreadsheet makes of 0.5 or 5.1
		"drunk_l=-1":             "out-of-range:2 refused out-of-range",
		"drunk_l=600":            "out-of-range:2 refused out-of-range",
		"drunk_ml=1.500":         "bad-number:2 refused bad-number",
		"drunk_l=1,500 ml":       "bad-number:2 refused bad-number",
		"drunk_l=40 g":           "bad-number:2 refused bad-number",
		"eaten_g=600 ml":         "bad-number:2 refused bad-number",
		"toilet=300 ml":          "bad-number:2 refused bad-number",
		"race=maybe":             "bad-number:2 refused bad-number",
		"weighing=naked":         "bad-number:2 refused bad-number",
		"drunk_l=":               "skipped",
		"drunk_l=-":              "skipped",
		"drunk_l=n/a":            "skipped",
		"drunk_l=1e999999999999": "bad-number:2 refused bad-number",
	} {
		column, value, _ := strings.Cut(cell, "=")
		if !strings.Contains(want, "refused") && want != "skipped" {
			want = "{session:a," + want + "}:2"
		}
		expect(t, cell, column+"|session\n"+value+"|a\n", want)
	}
}

func TestRows(t *testing.T) {
	expect(t, "mistake in one cell", "session;drunk_l;eaten_g\na;lots;40\nb;1;2\n", "{session:a,eaten_kg:0.04}:2 {session:b,drunk_l:1,eaten_kg:0.002}:3 bad-number:2")
	expect(t, "no session", "session;drunk_l\n;1\nb;1\n", "{session:b,drunk_l:1}:3 no-session:2")
	expect(t, "unknown column", "session;drunk_l;mood\na;1;fine\nb;1;fine\n", "{session:a,drunk_l:1}:2 {session:b,drunk_l:1}:3 unknown-format:1")
	expect(t, "decimal comma without quotes", "session,drunk_l,eaten_g\na,0,5,40\nb,1,2\n", "{session:b,drunk_l:1,eaten_kg:0.002}:3 bad-number:2")
	expect(t, "decimal comma, rest empty", "session,drunk_l,eaten_g,felt\na,0,5,,\nb,1,2,\n", "{session:b,drunk_l:1,eaten_kg:0.002}:3 bad-number:2")
	expect(t, "said twice", "session;drunk_l;drunk_ml\na;1;1000\n", "{session:a,drunk_l:1}:2 bad-number:2")
	expect(t, "nothing filled in", "session;drunk_l\na;\nb;\n", "skipped")
	expect(t, "guarded session", "session;drunk_l\n'-a;1\n", "{session:-a,drunk_l:1}:2")
	expect(t, "not a sheet", "date;weight kg\n2025-04-03;75\n", "refused unknown-format")
	expect(t, "empty", "", "refused unknown-format")
	n := read(t, "session;drunk_l\na;1\n").Notes[0]
	if n.Origin.String() != "sheet.csv:2" || n.Origin.Reader != "notes/1" || n.Origin.SHA256 == "" || !n.At.IsZero() {
		t.Errorf("%+v", n)
	}
}

func TestIdentify(t *testing.T) {
	for text, want := range map[string]bool{
		"session,drunk_l\n":                 true,
		strings.Join(Header(false), ";"):    true,
		strings.Join(Header(true), "\t"):    true,
		"session,athlete,start":             false,
		"drunk_l,eaten_g":                   false,
		"date,weight (kg)\n2025-04-03,75\n": false,
		"time,temp,humidity,session\n":      false,
		"":                                  false,
	} {
		if got := New().Identify([]byte(text)); got != want {
			t.Errorf("Identify(%q) = %v, want %v", text, got, want)
		}
	}
}

// Every column that is written is read again under both systems of units.
func TestHeader(t *testing.T) {
	for _, us := range []bool{false, true} {
		for i, name := range Header(us) {
			if column(name).name != fields()[i].name {
				t.Errorf("column %q is not read again", name)
			}
		}
	}
	if h := strings.Join(Header(true), " "); !strings.Contains(h, "drunk_floz") || !strings.Contains(h, "eaten_oz") {
		t.Errorf("US header %s", h)
	}
}

// What is written comes back: no cell begins like a formula, and a key is the
// same after writing, filling in and reading.
func TestWriteAndRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[=+\-@'a-z0-9][a-z0-9 ,;"=-]{0,12}[a-z0-9]`)
		row := Row{Session: text.Draw(t, "session"), Athlete: text.Draw(t, "athlete"), Start: text.Draw(t, "start"), Missing: text.Draw(t, "missing")}
		var b bytes.Buffer
		if err := Write(&b, []Row{row}, rapid.Bool().Draw(t, "us")); err != nil {
			t.Fatal(err)
		}
		cells, err := csv.NewReader(bytes.NewReader(b.Bytes())).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range cells[1] {
			if c != "" && strings.ContainsRune("=+-@\t\r", rune(c[0])) {
				t.Fatalf("cell %q is a formula to a spreadsheet", c)
			}
		}
		cells[1][5] = "1"
		var filled bytes.Buffer
		w := csv.NewWriter(&filled)
		_ = w.WriteAll(cells)
		r := New().Read(importertest.Source("sheet.csv", filled.Bytes(), importer.Hints{}))
		if len(r.Notes) != 1 || r.Notes[0].Session != row.Session || r.Notes[0].Drunk == nil {
			t.Fatalf("wrote %+v, read %+v", row, r)
		}
	})
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, os.ErrClosed }

func TestWriteError(t *testing.T) {
	if err := Write(failing{}, []Row{{Session: "a"}}, false); err == nil {
		t.Error("want the error of the writer")
	}
}

func FuzzRead(f *testing.F) {
	samples, _ := filepath.Glob("testdata/*.*")
	for _, path := range samples {
		if data, err := os.ReadFile(path); err == nil && !strings.HasSuffix(path, ".golden") {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		New().Identify(data)
		r := New().Read(importertest.Source("sheet.csv", data, importer.Hints{}))
		importertest.Check(t, r)
		for _, n := range r.Notes {
			empty := record.Note{Session: n.Session, Origin: n.Origin}
			if n.Session == "" || n.Origin.Line < 2 || reflect.DeepEqual(n, empty) ||
				n.Drunk != nil && !(*n.Drunk >= 0 && *n.Drunk <= mostVolume) || n.Eaten != nil && !(*n.Eaten >= 0 && *n.Eaten <= mostMass) {
				t.Errorf("note that cannot be: %+v", n)
			}
		}
	})
}
