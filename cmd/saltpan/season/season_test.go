package season

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/profile/filedef"

	"saltpan/pipeline/record"
	"saltpan/pipeline/simulate"
)

func written(t *testing.T, s simulate.Season) (string, []string) {
	t.Helper()
	dir := t.TempDir()
	names, err := Write(dir, s)
	if err != nil {
		t.Fatal(err)
	}
	return dir, names
}

func read(t *testing.T, dir, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestSameSeedSameBytes(t *testing.T) {
	one, names := written(t, simulate.Run(11, simulate.Options{}))
	two, again := written(t, simulate.Run(11, simulate.Options{}))
	if strings.Join(names, "\n") != strings.Join(again, "\n") {
		t.Fatal("names differ")
	}
	for _, name := range names {
		if !bytes.Equal(read(t, one, name), read(t, two, name)) {
			t.Errorf("%s differs", name)
		}
	}
}

func TestFilesInTheWayAreKept(t *testing.T) {
	s := simulate.Run(1, simulate.Options{Athletes: 1, Weeks: 1})
	dir, names := written(t, s)
	mine := filepath.Join(dir, filepath.FromSlash(names[0]))
	if err := os.WriteFile(mine, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := Write(dir, s); err == nil || !strings.Contains(err.Error(), "already there") {
		t.Errorf("error is %v", err)
	}
	if got := read(t, dir, names[0]); string(got) != "mine" {
		t.Errorf("overwritten: %q", got[:20])
	}
}

func TestEverySessionHasItsFiles(t *testing.T) {
	s := simulate.Run(1, simulate.Options{})
	_, names := written(t, s)
	want, count := 1, map[string]int{} // the hut's scale
	for _, x := range s.Sessions {
		want += len(x.Parts)
		if x.Twice {
			want++
		}
	}
	for _, name := range names {
		count[filepath.Ext(name)]++
	}
	want += 2*len(s.Athletes) - 2 // notes for each, a scale of their own for all but two
	if len(names) != want || count[".fit"] < 60 || count[".gpx"] < 30 || count[".tcx"] < 30 || count[".csv"] != 7 {
		t.Errorf("%d files, want %d: %v", len(names), want, count)
	}
}

// The encoder's own decoder checks both checksums and reads back what the
// season says, to the resolution of the format.
func TestFITReadsBack(t *testing.T) {
	s := simulate.Run(3, simulate.Options{})
	for _, x := range s.Sessions {
		if x.Athlete != "maren" && x.Athlete != "teo" {
			continue
		}
		for _, p := range x.Parts {
			data, err := bout{x, p, 1, step}.fit()
			if err != nil {
				t.Fatal(err)
			}
			fit, err := decoder.New(bytes.NewReader(data)).Decode()
			if err != nil {
				t.Fatal(err)
			}
			checkFIT(t, x, p, filedef.NewActivity(fit.Messages...))
		}
	}
}

func checkFIT(t *testing.T, x simulate.Session, p simulate.Part, got *filedef.Activity) {
	t.Helper()
	s := got.Sessions[0]
	if !s.StartTime.Equal(p.Start) || s.TotalElapsedTimeScaled() != p.Elapsed.Seconds() ||
		s.TotalTimerTimeScaled() != p.Moving().Seconds() {
		t.Errorf("%s: %v %v %v", x.Key, s.StartTime, s.TotalElapsedTimeScaled(), s.TotalTimerTimeScaled())
	}
	if math.Abs(s.TotalDistanceScaled()-float64(p.Distance)) > 0.01 || math.Abs(float64(s.AvgHeartRate)-x.MeanHRBpm) > 1.5 {
		t.Errorf("%s: %v m, %v bpm", x.Key, s.TotalDistanceScaled(), s.AvgHeartRate)
	}
	if offset := got.Activity.LocalTimestamp.Sub(got.Activity.Timestamp); offset != simulate.Offset(p.Stop()) {
		t.Errorf("%s: local time is %v off", x.Key, offset)
	}
	last := got.Records[len(got.Records)-1]
	if !last.Timestamp.Equal(p.Stop()) || last.Temperature == 127 || (last.PositionLatDegrees() < 90) == x.Indoor() {
		t.Errorf("%s ends with %v", x.Key, last)
	}
	var timer, metres float64
	for _, l := range got.Laps {
		timer += l.TotalTimerTimeScaled()
		metres += l.TotalDistanceScaled()
	}
	if math.Abs(timer-p.Moving().Seconds()) > 0.01 || math.Abs(metres-float64(p.Distance)) > 0.5 {
		t.Errorf("%s: laps add up to %v s and %v m", x.Key, timer, metres)
	}
}

type gpxFile struct {
	Points []struct {
		Lat  float64   `xml:"lat,attr"`
		Lon  float64   `xml:"lon,attr"`
		Time time.Time `xml:"time"`
		HR   int       `xml:"extensions>TrackPointExtension>hr"`
	} `xml:"trk>trkseg>trkpt"`
}

// The way along the points is the haversine distance on a sphere of 6371 km
// (Sinnott 1984, Sky and Telescope 68:159).
func TestGPXReadsBack(t *testing.T) {
	for _, x := range simulate.Run(3, simulate.Options{}).Sessions {
		if x.Athlete != "bruno" {
			continue
		}
		var got gpxFile
		if err := xml.Unmarshal(bout{x, x.Parts[0], 1, step}.gpx(), &got); err != nil {
			t.Fatal(err)
		}
		var way float64
		for i, p := range got.Points[1:] {
			way += haversine(got.Points[i].Lat, got.Points[i].Lon, p.Lat, p.Lon)
		}
		last := got.Points[len(got.Points)-1]
		if !got.Points[0].Time.Equal(x.Start()) || !last.Time.Equal(x.Stop()) || last.HR == 0 {
			t.Errorf("%s runs from %v to %v", x.Key, got.Points[0].Time, last.Time)
		}
		if math.Abs(way/float64(x.Distance())-1) > 0.002 {
			t.Errorf("%s is %v m along its points, want %v", x.Key, way, x.Distance())
		}
	}
}

func haversine(lat1, lon1, lat2, lon2 float64) float64 {
	const rad = math.Pi / 180
	half := func(d float64) float64 { return math.Pow(math.Sin(d*rad/2), 2) }
	h := half(lat2-lat1) + math.Cos(lat1*rad)*math.Cos(lat2*rad)*half(lon2-lon1)
	return 2 * 6371000 * math.Asin(math.Sqrt(h))
}

type tcxFile struct {
	Laps []struct {
		Timer  float64 `xml:"TotalTimeSeconds"`
		Metres float64 `xml:"DistanceMeters"`
		Points []struct {
			Time   time.Time `xml:"Time"`
			Metres float64   `xml:"DistanceMeters"`
		} `xml:"Track>Trackpoint"`
	} `xml:"Activities>Activity>Lap"`
}

func TestTCXReadsBack(t *testing.T) {
	for _, x := range simulate.Run(3, simulate.Options{Weeks: 8}).Sessions {
		if x.Athlete != "ines" && !x.Twice && x.Parts[0].Pause == 0 {
			continue
		}
		for _, p := range x.Parts {
			var got tcxFile
			if err := xml.Unmarshal(bout{x, p, 1, step}.tcx(), &got); err != nil {
				t.Fatal(err)
			}
			var timer float64
			for _, l := range got.Laps {
				timer += l.Timer
			}
			points := got.Laps[len(got.Laps)-1].Points
			last := points[len(points)-1]
			if math.Abs(timer-p.Moving().Seconds()) > 1 || !last.Time.Equal(p.Stop()) ||
				math.Abs(last.Metres-float64(p.Distance)) > 0.01 {
				t.Errorf("%s: %v s, ends %v after %v m", x.Key, timer, last.Time, last.Metres)
			}
		}
	}
}

func TestScaleDialects(t *testing.T) {
	s := simulate.Run(1, simulate.Options{})
	dir, _ := written(t, s)
	rows := map[string]int{}
	for _, w := range s.WeighIns {
		rows[w.Scale]++
	}
	for name, want := range map[string]struct {
		comma rune
		head  string
		n     int
	}{
		"ines/scale.csv": {';', "Person;Fett (%);Gewicht (kg);Uhrzeit;Datum", rows["ines-bathroom"]},
		"hut-scale.csv":  {',', "weight (kg),body fat (%),recorded", rows["hut"]},
		"teo/scale.csv":  {',', "Time,Date,Weight (lb)", rows["teo-bathroom"]},
	} {
		r := csv.NewReader(bytes.NewReader(read(t, dir, name)))
		r.Comma = want.comma
		got, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != want.n+1 || strings.Join(got[0], string(want.comma)) != want.head {
			t.Errorf("%s: %d rows under %q, want %d", name, len(got)-1, got[0], want.n)
		}
	}
}

func TestNotesNameTheirSessions(t *testing.T) {
	s := simulate.Run(1, simulate.Options{})
	keys := map[string]bool{}
	for _, x := range s.Sessions {
		keys[x.Key] = x.Note != nil
	}
	dir, _ := written(t, s)
	for _, a := range s.Athletes {
		got, err := csv.NewReader(bytes.NewReader(read(t, dir, a.Key+"/notes.csv"))).ReadAll()
		if err != nil || len(got) < 20 {
			t.Fatal(len(got), err)
		}
		for _, row := range got[1:] {
			if !keys[row[0]] || row[1] != a.Key {
				t.Errorf("a note for %q of %q", row[0], row[1])
			}
		}
	}
}

func TestAthletesAreTheClub(t *testing.T) {
	got := Athletes(simulate.Run(1, simulate.Options{}))
	if len(got) != 4 || got[2].Weighing != record.Carrying || got[3].Units != record.US || got[0].UsualMass == nil {
		t.Errorf("%+v", got)
	}
}

func TestRunsForBenchmarks(t *testing.T) {
	dir := t.TempDir()
	names, err := WriteRuns(dir, 8, 1)
	if err != nil || len(names) != 9 {
		t.Fatal(names, err)
	}
	records := 0
	for _, name := range names[:8] {
		fit, err := decoder.New(bytes.NewReader(read(t, dir, name))).Decode()
		if err != nil {
			t.Fatal(err)
		}
		records += len(filedef.NewActivity(fit.Messages...).Records)
	}
	if mean := records / 8; mean < 3000 || mean > 5500 {
		t.Errorf("%d records a run", mean)
	}
}

// Writing the season must stay a small part of the demo.
func BenchmarkWrite(b *testing.B) {
	s := simulate.Run(1, simulate.Options{})
	for b.Loop() {
		if _, err := Write(b.TempDir(), s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWriteRuns(b *testing.B) {
	for b.Loop() {
		names, err := WriteRuns(b.TempDir(), 300, 1)
		if err != nil || len(names) != 301 {
			b.Fatal(len(names), err)
		}
	}
}
