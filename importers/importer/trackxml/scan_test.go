package trackxml

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestWalk(t *testing.T) {
	s := NewScanner([]byte("<?xml version=\"1.0\"?>\n<p:a x='1'><b>t<!-- c -->u</b>\n<c/></p:a>"))
	var got []string
	for s.Next() {
		mark := "-"
		if s.Opened {
			mark = "+"
		}
		got = append(got, mark+strings.Join(append(s.Path, s.Name), "/"))
		if s.Name == "b" && !s.Opened && (s.Text() != "tu" || s.Line() != 2 || s.Parent() != "a") {
			t.Errorf("text %q in line %d of %q", s.Text(), s.Line(), s.Parent())
		}
		if s.Name == "a" && s.Opened && s.Attr("x") != "1" {
			t.Errorf("attribute %q", s.Attr("x"))
		}
	}
	if g := strings.Join(got, " "); g != "+a +a/b -a/b +a/c -a/c -a" || s.Err() != nil {
		t.Errorf("got %s, %v", g, s.Err())
	}
}

func TestRoot(t *testing.T) {
	for head, want := range map[string]string{
		`<a>`: "a", ` <?x?><!-- <b> --><!DOCTYPE z><p:a`: "a", `<a/>`: "a", "": "", "a": "", "<?x": "", "<!-- ": "", "<\x00a\x00>\x00": "a",
	} {
		if got := Root([]byte(head)); got != want {
			t.Errorf("root of %q is %q, want %q", head, got, want)
		}
	}
}

// Whatever the bytes, the walk ends, opens what it closes and tells damage.
func TestAnyBytes(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		parts := rapid.SliceOfN(rapid.SampledFrom([]string{"<a>", "</a>", "<b x='", "'/>", "t", "&amp;", "&x;", "<!--", "-->", "<![CDATA[", "]]>", "<?p?>", "\x00", "\xff", "<", ">", "é"}), 0, 30).Draw(r, "parts")
		s := NewScanner([]byte(strings.Join(parts, "")))
		open := 0
		for s.Next() {
			if s.Opened {
				open++
			} else {
				open--
			}
			if open < 0 || !s.Opened && open != len(s.Path) {
				r.Fatalf("%d open, path %v", open, s.Path)
			}
		}
		if s.Err() == nil && open != 0 {
			r.Errorf("%d elements left open without an error", open)
		}
	})
}

func TestTextInOtherEncodings(t *testing.T) {
	for _, c := range [][2]string{
		{"\xEF\xBB\xBF<a/>", "<a/>"}, {"<a>\xff</a>", "<a>\uFFFD</a>"}, {"<a>\x01</a>", "<a> </a>"}, {"<a>\uFFFE</a>", "<a> </a>"}, {"<a>\uF8FF</a>", "<a>\uF8FF</a>"},
		{"<?xml encoding='iso-8859-1'?>\xe9", "<?xml encoding='iso-8859-1'?>é"}, {"<?xml encoding='Shift_JIS'?>\x93\xfa", "<?xml encoding='Shift_JIS'?>日"},
		{"<?xml encoding='none'?>\xe9", "<?xml encoding='none'?>\uFFFD"}, {"\xFE\xFF\x00<\x00\xe9", "<é"}, {"\xFF\xFE<\x00\xe9\x00", "<é"},
	} {
		if got := string(toUTF8([]byte(c[0]))); got != c[1] {
			t.Errorf("%q is %q, want %q", c[0], got, c[1])
		}
	}
}
