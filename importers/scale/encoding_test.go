package scale

import (
	"strings"
	"testing"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/unicode"

	"saltpan/importers/importer"
)

// The same table in every encoding gives the same weigh-in and is identified
// by its first part.
func TestEncodings(t *testing.T) {
	german := "Benutzer;Körpergewicht (kg);Messzeit\r\nJürgen;75,5;03.04.2025 07:15\r\n"
	japaneseText := "氏名,体重(kg),測定日時\n花子,52.5,2025/4/3 7:15\n"
	russian := "Имя;Вес (кг);Дата\nОля;52,5;03.04.2025 07:15\n"
	utf16 := func(e unicode.Endianness, p unicode.BOMPolicy) encoding.Encoding { return unicode.UTF16(e, p) }
	for name, c := range map[string]struct {
		text string
		enc  encoding.Encoding
		says string
	}{
		"UTF-8":                      {german, encoding.Nop, "UTF-8"},
		"UTF-8 with mark":            {"\ufeff" + german, encoding.Nop, "UTF-8 with byte order mark"},
		"UTF-16 LE with mark":        {german, utf16(unicode.LittleEndian, unicode.UseBOM), "UTF-16 LE with byte order mark"},
		"UTF-16 BE with mark":        {german, utf16(unicode.BigEndian, unicode.UseBOM), "UTF-16 BE with byte order mark"},
		"UTF-16 LE":                  {german, utf16(unicode.LittleEndian, unicode.IgnoreBOM), "UTF-16 LE"},
		"UTF-16 BE":                  {german, utf16(unicode.BigEndian, unicode.IgnoreBOM), "UTF-16 BE"},
		"UTF-16 LE, Japanese":        {japaneseText, utf16(unicode.LittleEndian, unicode.IgnoreBOM), "UTF-16 LE"},
		"windows-1252":               {german, charmap.Windows1252, "windows-1252"},
		"Shift-JIS":                  {japaneseText, japanese.ShiftJIS, "Shift-JIS"},
		"windows-1251":               {russian, charmap.Windows1251, "windows-1251"},
		"UTF-8, Cyrillic, with mark": {"\ufeff" + russian, encoding.Nop, "UTF-8 with byte order mark"},
	} {
		data, err := c.enc.NewEncoder().String(c.text)
		if err != nil {
			t.Fatal(name, err)
		}
		person := strings.FieldsFunc(strings.Split(c.text, "\n")[1], func(r rune) bool { return r == ';' || r == ',' })[0]
		mass := "75.500"
		if person != "Jürgen" {
			mass = "52.500"
		}
		expect(t, name, data, importer.Hints{}, "2025-04-03T07:15:00/m "+mass+" "+person+" :2")
		if why := read(t, data, importer.Hints{}).Why[0]; why != "encoding: "+c.says {
			t.Errorf("%s: said %s", name, why)
		}
		if !New().Identify([]byte(data[:len(data)-3])) {
			t.Errorf("%s: a cut head is not identified", name)
		}
	}
}
