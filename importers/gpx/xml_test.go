package gpx

import (
	"strings"
	"testing"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

func TestDamagedDocumentsAreSalvaged(t *testing.T) {
	two := `<gpx><trk><trkseg>` + at("2026-04-12T07:00:00Z") + "\n" + at("2026-04-12T07:00:10Z") + "\n"
	for name, c := range map[string]struct{ rest, says string }{
		"cut after a point":   {``, "line 3: the file ends inside <trkseg>"},
		"cut in a point":      {`<trkpt lat="44" lon="-27"><time>2026-04-12T07:00:20Z</time>`, "line 3: the file ends inside <trkpt>"},
		"cut in a tag":        {`<trkpt lat="44" lo`, "line 3: "},
		"tags do not match":   {`</trk></gpx>`, "line 3: </trk> closes nothing that is open"},
		"no closing root":     {`</trkseg></trk>`, "line 3: the file ends inside <gpx>"},
		"less-than in text":   {`<trkpt lat="44" lon="-27"><name>a < b</name></trkpt></trkseg></trk></gpx>`, "line 3: "},
		"padded with zeros":   {strings.Repeat("\x00", 100), "line 3: the file ends inside <trkseg>"},
		"forbidden character": {`<trkpt><name>&#1;</name></trkpt></trkseg></trk></gpx>`, "line 3: "},
	} {
		a := only(t, read(t, two+c.rest, importer.Hints{}))
		if !strings.HasPrefix(a.Salvaged, c.says) || a.Elapsed != 10*time.Second || len(a.Samples) != 2 {
			t.Errorf("%s: salvaged %q, %d samples, want 2 and %q", name, a.Salvaged, len(a.Samples), c.says)
		}
		if a.Second == nil || a.Second.Failed == "" {
			t.Errorf("%s: the second reader was not asked: %+v", name, a.Second)
		}
	}
	refused(t, read(t, `<gpx><trk><trkseg><trkpt lat="44" lon="-27"><time>2026-04-12T07:0`, importer.Hints{}), importer.Truncated, "")
	refused(t, read(t, ``, importer.Hints{}), importer.Empty, "")
}

func TestWholeDocumentsAreNotSalvaged(t *testing.T) {
	body := doc(at("2026-04-12T07:00:00Z"))
	for name, data := range map[string]string{
		"byte order mark":        "\xEF\xBB\xBF<?xml version=\"1.0\" encoding=\"UTF-8\"?>" + body,
		"blanks first":           "\n  <?xml version=\"1.0\"?>" + body,
		"padding after the root": body + strings.Repeat("\x00", 200),
		"garbage after the root": body + "\n<<<",
		"broken UTF-8 in a name": strings.Replace(body, "<trk>", "<trk><name>caf\xe9</name>", 1),
		"control character":      strings.Replace(body, "<trk>", "<trk><name>a\x01b\x1f</name>", 1),
		"HTML entity":            strings.Replace(body, "<trk>", "<trk><name>a&nbsp;&eacute;</name>", 1),
		"bare ampersand":         strings.Replace(body, "<trk>", "<trk><name>salt & bread &b; &</name>", 1),
		"windows-1252":           "<?xml version='1.0' encoding='windows-1252'?>" + strings.Replace(body, "<trk>", "<trk><name>caf\xe9 \x80</name>", 1),
		"encoding nobody knows":  `<?xml version="1.0" encoding="x-mystery"?>` + strings.Replace(body, "<trk>", "<trk><name>\xff</name>", 1),
		"UTF-16 that is none":    `<?xml version="1.0" encoding="UTF-16"?>` + body,
		"comment and CDATA":      strings.Replace(body, "<trk>", "<!-- <trk> --><trk><name><![CDATA[</trk>]]></name>", 1),
	} {
		if !New().Identify([]byte(data)) {
			t.Errorf("%s: not identified", name)
		}
		if a := only(t, read(t, data, importer.Hints{})); a.Salvaged != "" || len(a.Samples) != 1 {
			t.Errorf("%s: salvaged %q, %d samples", name, a.Salvaged, len(a.Samples))
		}
	}
}

func TestUTF16(t *testing.T) {
	body := `<?xml version="1.0" encoding="UTF-16"?>` + strings.Replace(doc(at("2026-04-12T07:00:00Z")), "<trk>", "<trk><name>été</name>", 1)
	for name, data := range map[string][]byte{
		"little endian with mark": append([]byte("\xFF\xFE"), utf16(body, 0)...), "big endian with mark": append([]byte("\xFE\xFF"), utf16(body, 1)...),
		"little endian": utf16(body, 0), "big endian": utf16(body, 1),
	} {
		if !New().Identify(data[:min(len(data), importer.HeadSize)]) {
			t.Errorf("%s: not identified", name)
		}
		if a := only(t, read(t, string(data), importer.Hints{})); a.Salvaged != "" || len(a.Samples) != 1 {
			t.Errorf("%s: salvaged %q, %d samples", name, a.Salvaged, len(a.Samples))
		}
	}
}

// utf16 writes the low byte of each character at a place in a pair.
func utf16(s string, low int) []byte {
	var out []byte
	for _, r := range s {
		pair := []byte{byte(r), 0}
		out = append(out, pair[low], pair[1-low])
	}
	return out
}

func TestIdentifyGoesByTheRoot(t *testing.T) {
	for head, want := range map[string]bool{
		`<gpx>`: true, `<g:gpx xmlns:g="x">`: true, `<!DOCTYPE gpx><!-- <a> --><gpx`: true,
		`<html><gpx>`: false, `gpx`: false, ``: false, `<?xml version="1.0"?>`: false, `<TrainingCenterDatabase>`: false, `<gpxx>`: false, "\x0e\x10\xd9": false,
	} {
		if New().Identify([]byte(head)) != want {
			t.Errorf("%q: want %v", head, want)
		}
	}
}

// Entities defined in a document are never expanded and nothing is fetched.
func TestEntityBomb(t *testing.T) {
	bomb := `<!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c SYSTEM "file:///etc/passwd">]>`
	body := strings.Replace(doc(at("2026-04-12T07:00:00Z")), "<trk>", "<trk><type>&b;&c;</type>", 1)
	start := time.Now()
	a := only(t, read(t, bomb+body, importer.Hints{}))
	if strings.Contains(a.Sport, "aa") || strings.Contains(a.Sport, "root") || time.Since(start) > time.Second {
		t.Errorf("sport %q after %v", a.Sport, time.Since(start))
	}
}

func TestDeepNesting(t *testing.T) {
	start := time.Now()
	res := read(t, `<gpx>`+strings.Repeat("<a>", 1_000_000), importer.Hints{Second: true})
	refused(t, res, importer.TooLarge, "")
	if d := time.Since(start); d > 2*time.Second {
		t.Errorf("took %v", d)
	}
}

func TestSecondReader(t *testing.T) {
	data := `<gpx version="1.1"><trk><trkseg><trkpt lat="44.1" lon="-27.2"><time>2026-04-12T08:00:00+02:00</time></trkpt>
		<trkpt lat="44.2" lon="-27.2"><time>2026-04-12T08:30:00+02:00</time></trkpt></trkseg></trk></gpx>`
	if a := only(t, read(t, data, importer.Hints{})); a.Second != nil {
		t.Error("asked though nobody wanted it and nothing failed")
	}
	a := only(t, read(t, data, importer.Hints{Second: true}))
	s := a.Second
	if s == nil || s.Samples != 2 || s.Failed != "" || s.Start != nil || s.Elapsed != nil {
		t.Fatalf("second reader: %+v", s)
	}
	// Both take the Earth for a sphere; their radii differ by less than 0.2 %.
	if ratio := float64(*s.Distance / *a.Distance); ratio < 0.998 || ratio > 1.002 {
		t.Errorf("distances %v and %v", *s.Distance, *a.Distance)
	}
}

func TestSecondReaderIsAskedWhenTheFirstFails(t *testing.T) {
	res := read(t, doc(at("1901-12-13T20:45:52Z")), importer.Hints{})
	if why := strings.Join(res.Why, "\n"); !strings.Contains(why, "second reader gpxgo: 1 tracks, 1 points") {
		t.Errorf("why:\n%s", importertest.Text(res))
	}
}

func TestRecordersAreToldApart(t *testing.T) {
	device := func(creator string) string {
		return only(t, read(t, strings.Replace(doc(at("2026-04-12T07:00:00Z")), "<gpx", `<gpx creator="`+creator+`"`, 1), importer.Hints{})).Device
	}
	a, b := device("recorder one"), device("recorder two")
	if a == b || a != device("recorder one") || strings.Contains(a, "recorder") || device("") != "" {
		t.Errorf("devices %q and %q", a, b)
	}
}
