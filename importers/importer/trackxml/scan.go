package trackxml

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// MaxDepth is how many elements may lie inside one another.
const MaxDepth = 256

// MaxPoints is how many points one file may hold.
const MaxPoints = 500_000

// ErrTooDeep is the scanner's error for elements nested deeper than MaxDepth.
var ErrTooDeep = errors.New("too many elements inside one another")

// Scanner walks the elements of a document. Prefixes are left out of names, so
// that an undeclared or unusual one does no harm. Entities of a DTD are never
// expanded.
type Scanner struct {
	// Name is the local name of the element that was opened or closed.
	Name string
	// Opened is true at a start tag and false at an end tag.
	Opened bool
	// Path holds the names of the elements around Name, root first.
	Path []string

	d     *xml.Decoder
	attrs []xml.Attr
	text  []byte
	whole bool // a root element was closed and none is open
	err   error
}

// NewScanner scans data in any encoding it declares or shows.
func NewScanner(data []byte) *Scanner {
	d := xml.NewDecoder(bytes.NewReader(toUTF8(data)))
	d.Strict = false // an "&" in a name must not cost the rest of the file
	d.Entity = xml.HTMLEntity
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	return &Scanner{d: d}
}

// Next goes to the next start or end tag; false at the end or at damage.
func (s *Scanner) Next() bool {
	if s.err != nil {
		return false
	}
	if s.Opened {
		s.Path = append(s.Path, s.Name)
		s.text = s.text[:0]
	}
	for {
		token, err := s.d.RawToken()
		if err != nil {
			return s.stop(err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			return s.open(t)
		case xml.EndElement:
			return s.close(t.Name.Local)
		case xml.CharData:
			s.text = append(s.text, t...)
		}
	}
}

func (s *Scanner) open(t xml.StartElement) bool {
	if len(s.Path) >= MaxDepth {
		s.err = ErrTooDeep
		return false
	}
	s.Name, s.Opened, s.attrs, s.whole = t.Name.Local, true, t.Attr, false
	return true
}

// close checks that tags match: RawToken does not.
func (s *Scanner) close(name string) bool {
	last := len(s.Path) - 1
	if last < 0 || s.Path[last] != name {
		return s.stop(fmt.Errorf("</%.40s> closes nothing that is open", name))
	}
	s.Name, s.Opened, s.Path, s.whole = name, false, s.Path[:last], last == 0
	return true
}

// stop tells an end from damage. What follows a closed root is no damage.
func (s *Scanner) stop(err error) bool {
	s.err = io.EOF
	if s.whole {
		return false
	}
	var syntax *xml.SyntaxError
	switch {
	case errors.As(err, &syntax) && syntax.Msg != "unexpected EOF":
		s.err = &Damage{Line: syntax.Line, Text: syntax.Msg}
	case errors.As(err, &syntax) || err == io.EOF:
		s.err = &Damage{Line: s.Line(), Text: "the file ends " + s.inside()}
	default:
		s.err = &Damage{Line: s.Line(), Text: err.Error()}
	}
	return false
}

// Damage is where and why a document cannot be read further.
type Damage struct {
	Line int
	Text string
}

// Error is the damage with its line.
func (d *Damage) Error() string { return fmt.Sprintf("line %d: %s", d.Line, d.Text) }

func (s *Scanner) inside() string {
	if n := len(s.Path); n > 0 {
		return fmt.Sprintf("inside <%.40s>", s.Path[n-1])
	}
	return "before its root element"
}

// Err is nil if the document was whole, ErrTooDeep, or the *Damage.
func (s *Scanner) Err() error {
	if s.err == io.EOF {
		return nil
	}
	return s.err
}

// Line is the line of the tag last read, from 1.
func (s *Scanner) Line() int {
	line, _ := s.d.InputPos()
	return line
}

// Text is the text before the end tag, without blanks around it.
func (s *Scanner) Text() string { return string(bytes.TrimSpace(s.text)) }

// Parent is the name of the element around the current one, empty at the root.
func (s *Scanner) Parent() string {
	if n := len(s.Path); n > 0 {
		return s.Path[n-1]
	}
	return ""
}

// Attr is an attribute of the element just opened, empty if it has none.
func (s *Scanner) Attr(name string) string {
	for _, a := range s.attrs {
		if a.Name.Local == name {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

// Root is the local name of the root element of a document that begins with
// head, empty if head is no XML or ends before it.
func Root(head []byte) string {
	text := strings.TrimSpace(string(toUTF8(head)))
	for strings.HasPrefix(text, "<?") || strings.HasPrefix(text, "<!") {
		end := ">"
		if strings.HasPrefix(text, "<!--") {
			end = "-->"
		}
		_, rest, found := strings.Cut(text, end)
		if !found {
			return ""
		}
		text = strings.TrimSpace(rest)
	}
	if !strings.HasPrefix(text, "<") {
		return ""
	}
	name := text[1:]
	if i := strings.IndexAny(name, " \t\r\n/>"); i >= 0 {
		name = name[:i]
	}
	return name[strings.LastIndexByte(name, ':')+1:]
}
