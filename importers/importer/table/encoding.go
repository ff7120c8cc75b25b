package table

import (
	"bytes"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/unicode"
)

// decoding is the text of a source under one encoding.
type decoding struct {
	name string
	text string
}

// legacy are the encodings without a mark of their own, likeliest first. They
// cannot be told apart by their bytes, only by whether a header is found.
var legacy = []struct {
	name string
	enc  encoding.Encoding
}{
	{"windows-1252", charmap.Windows1252},
	{"Shift-JIS", japanese.ShiftJIS},
	{"windows-1251", charmap.Windows1251},
}

// decodings are the texts that data could be: one if its marks say which, else
// one for each encoding that has no mark; none if it is no text.
func decodings(data []byte) []decoding {
	if enc, name := marked(data); enc != nil {
		return []decoding{{name, decode(enc, data)}}
	}
	if binary(data) {
		return nil
	}
	data, bom := bytes.CutPrefix(data, []byte("\xef\xbb\xbf"))
	if bom || utf8.Valid(wholeRunes(data)) {
		name := "UTF-8"
		if bom {
			name = "UTF-8 with byte order mark"
		}
		return []decoding{{name, string(bytes.ToValidUTF8(wholeRunes(data), []byte("\uFFFD")))}}
	}
	var out []decoding
	for _, l := range legacy {
		out = append(out, decoding{l.name, decode(l.enc, data)})
	}
	return out
}

// binary reports whether data is no text: more than a few of its first bytes
// and more than a twentieth of them are control characters.
func binary(data []byte) bool {
	data = data[:min(len(data), 4096)]
	n := 0
	for _, b := range data {
		if b < ' ' && b != '\t' && b != '\r' && b != '\n' {
			n++
		}
	}
	return n > 2+len(data)/20
}

// marked is the UTF-16 that a byte order mark or the pattern of zero bytes shows, nil if none.
func marked(data []byte) (encoding.Encoding, string) {
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), "UTF-16 LE with byte order mark"
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM), "UTF-16 BE with byte order mark"
	}
	even, odd, n := zeros(data)
	switch {
	case odd > 1+n/8 && even <= odd/16:
		return unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), "UTF-16 LE"
	case even > 1+n/8 && odd <= even/16:
		return unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), "UTF-16 BE"
	}
	return nil, ""
}

// zeros counts zero bytes at even and odd places in the first n pairs of bytes.
func zeros(data []byte) (even, odd, n int) {
	n = min(len(data), 4096) / 2
	for i := range n {
		if data[2*i] == 0 {
			even++
		}
		if data[2*i+1] == 0 {
			odd++
		}
	}
	return even, odd, n
}

func decode(enc encoding.Encoding, data []byte) string {
	out, _ := enc.NewDecoder().Bytes(data) // the part before an error is still text
	return string(out)
}

// wholeRunes is data without a character cut off at its end.
func wholeRunes(data []byte) []byte {
	for back := 1; back < utf8.UTFMax && back <= len(data); back++ {
		if start := len(data) - back; utf8.RuneStart(data[start]) {
			if !utf8.FullRune(data[start:]) {
				return data[:start]
			}
			break
		}
	}
	return data
}
