package unpack

import (
	"fmt"
	"path"
	"strings"
	"unicode"
)

// maxName is how many bytes of a member's name make its label.
const maxName = 200

// slashed is the name with one kind of separator: some writers use the other.
func slashed(name string) string { return strings.ReplaceAll(name, `\`, "/") }

// safe reports a name that stays inside its archive. Nothing is ever written,
// but a name that climbs shows an archive not to be trusted.
func safe(name string) bool {
	n := slashed(name)
	if strings.ContainsRune(n, 0) || strings.HasPrefix(n, "/") {
		return false
	}
	if len(n) >= 2 && n[1] == ':' && unicode.IsLetter(rune(n[0])) {
		return false
	}
	for _, part := range strings.Split(n, "/") {
		if part == ".." {
			return false
		}
	}
	return true
}

// label is what a member is called in messages: clean, printable, not too long
// and unlike any before it.
func label(name string, number int, seen map[string]int) string {
	n := strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || r == unicode.ReplacementChar {
			return '_'
		}
		return r
	}, slashed(strings.ToValidUTF8(name, "_")))
	n = strings.TrimLeft(path.Clean("/"+n), "/")
	if len(n) > maxName {
		n = strings.ToValidUTF8(n[:maxName], "") + "…"
	}
	if n == "" {
		n = fmt.Sprintf("member %d", number+1)
	}
	seen[n]++
	if seen[n] > 1 {
		n = fmt.Sprintf("%s#%d", n, seen[n])
	}
	return n
}

// isLitter knows what operating systems leave in archives.
func isLitter(name string) bool {
	n := slashed(name)
	base := path.Base(n)
	switch strings.ToLower(base) {
	case ".ds_store", "thumbs.db", "desktop.ini":
		return true
	}
	return strings.HasPrefix(base, "._") || n == "__MACOSX" || strings.HasPrefix(n, "__MACOSX/") || strings.Contains(n, "/__MACOSX/")
}
