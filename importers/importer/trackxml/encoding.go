package trackxml

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
)

// toUTF8 is the document in UTF-8 without a byte order mark. Bytes that are no
// text in the encoding become U+FFFD, control characters become blanks: neither
// may cost the rest of a file.
func toUTF8(data []byte) []byte {
	if enc := encodingOf(data); enc != nil {
		if out, err := enc.NewDecoder().Bytes(data); err == nil {
			data = out
		}
	}
	return clean(bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF")))
}

// encodingOf goes by the bytes first, then by the XML declaration; nil is UTF-8.
func encodingOf(data []byte) encoding.Encoding {
	switch {
	case bytes.HasPrefix(data, []byte("\xFF\xFE")), bytes.HasPrefix(data, []byte("<\x00")):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case bytes.HasPrefix(data, []byte("\xFE\xFF")), bytes.HasPrefix(data, []byte("\x00<")):
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM)
	}
	name := strings.ToLower(declared(data))
	if name == "" || strings.HasPrefix(name, "utf-16") || strings.HasPrefix(name, "utf-8") {
		return nil // said to be UTF-16 and yet one byte a letter
	}
	enc, err := htmlindex.Get(name)
	if err != nil {
		return nil
	}
	return enc
}

func declared(data []byte) string {
	start := string(data[:min(len(data), 256)])
	declaration, _, found := strings.Cut(start, "?>")
	if !found {
		return ""
	}
	_, rest, found := strings.Cut(declaration, "encoding")
	if !found {
		return ""
	}
	rest = strings.TrimLeft(rest, " \t\r\n=")
	if rest == "" || rest[0] != '"' && rest[0] != '\'' {
		return ""
	}
	name, _, _ := strings.Cut(rest[1:], rest[:1])
	return name
}

func clean(data []byte) []byte {
	if !utf8.Valid(data) {
		data = bytes.ToValidUTF8(data, []byte("\uFFFD"))
	}
	if !suspect(data) {
		return data
	}
	return bytes.Map(func(r rune) rune {
		if forbidden(r) {
			return ' '
		}
		return r
	}, data)
}

// suspect reports bytes that occur in forbidden characters: one look at each
// byte is cheaper than one at each character.
func suspect(data []byte) bool {
	for _, b := range data {
		if b < ' ' && b != '\t' && b != '\n' && b != '\r' || b == 0xEF {
			return true
		}
	}
	return false
}

// forbidden reports a character outside the XML 1.0 production Char.
func forbidden(r rune) bool {
	return r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == '\uFFFE' || r == '\uFFFF'
}
