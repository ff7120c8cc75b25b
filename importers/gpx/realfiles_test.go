package gpx

import (
	"bytes"
	"compress/gzip"
	"io"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

// realFile is a file that others recorded, with values on which at least two
// independent decoders agree. Times are compared to the nanosecond, distances
// to 0.3 %: decoders differ in the figure of the Earth they take.
type realFile struct {
	sha256     string
	timed      int // points with a time
	start, end string
	distanceM  float64 // over all positions inside segments; 0: not comparable
	skipped    string
	refused    importer.Code
	zone       string // for files whose times have none
}

const planned, places = "a route or planned track", "waypoints without a track"

// moduleFiles lie in the test data of the second reader's module.
var moduleFiles = []realFile{
	{sha256: "70b0693b1f7ab7c7b1ad5fa8e887f704f9600372d0269a0ec336b8f1f9306143", refused: importer.BadTime}, // all 1901-12-13
	{sha256: "529aa7ec7141e382e1b983c93de2fbe62beaf76cb24e9cf14fc544488defe31b", refused: importer.BadTime},
	{sha256: "5f7f8fca0c40fc8ac6fa78bfe2776ce6456fee93d2359521c3e12386e94448d7", refused: importer.BadTime},
	{sha256: "de901607a7b0e02b2a1a644bfca19ec4c08efd5f3113d6be58192e00ee05e6f0", skipped: planned}, // 5 of 296 timed
	{sha256: "8cee82227fc3b4c169117cf44c660810b9c3f58b968df9e3c2c229b980b481b6", skipped: planned}, // gzip; 22 of 171 timed
	{sha256: "98d74d5358e5b87aeb9ddb78e146d8be8606a9ff6a1a5dbad8332d132c899353", timed: 4,
		start: "2012-03-17T12:46:19Z", end: "2012-03-17T12:47:23Z", distanceM: 56.8},
	{sha256: "139b0410e433957cd891869870fb29098838de2229fc5043917dd03feb458359", refused: importer.NoZone},
	{sha256: "139b0410e433957cd891869870fb29098838de2229fc5043917dd03feb458359", zone: "UTC", timed: 1,
		start: "2013-01-01T12:00:04Z", end: "2013-01-01T12:00:04Z"},
	{sha256: "e52aeeeaa8d5aa0d103d44960b7d339398b8b93316a84d5e7d4f355f6cc6ad91", refused: importer.NoZone},
	{sha256: "e52aeeeaa8d5aa0d103d44960b7d339398b8b93316a84d5e7d4f355f6cc6ad91", zone: "America/New_York", timed: 1,
		start: "2013-01-01T17:00:04Z", end: "2013-01-01T17:00:04Z"}, // UTC-5 in winter
	{sha256: "3341ea0d6a7aea1126896c241d5a6ff6267d6fa4ae7d70567cabcee67f93447b", timed: 1,
		start: "2012-03-17T12:46:19Z", end: "2012-03-17T12:46:19Z"},
	{sha256: "a94c3a788e7d3f464675b5ea020792b543cb444fbd6dd9b4db65516b3d9ec3c7", skipped: places},
	{sha256: "0930a1aeac69675bc5beb87dcb17777700082680451632797cf8a6a6279696b2", skipped: places},
	{sha256: "73621c62aa17f6d895af1fd03cfe74101d3be150efeb284d6e5dc6f69474f448", skipped: places}, // ISO-8859-1
	{sha256: "14125bf02a5144dd65c2f7c230fdcd92ed8418242376a4284697f5d1965cb84d", timed: 513, // 358 more points without
		start: "2010-10-03T09:36:30Z", end: "2010-10-03T13:19:31Z"},
	{sha256: "64b89ac734a42f207282a7732b048637becbc7f2dc5ebcf45b12be0af3b9da9c", timed: 413,
		start: "2014-08-22T16:48:52Z", end: "2014-08-22T17:19:42Z", distanceM: 4446.0},
}

// localFiles are looked for only in the folder $SALTPAN_REAL_FILES.
var localFiles = []realFile{
	{sha256: "62be2ac02a85e1e44f78160883501ace86f4569236b3955eef96fd5dc73c9d6c", timed: 2, // written as 15:43:13.000+01:00
		start: "2015-12-11T14:43:13Z", end: "2015-12-11T14:43:13.994Z", distanceM: 1.56},
}

func TestRealFilesOfTheModule(t *testing.T) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/tkrajina/gpxgo").Output()
	if err != nil {
		t.Fatal(err)
	}
	check(t, strings.TrimSpace(string(dir)), moduleFiles)
}

func TestRealFilesOfTheFolder(t *testing.T) {
	dir := os.Getenv("SALTPAN_REAL_FILES")
	if dir == "" {
		t.Skip("SALTPAN_REAL_FILES is not set")
	}
	check(t, dir, localFiles)
}

func check(t *testing.T, dir string, files []realFile) {
	content := byHash(t, dir)
	for _, f := range files {
		t.Run(f.sha256[:8]+f.zone, func(t *testing.T) {
			data, ok := content[f.sha256]
			if !ok {
				t.Fatal("not found")
			}
			f.check(t, unzipped(t, data))
		})
	}
}

func (f realFile) check(t *testing.T, data []byte) {
	if !New().Identify(data[:min(len(data), importer.HeadSize)]) {
		t.Fatal("not identified")
	}
	res := New().Read(importertest.Source("real.gpx", data, importer.Hints{Zone: f.zone, Second: true}))
	importertest.Check(t, res)
	if f.refused != "" && (res.Refused == nil || res.Refused.Code != f.refused) || res.Skipped != f.skipped {
		t.Fatalf("want refused %q, skipped %q;\n%s", f.refused, f.skipped, importertest.Text(res))
	}
	if f.timed == 0 {
		return
	}
	var timed, heartRates int
	var distance, second float64
	for _, a := range res.Activities {
		timed += len(a.Samples)
		for _, s := range a.Samples {
			if s.HRBpm > 0 {
				heartRates++
			}
		}
		if a.Distance != nil {
			distance += float64(*a.Distance)
			second += float64(*a.Second.Distance)
		}
	}
	if timed != f.timed || heartRates != 0 {
		t.Errorf("%d points with a time and %d with a heart rate, want %d and none", timed, heartRates, f.timed)
	}
	first, last := res.Activities[0], res.Activities[len(res.Activities)-1]
	if s, e := first.Start.Format(time.RFC3339Nano), last.Stop().Format(time.RFC3339Nano); s != f.start || e != f.end {
		t.Errorf("from %s to %s, want %s to %s", s, e, f.start, f.end)
	}
	if f.distanceM > 0 && math.Abs(distance-f.distanceM) > max(0.05, 0.003*f.distanceM) {
		t.Errorf("distance %.2f m, want %.2f", distance, f.distanceM)
	}
	if math.Abs(distance-second) > 0.003*distance {
		t.Errorf("distance %.2f m, the second reader has %.2f", distance, second)
	}
}

// byHash reads every file below a folder.
func byHash(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		out[importer.Hash(data)] = data
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func unzipped(t *testing.T, data []byte) []byte {
	t.Helper()
	if !bytes.HasPrefix(data, []byte("\x1f\x8b")) {
		return data
	}
	zr, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	out, err := io.ReadAll(zr)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
