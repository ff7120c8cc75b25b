// Package season writes a simulated season as the files that watches, scales
// and people would leave behind: FIT, GPX and TCX activities, scale CSVs in
// three dialects and notes sheets, a folder for each athlete. The same season
// gives the same bytes.
package season

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"time"

	"saltpan/pipeline/record"
	"saltpan/pipeline/simulate"
)

// step is how often a watch writes a record.
const step = 5 * time.Second

// file is one file to be written; name has slashes and is relative.
type file struct {
	name string
	data []byte
}

// Write writes the season's files under dir and returns their names relative
// to it, with slashes, in the order written. It never overwrites a file; if one
// is in the way it returns an error and leaves what it had written so far.
func Write(dir string, s simulate.Season) ([]string, error) {
	files, err := filesOf(s)
	if err != nil {
		return nil, err
	}
	names := make([]string, 0, len(files))
	for _, f := range files {
		if err := f.write(dir); err != nil {
			return names, err
		}
		names = append(names, f.name)
	}
	return names, nil
}

// Athletes is the settings of the season's athletes, in the club's order.
func Athletes(s simulate.Season) []record.Athlete {
	out := make([]record.Athlete, len(s.Athletes))
	for i, a := range s.Athletes {
		out[i] = a.Athlete
	}
	return out
}

func filesOf(s simulate.Season) ([]file, error) {
	var out []file
	for i, a := range s.Athletes {
		sessions := ofAthlete(s.Sessions, a.Key)
		activities, err := activityFiles(i, sessions)
		if err != nil {
			return nil, err
		}
		out = append(out, activities...)
		out = append(out, file{a.Key + "/notes.csv", notesSheet(sessions)})
	}
	for _, sc := range s.Scales {
		out = append(out, scaleFile(sc, s.WeighIns))
	}
	return out, nil
}

func ofAthlete(all []simulate.Session, key string) []simulate.Session {
	var out []simulate.Session
	for _, s := range all {
		if s.Athlete == key {
			out = append(out, s)
		}
	}
	return out
}

// activityFiles is the recordings of the i-th athlete, whose watch writes one
// format; what a second device recorded is TCX.
func activityFiles(i int, sessions []simulate.Session) ([]file, error) {
	kind := []string{".tcx", ".gpx", ".fit", ".fit"}[i%4]
	var out []file
	for _, s := range sessions {
		for _, p := range s.Parts {
			b := bout{s, p, uint32(1000 + i), step}
			data, err := b.encode(kind)
			if err != nil {
				return nil, fmt.Errorf("session %s: %w", s.Key, err)
			}
			name := path.Join(s.Athlete, simulate.Local(p.Start).Format("2006-01-02-1504"))
			out = append(out, file{name + kind, data})
			if s.Twice && kind != ".tcx" {
				out = append(out, file{name + ".tcx", b.tcx()})
			}
		}
	}
	return out, nil
}

// bout is one recording, as a device of a serial number sees it.
type bout struct {
	session simulate.Session
	part    simulate.Part
	serial  uint32
	step    time.Duration
}

func (b bout) encode(kind string) ([]byte, error) {
	switch kind {
	case ".tcx":
		return b.tcx(), nil
	case ".gpx":
		return b.gpx(), nil
	}
	return b.fit()
}

func (b bout) track() []simulate.Point { return b.session.Track(b.part, b.step) }

// write creates the file and the folders above it.
func (f file) write(dir string) error {
	full := filepath.Join(dir, filepath.FromSlash(f.name))
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		return err
	}
	out, err := os.OpenFile(full, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is already there and is kept; name an empty folder", full)
	}
	if err != nil {
		return err
	}
	if _, err := out.Write(f.data); err != nil {
		return errors.Join(err, out.Close())
	}
	return out.Close()
}
