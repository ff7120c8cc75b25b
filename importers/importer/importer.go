// Package importer is the contract every importer keeps: a source goes in,
// facts and problems come out. An importer never opens files, never stops a
// batch and never drops anything without saying so.
package importer

import (
	"crypto/sha256"
	"encoding/hex"
	"time"

	"saltpan/pipeline/record"
)

// HeadSize is how much of a source Identify may look at.
const HeadSize = 4096

// Source is one input: a file or a member of an archive, already unpacked.
type Source struct {
	// Path is the label for messages and provenance, "a.zip!run.fit".
	Path string
	Data []byte
	// SHA256 of Data in hexadecimal; see Hash.
	SHA256 string
	// Damaged says what was wrong with the container around the data (a gzip
	// cut short), empty if nothing.
	Damaged string
	Hints   Hints
}

// Hints settle what a file leaves open. Empty fields settle nothing.
type Hints struct {
	Athlete string // whose file it is
	Scale   string // key of the scale a CSV comes from
	Zone    string // IANA zone for rows and files that name none
	Unit    string // "kg", "lb", "st" for masses without one
	Dates   string // "dmy", "mdy" or "ymd" for dates that could be several
	Place   *record.Position
	// AltitudeM goes with Place.
	AltitudeM *float64
	// Second asks for the totals of the second reader as well.
	Second bool
}

// Head is the first part of the data, all that Identify may use.
func (s Source) Head() []byte { return s.Data[:min(len(s.Data), HeadSize)] }

// Hash is the SHA-256 of data in hexadecimal.
func Hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// Importer reads one kind of file.
type Importer interface {
	// Name is the kind as it stands in messages and JSON: "fit", "scale".
	Name() string
	// Version rises when the same bytes can give other facts.
	Version() int
	// Identify reports whether a file beginning with head is of this kind. It
	// goes by content, never by the path's extension.
	Identify(head []byte) bool
	// Read takes everything there is. It never panics and never returns half
	// a fact.
	Read(Source) Result
}

// Result is what one source gave. Exactly one of three holds: there are facts
// (stored), Skipped says why a known kind holds nothing for us, or Refused is set.
type Result struct {
	Activities []record.Activity
	WeighIns   []record.WeighIn
	Notes      []record.Note
	Weather    []record.Weather
	// Problems are parts that were passed over; the rest was taken.
	Problems []Problem
	Skipped  string   // "a course", "device settings" …
	Refused  *Problem // nothing was taken
	// Why says step by step what was recognised and how it was decided.
	Why []string
}

// Empty reports whether no fact was read.
func (r Result) Empty() bool {
	return len(r.Activities)+len(r.WeighIns)+len(r.Notes)+len(r.Weather) == 0
}

// Problem is a fault in an input, with its place and what to do.
type Problem struct {
	Code Code
	Path string
	Line int    // 1-based; 0 where lines mean nothing
	Text string // what was read and what was wanted, lower case, no full stop
	Hint string // what to do next, empty if nothing can be done
}

// Code is the reason for a problem, from a closed list.
type Code string

// The reasons. Each has a script err_<code>.txtar that shows it.
const (
	UnknownFormat   Code = "unknown-format"   // no importer knows it
	AmbiguousFormat Code = "ambiguous-format" // two importers claim it
	Empty           Code = "empty"            // no bytes, or no rows, or no samples
	Truncated       Code = "truncated"        // it ends early and nothing could be saved
	Checksum        Code = "checksum"         // a checksum is wrong and nothing could be saved
	BadTime         Code = "bad-time"         // a time that is none, or of a clock never set
	UnclearDates    Code = "unclear-dates"    // day and month could be either
	NoZone          Code = "no-zone"          // a local time without a zone
	BadNumber       Code = "bad-number"       // text where a number should be
	UnknownUnit     Code = "unknown-unit"     // a number without a unit, or with one we do not know
	OutOfRange      Code = "out-of-range"     // a number that cannot be
	TooLarge        Code = "too-large"        // over a limit on size, ratio, depth or count
	UnsafeName      Code = "unsafe-name"      // an archive member that points outside
	Unsupported     Code = "unsupported"      // encrypted, or compressed in a way we do not read
	NoAthlete       Code = "no-athlete"       // nobody says whose it is
	NoSession       Code = "no-session"       // a note names a session we do not have
	Unreadable      Code = "unreadable"       // the system would not let us read it
)

// Codes is the closed list, in the order above.
func Codes() []Code {
	return []Code{UnknownFormat, AmbiguousFormat, Empty, Truncated, Checksum, BadTime, UnclearDates,
		NoZone, BadNumber, UnknownUnit, OutOfRange, TooLarge, UnsafeName, Unsupported, NoAthlete,
		NoSession, Unreadable}
}

// Earliest is the first time that can be true: a clock that was never set says
// 1989, 1990 or the first day of 2000.
var Earliest = time.Date(2000, 1, 2, 0, 0, 0, 0, time.UTC)
