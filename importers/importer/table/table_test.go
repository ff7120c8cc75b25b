package table

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// abc is a header with the cells a and b.
func abc(cells []string) int {
	n := 0
	for _, c := range cells {
		if c == "a" || c == "b" {
			n++
		}
	}
	return n / 2
}

func TestFind(t *testing.T) {
	for text, want := range map[string]string{
		"a,b\n1,2\n":                         "1:[a b] 2:[1 2]",
		"a,b\r\n\r\n1,2\r\n":                 "1:[a b] 3:[1 2]",
		"a,b\r1,2\r":                         "1:[a b] 2:[1 2]",
		"a,b\r\r\n1,2\r\r\n":                 "1:[a b] 2:[1 2]",
		"a;b;\n1;2;\n":                       "1:[a b] 2:[1 2]",
		"sep=;\na;b\n1,5;2\n":                "2:[a b] 3:[1,5 2]",
		"sep=^\r\na^b\r\n1^2":                "2:[a b] 3:[1 2]",
		"words\nmore, words\n\na\tb\n1\t2\n": "4:[a b] 5:[1 2]",
		"a|b\n\"1|\"\"x\"|2\n":               "1:[a b] 2:[1|\"x 2]",
		"a|b\n\"x\ny\"|2\n3|4\n":             "1:[a b] 2:[x\ny 2] 4:[3 4]",
		"a|b\n\"x|2\n3|4\n":                  "1:[a b] 2:[\"x 2] 3:[3 4]",
		"a|b\n \"x\" | 2 \n,\n||\n":          "1:[a b] 2:[x 2] 3:[,]",
		"a|b\n5\" tall|2\n":                  "1:[a b] 2:[5\" tall 2]",
		"a|b\n1\x00|2\n":                     "1:[a b] 2:[1 2]",
		"\ufeff\"a\"|b\n":                    "1:[a b]",
		"":                                   "",
		"c,d\n":                              "",
	} {
		got := ""
		if tab, ok := Find([]byte(text), abc); ok {
			for _, r := range append([]Row{tab.Header}, tab.Rows...) {
				got += fmt.Sprintf(" %d:%v", r.Line, r.Cells)
			}
		}
		if got = strings.TrimSpace(got); got != want {
			t.Errorf("%q: got %s, want %s", text, got, want)
		}
	}
}

func TestMaxRows(t *testing.T) {
	tab, _ := Find([]byte("x\na,b\n"+strings.Repeat("1,2\n", MaxRows+5)), abc)
	if len(tab.Rows) != MaxRows+1 || len(tab.Before) != 1 {
		t.Errorf("%d rows below, %d before", len(tab.Rows), len(tab.Before))
	}
}

// What has no text is no table, quickly.
func TestBinary(t *testing.T) {
	if _, ok := Find([]byte(strings.Repeat("\x01\x02a,b\n", 1000)), abc); ok {
		t.Error("control characters were taken for a table")
	}
	if got := Lines([]byte(strings.Repeat("\x01\x02", 20)), 20); got != nil {
		t.Errorf("lines of no text: %q", got)
	}
}

// Every line that is written comes back on its number, whatever the line end.
func TestLineNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		end := rapid.SampledFrom([]string{"\n", "\r\n", "\r", "\r\r\n"}).Draw(t, "end")
		cells := rapid.SliceOfN(rapid.StringMatching(`[a-z0-9]{1,4}|`), 1, 30).Draw(t, "cells")
		for _, r := range split(strings.Join(cells, end), ',', 1000) {
			if cells[r.Line-1] != r.Cells[0] {
				t.Fatalf("line %d is %q, read %q", r.Line, cells[r.Line-1], r.Cells[0])
			}
		}
	})
}

// An open quote must not make every row search to the end again.
func TestOpenQuotes(t *testing.T) {
	rows := split(strings.Repeat("\"x,2\n", 200_000), ',', 300_000)
	if len(rows) != 200_000 {
		t.Errorf("%d rows", len(rows))
	}
}

func TestWords(t *testing.T) {
	for cell, want := range map[string]string{
		"bodyWeight_kg":      "body weight kg",
		" Body-Weight [KG] ": "body weight kg",
		"Körper\u00a0Fett%":  "korper fett %",
		"体重（ＫＧ）":             "体重 kg",
		"ПОСЛЕДНИЙ":          "последнии",
		"":                   "",
	} {
		if got := Words(cell); got != want {
			t.Errorf("Words(%q) = %q, want %q", cell, got, want)
		}
	}
}
