package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"saltpan/pipeline/record"
)

// released holds the SHA-256 of every migration that stores out there have
// seen: such a file never changes again, a new one is added after it.
var released = []string{
	"6629368133b0ad11b2dc70547e937869fc4e18bd36e540ec078eca96a79f7562",
}

func TestMigrationsAreUnchanged(t *testing.T) {
	for i, step := range migrations() {
		sum := sha256.Sum256([]byte(step))
		got := hex.EncodeToString(sum[:])
		if i >= len(released) {
			t.Errorf("migration %d is not in the list yet: %s", i+1, got)
		} else if got != released[i] {
			t.Errorf("migration %d was changed: %s, released as %s", i+1, got, released[i])
		}
	}
}

func TestFailingMigrationLeavesAllAsBefore(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	change(t, s, func(t *Tx) error { return t.PutAthlete(record.Athlete{Key: "ines"}) })
	for _, bad := range []string{
		"CREATE TABLE extra (a INTEGER) STRICT; DELETE FROM athlete; INSERT INTO nowhere VALUES (1)",
		"CREATE TABLE extra (a INTEGER) STRICT; DROP TABLE change",
	} {
		if err := migrate(ctx, s.db, append(migrations(), bad)); err == nil || !strings.Contains(err.Error(), "migration 2") {
			t.Fatalf("got %v, want an error that names the migration", err)
		}
		if n, err := stage(ctx, s.db); n != 1 || err != nil {
			t.Errorf("version %d, %v", n, err)
		}
		var extra int
		if err := s.db.QueryRow("SELECT count(*) FROM sqlite_schema WHERE name = 'extra'").Scan(&extra); err != nil || extra != 0 {
			t.Errorf("%d tables left over, %v", extra, err)
		}
		if f := facts(t, s); len(f.Athletes) != 1 {
			t.Errorf("facts lost: %+v", f)
		}
	}
}

// The dump is what the first version wrote; every later one has to read it.
func TestFirstVersionOpens(t *testing.T) {
	ctx := context.Background()
	dump, err := os.ReadFile(filepath.Join("testdata", "v0001.sql"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "old.db")
	raw(t, path, string(dump))
	s, err := Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if found, err := s.Check(ctx); err != nil || len(found) > 0 {
		t.Errorf("check: %v, %v", found, err)
	}
	f := facts(t, s)
	if len(f.Athletes) != 1 || len(f.Activities) != 1 || len(f.WeighIns) != 2 || len(f.Notes) != 1 {
		t.Fatalf("facts %+v", f)
	}
	if a := f.Activities[0]; a.ID != "feed:0" || !a.Start.Equal(t0) || *a.Distance != 15234 {
		t.Errorf("activity %+v", a)
	}
	samples, err := s.Samples(ctx, "feed:0")
	if err != nil || len(samples) != 3 || samples[2].HRBpm != 142 {
		t.Errorf("samples %+v, %v", samples, err)
	}
}

// The driver is made for one version of its C library; go.mod could ask for
// another through some other module.
func TestLibraryIsTheOneTheDriverNames(t *testing.T) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "modernc.org/sqlite").Output()
	if err != nil || len(strings.TrimSpace(string(dir))) == 0 {
		t.Skipf("the driver's go.mod is not at hand: %v", err)
	}
	ours, theirs := libcOf(t, filepath.Join("..", "go.mod")), libcOf(t, filepath.Join(strings.TrimSpace(string(dir)), "go.mod"))
	if ours != theirs {
		t.Errorf("go.mod asks for modernc.org/libc %s, the driver for %s", ours, theirs)
	}
}

func libcOf(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`modernc\.org/libc (v\S+)`).FindSubmatch(text)
	if m == nil {
		t.Fatalf("%s names no modernc.org/libc", path)
	}
	return string(m[1])
}
