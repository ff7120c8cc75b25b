package table

import (
	"strings"
	"unicode"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"
)

// Fold is s in lower case without accents, with wide and narrow forms of a
// character made one and every kind of space a plain one.
func Fold(s string) string {
	if ascii(s) {
		return strings.ToLower(s)
	}
	chain := transform.Chain(norm.NFKD, runes.Remove(runes.In(unicode.Mn)), norm.NFC)
	out, _, err := transform.String(chain, strings.ToLower(s))
	if err != nil {
		return strings.ToLower(s)
	}
	return out
}

func ascii(s string) bool {
	for i := range len(s) {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}

// Words is a header cell as folded words with one space between them:
// "bodyWeight_kg" and "Body Weight [kg]" are both "body weight kg".
func Words(cell string) string {
	var b strings.Builder
	var last rune
	for _, r := range cell {
		if unicode.IsUpper(r) && unicode.IsLower(last) {
			b.WriteByte(' ')
		}
		switch {
		case r == '%':
			b.WriteString(" % ")
		case unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r):
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
		last = r
	}
	return strings.Join(strings.Fields(Fold(b.String())), " ")
}
