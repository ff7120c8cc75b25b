package main

import (
	"go/ast"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// rule says which packages of ours a package may import, and why.
type rule struct {
	allow []string // a folder, or "folder/..." for all below it
	tests []string // allowed in _test.go files besides
	why   string
}

// facts are what every stage and every store row is made of.
var facts = []string{"pipeline/quantity", "pipeline/measure", "pipeline/record", "pipeline/cite"}

// stage is the rule for a step of the pipeline.
func stage(why string) rule {
	return rule{facts, []string{"pipeline/simulate"}, why + "; stages meet in pipeline alone, so each can be read and tested by itself"}
}

// format is the rule for a reader of one kind of file.
func format(why string) rule {
	return rule{[]string{"importers/importer", "importers/importer/trackxml", "importers/importer/table", "pipeline/record", "pipeline/quantity"},
		[]string{"importers/importer/importertest"}, why + "; it turns bytes into facts and knows nothing of other formats or of results"}
}

// rules has every package. A package imports only packages to its left:
// quantity | measure, record | cite, importer | stages, formats, unpack |
// importers, pipeline, store | cmd.
var rules = map[string]rule{
	"pipeline/quantity": {nil, nil, "units stand on nothing"},
	"pipeline/measure":  {[]string{"pipeline/quantity"}, nil, "an interval is the same for every quantity"},
	"pipeline/record":   {[]string{"pipeline/quantity"}, nil, "facts hold no computed value, so no estimate"},
	"pipeline/cite":     {[]string{"pipeline/quantity", "pipeline/measure"}, nil, "a parameter is an estimate with a source"},

	"pipeline/session":  stage("which activity files make one session"),
	"pipeline/match":    stage("which weigh-in belongs to which session"),
	"pipeline/balance":  stage("what the scale and the note say was lost"),
	"pipeline/sodium":   stage("how much sodium went with it"),
	"pipeline/flags":    stage("the one table of what a person should know; pipeline decides what to raise, so no stage imports it"),
	"pipeline/heat":     stage("conditions: the air"),
	"pipeline/effort":   stage("conditions: the work"),
	"pipeline/learn":    stage("loss rate as a function of heat and effort"),
	"pipeline/plan":     stage("a starting plan from what was learnt"),
	"pipeline/release":  stage("what may leave the store, and how coarse"),
	"pipeline/simulate": stage("a season with known truth, for tests and the demo"),
	"pipeline": {append([]string{"pipeline/session", "pipeline/match", "pipeline/balance", "pipeline/sodium",
		"pipeline/flags", "pipeline/heat", "pipeline/effort", "pipeline/learn"}, facts...),
		[]string{"pipeline/simulate"}, "the only package that knows the order of the stages"},

	"importers/importer": {[]string{"pipeline/record", "pipeline/quantity"}, nil, "the contract: bytes in, facts out"},
	"importers/importer/importertest": {[]string{"importers/importer", "pipeline/record", "pipeline/quantity"}, nil,
		"the suite that every importer runs knows the contract and no importer"},
	"importers/importer/trackxml": {[]string{"importers/importer", "pipeline/record", "pipeline/quantity"}, nil,
		"what track files in XML share, so that their importers need not import one another"},
	"importers/importer/table": {[]string{"importers/importer", "pipeline/record", "pipeline/quantity"}, nil,
		"what CSV files share, for the same reason"},
	"importers/unpack":  {[]string{"importers/importer"}, nil, "archives give sources; what is in them is not its concern"},
	"importers/fit":     format("activities and weigh-ins of a watch"),
	"importers/gpx":     format("activities as tracks"),
	"importers/tcx":     format("activities as laps"),
	"importers/scale":   format("weigh-ins of any scale"),
	"importers/notes":   format("the filled-in sheet"),
	"importers/weather": format("hourly observations"),
	"importers": {[]string{"importers/...", "pipeline/record", "pipeline/quantity"}, nil,
		"the explicit list of importers: a format is there because it is written there"},

	"store": {facts, nil, "it keeps facts, and results by name; a new number or format needs no change here"},

	"cmd/saltpan/page":    {[]string{"pipeline/...", "pipeline"}, nil, "it shows results; it reads no file and no store by itself"},
	"cmd/saltpan/season":  {[]string{"pipeline/simulate", "pipeline/record", "pipeline/quantity"}, []string{"importers/..."}, "it writes what a watch and a scale would"},
	"cmd/saltpan/package": {[]string{"pipeline/release", "pipeline/record", "pipeline/quantity"}, nil, "it writes what the release stage let through"},
	"cmd/saltpan": {[]string{"pipeline/...", "pipeline", "importers/...", "importers", "store", "cmd/saltpan/..."}, nil,
		"it puts everything together, and nobody imports it"},
}

// module is what the module's packages are imported by.
const module = "saltpan/"

func allowed(patterns []string, pkg string) bool {
	return slices.ContainsFunc(patterns, func(p string) bool {
		below, wild := strings.CutSuffix(p, "...")
		return p == pkg || wild && strings.HasPrefix(pkg, below)
	})
}

// TestImports holds every package to its rule.
func TestImports(t *testing.T) {
	for _, f := range sources(t) {
		r, known := rules[f.pkg]
		if !known {
			t.Errorf("%s: package %s has no rule in policy_imports_test.go", f.path, f.pkg)
			continue
		}
		for _, path := range f.imports() {
			pkg, ours := strings.CutPrefix(path, module)
			own := f.test && pkg == f.pkg // an external test of the package itself
			if ours && !own && !allowed(r.allow, pkg) && !(f.test && allowed(r.tests, pkg)) {
				t.Errorf("%s imports %s: %s", f.path, pkg, r.why)
			}
		}
	}
}

// home says which packages may import a module of others.
type home struct {
	pkgs  []string
	tests []string // in _test.go files besides
	why   string
}

// homes has every module that go.mod requires directly. One home each keeps
// what others can change in one place.
var homes = map[string]home{
	"github.com/spf13/cobra":          {[]string{"cmd/saltpan"}, nil, "commands and help"},
	"golang.org/x/term":               {[]string{"cmd/saltpan"}, nil, "is a person at the keyboard"},
	"github.com/fsnotify/fsnotify":    {[]string{"cmd/saltpan"}, nil, "ingest --follow"},
	"github.com/muktihari/fit":        {[]string{"importers/fit", "cmd/saltpan/season"}, []string{"cmd/saltpan"}, "the decoder; the encoder writes the demo; the benchmark frames with it"},
	"github.com/tormoder/fit":         {[]string{"importers/fit"}, nil, "the second reader of FIT"},
	"github.com/tkrajina/gpxgo":       {[]string{"importers/gpx"}, nil, "the second reader of GPX"},
	"golang.org/x/text":               {[]string{"importers/importer/trackxml", "importers/importer/table"}, []string{"importers/..."}, "files in other encodings than UTF-8"},
	"gonum.org/v1/gonum":              {[]string{"pipeline/learn"}, nil, "regression"},
	"modernc.org/sqlite":              {[]string{"store"}, nil, "the data base driver, without cgo"},
	"github.com/rogpeppe/go-internal": {nil, []string{"cmd/saltpan"}, "testscript runs the commands"},
	"pgregory.net/rapid":              {nil, []string{"pipeline", "pipeline/...", "importers/...", "store", "cmd/..."}, "properties"},
}

// TestModules keeps each module of others in its home.
func TestModules(t *testing.T) {
	for _, f := range sources(t) {
		for _, path := range f.imports() {
			first, _, _ := strings.Cut(path, "/")
			if !strings.Contains(first, ".") { // standard library, or ours
				continue
			}
			name := moduleOf(path)
			h, known := homes[name]
			if !known || !allowed(h.pkgs, f.pkg) && !(f.test && allowed(h.tests, f.pkg)) {
				t.Errorf("%s imports %s: its home is %v, in tests also %v (%s)", f.path, path, h.pkgs, h.tests, h.why)
			}
		}
	}
}

func moduleOf(path string) string {
	for name := range homes {
		if path == name || strings.HasPrefix(path, name+"/") {
			return name
		}
	}
	return ""
}

// TestModulesListed: what go.mod requires has a home, even before it is used.
func TestModulesListed(t *testing.T) {
	required := regexp.MustCompile(`(?m)^(?:require )?\s*(\S+\.\S+/\S+) v\S+$`)
	for _, m := range required.FindAllStringSubmatch(read(t, "go.mod"), -1) {
		if _, ok := homes[m[1]]; !ok {
			t.Errorf("go.mod requires %s, which has no home in policy_imports_test.go", m[1])
		}
	}
}

// outside are the packages through which a program meets the world. A name
// stands for the packages below it too.
var outside = []string{"os", "net", "database/sql", "log", "io/fs", "io/ioutil", "path/filepath", "syscall", "runtime",
	"plugin", "math/rand", "crypto/rand"}

// seeded may draw random numbers, from a seed passed in.
var seeded = []string{"pipeline/measure", "pipeline/simulate"}

// TestPipelineImports keeps files, network, clock, log and chance out of the
// pipeline: the same facts give the same results anywhere, at any time.
func TestPipelineImports(t *testing.T) {
	for _, f := range pure(t) {
		for _, path := range f.imports() {
			if strings.HasPrefix(path, "math/rand") && slices.Contains(seeded, f.pkg) {
				continue
			}
			if meets(path) {
				t.Errorf("%s imports %s: the pipeline takes values and gives values", f.path, path)
			}
		}
	}
}

func meets(path string) bool {
	return slices.ContainsFunc(outside, func(o string) bool { return path == o || strings.HasPrefix(path, o+"/") })
}

// pure are the files that may not meet the world: the pipeline, tests left out.
func pure(t *testing.T) []goFile {
	t.Helper()
	return slices.DeleteFunc(sources(t), func(f goFile) bool {
		return f.test || f.pkg != "pipeline" && !strings.HasPrefix(f.pkg, "pipeline/")
	})
}

// clock are the names of package time that depend on when or where they run.
var clock = []string{"Now", "Since", "Until", "Local", "Sleep", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer"}

// TestPipelineCalls looks for the clock, the zone of the machine, chance
// without a seed, and goroutines.
func TestPipelineCalls(t *testing.T) {
	for _, f := range pure(t) {
		ast.Inspect(f.syntax, func(n ast.Node) bool {
			if what := impure(n); what != "" {
				t.Errorf("%s: %s: pass it in as an argument", f.at(n), what)
			}
			return true
		})
	}
}

// impure names what a node takes from outside, empty if nothing.
func impure(n ast.Node) string {
	switch n := n.(type) {
	case *ast.GoStmt:
		return "a go statement"
	case *ast.SelectorExpr:
		if x, ok := n.X.(*ast.Ident); ok && x.Name == "time" && slices.Contains(clock, n.Sel.Name) {
			return "time." + n.Sel.Name
		}
	case *ast.CallExpr:
		sel, ok := n.Fun.(*ast.SelectorExpr)
		if !ok {
			return ""
		}
		x, _ := sel.X.(*ast.Ident)
		switch {
		case sel.Sel.Name == "Local" && len(n.Args) == 0:
			return "the zone of the machine"
		case x != nil && x.Name == "rand" && !strings.HasPrefix(sel.Sel.Name, "New"):
			return "a random number without a seed"
		}
	}
	return ""
}

// TestImportersReadNoFiles: bytes come through Source, so that a member of an
// archive is read like a file, and a test needs neither.
func TestImportersReadNoFiles(t *testing.T) {
	for _, f := range sources(t) {
		if f.test || !strings.HasPrefix(f.pkg, "importers") || f.pkg == "importers/importer/importertest" {
			continue
		}
		for _, path := range f.imports() {
			if meets(path) && path != "runtime" {
				t.Errorf("%s imports %s: an importer gets its bytes from a Source", f.path, path)
			}
		}
	}
}

// TestOnePlaceForTheWorld: main.go alone takes the streams and the clock from
// the system and ends the program, so that a test can put others in their place.
func TestOnePlaceForTheWorld(t *testing.T) {
	world := []string{"os.Stdin", "os.Stdout", "os.Stderr", "os.Exit", "time.Now", "time.Since", "time.Until", "fmt.Print", "fmt.Println", "fmt.Printf"}
	for _, f := range sources(t) {
		if f.test || f.path == "cmd/saltpan/main.go" || f.pkg == "importers/importer/importertest" {
			continue
		}
		ast.Inspect(f.syntax, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if x, ok := sel.X.(*ast.Ident); ok && slices.Contains(world, x.Name+"."+sel.Sel.Name) {
				t.Errorf("%s: %s.%s: take it from the env", f.at(n), x.Name, sel.Sel.Name)
			}
			return true
		})
	}
}
