package main

import (
	"go/ast"
	"go/token"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"saltpan/importers/importer"
)

// TestPackageComments: a package says what it is for in one file.
func TestPackageComments(t *testing.T) {
	comments := map[string]int{}
	for _, f := range sources(t) {
		if f.test || f.syntax.Doc == nil {
			continue
		}
		comments[f.pkg]++
		want := "Package " + f.syntax.Name.Name + " "
		if f.syntax.Name.Name == "main" {
			want = "Command " + path.Base(f.pkg) + " "
		}
		if got := f.syntax.Doc.Text(); !strings.HasPrefix(got, want) {
			t.Errorf("%s: package comment begins %.30q, want %q", f.path, got, want)
		}
	}
	for _, pkg := range packages(t) {
		if comments[pkg] != 1 {
			t.Errorf("%s has %d package comments, want 1", pkg, comments[pkg])
		}
	}
}

// TestExportedNames: every exported name says what it is; linters look at the
// form of a comment but not at a missing one.
func TestExportedNames(t *testing.T) {
	for _, f := range sources(t) {
		if f.test {
			continue
		}
		for _, decl := range f.syntax.Decls {
			for _, n := range undocumented(decl) {
				t.Errorf("%s: %s has no doc comment that begins with its name", f.at(n), n.Name)
			}
		}
	}
}

// undocumented gives the exported names of a declaration that lack a comment.
func undocumented(decl ast.Decl) []*ast.Ident {
	switch d := decl.(type) {
	case *ast.FuncDecl:
		if d.Name.IsExported() && exportedReceiver(d) && !begins(d.Doc, d.Name.Name) {
			return []*ast.Ident{d.Name}
		}
	case *ast.GenDecl:
		var out []*ast.Ident
		for _, spec := range d.Specs {
			out = append(out, undocumentedSpec(d, spec)...)
		}
		return out
	}
	return nil
}

func undocumentedSpec(d *ast.GenDecl, spec ast.Spec) []*ast.Ident {
	switch s := spec.(type) {
	case *ast.TypeSpec:
		if s.Name.IsExported() && !begins(s.Doc, s.Name.Name) && !(!d.Lparen.IsValid() && begins(d.Doc, s.Name.Name)) {
			return []*ast.Ident{s.Name}
		}
	case *ast.ValueSpec:
		// Constants and variables of a group may share one sentence.
		if s.Doc != nil || s.Comment != nil || d.Doc != nil {
			return nil
		}
		return slices.DeleteFunc(slices.Clone(s.Names), func(n *ast.Ident) bool { return !n.IsExported() })
	}
	return nil
}

// begins reports whether a comment begins with a name, after an article at most.
func begins(doc *ast.CommentGroup, name string) bool {
	text := doc.Text()
	for _, article := range []string{"A ", "An ", "The "} {
		text = strings.TrimPrefix(text, article)
	}
	rest, ok := strings.CutPrefix(text, name)
	return ok && !token.IsIdentifier(rest[:min(1, len(rest))])
}

// exportedReceiver is true for functions, and for methods of exported types.
func exportedReceiver(d *ast.FuncDecl) bool {
	if d.Recv == nil {
		return true
	}
	typ := d.Recv.List[0].Type
	for {
		switch x := typ.(type) {
		case *ast.StarExpr:
			typ = x.X
		case *ast.IndexExpr:
			typ = x.X
		case *ast.IndexListExpr:
			typ = x.X
		case *ast.Ident:
			return x.IsExported()
		default:
			return false
		}
	}
}

// stages are the packages that do a step of the pipeline.
func stages(t *testing.T) []string {
	t.Helper()
	return slices.DeleteFunc(packages(t), func(pkg string) bool {
		return !strings.HasPrefix(pkg, "pipeline/") || slices.Contains(facts, pkg)
	})
}

// TestStageTable: pipeline/doc.go has a row "stage | package | equation |
// source" for every stage, and no row for what is not there.
func TestStageTable(t *testing.T) {
	rows := map[string]bool{}
	for _, line := range strings.Split(read(t, "pipeline/doc.go"), "\n") {
		cells := strings.Split(strings.TrimPrefix(line, "//"), "|")
		if len(cells) == 1 {
			continue
		}
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		if len(cells) != 4 || slices.Contains(cells, "") {
			t.Errorf("pipeline/doc.go: %q: want stage | package | equation | source, none of them empty", strings.TrimSpace(line))
			continue
		}
		rows["pipeline/"+cells[1]] = true
	}
	delete(rows, "pipeline/package") // the head of the table
	for _, pkg := range stages(t) {
		if !rows[pkg] {
			t.Errorf("pipeline/doc.go has no row for %s", pkg)
		}
		delete(rows, pkg)
	}
	for pkg := range rows {
		t.Errorf("pipeline/doc.go has a row for %s, which does not exist", pkg)
	}
}

// TestDevelopersTree: DEVELOPERS.md has a line for every package and no line
// for one that is gone.
func TestDevelopersTree(t *testing.T) {
	line := regexp.MustCompile(`(?m)^((?:cmd|importers|pipeline|store)[a-z/]*)/? {2,}\S`)
	listed := map[string]bool{}
	for _, m := range line.FindAllStringSubmatch(read(t, "DEVELOPERS.md"), -1) {
		listed[strings.TrimSuffix(m[1], "/")] = true
	}
	for _, pkg := range packages(t) {
		if !listed[pkg] {
			t.Errorf("DEVELOPERS.md has no line for %s", pkg)
		}
		delete(listed, pkg)
	}
	for pkg := range listed {
		t.Errorf("DEVELOPERS.md lists %s, which does not exist", pkg)
	}
}

// TestProblemScripts: every reason for which an input can be passed over is
// shown by a script, so that its words are read before they are released.
func TestProblemScripts(t *testing.T) {
	files := tree(t)
	for _, code := range importer.Codes() {
		name := "testdata/script/err_" + strings.ReplaceAll(string(code), "-", "_") + ".txtar"
		if !slices.Contains(files, name) {
			t.Errorf("%s is missing: a script that shows %q", name, code)
		}
	}
}

// TestReadmeSetUp: two commands set everything up, each alone on its line, and
// there is nothing else to type first.
func TestReadmeSetUp(t *testing.T) {
	setUp := regexp.MustCompile(`^[ \t$]*(go|git|cd|make|sudo|apt|apt-get|curl|export|docker) `)
	var got []string
	for _, line := range strings.Split(read(t, "README.md"), "\n") {
		if setUp.MatchString(line) {
			got = append(got, line)
		}
	}
	want := []string{"go run ./cmd/saltpan demo", "go test ./..."}
	if !slices.Equal(got, want) {
		t.Errorf("README.md sets up with %q, want %q", got, want)
	}
}

// TestReadmeCommands: the table of commands in README.md has every command of
// the program and no other.
func TestReadmeCommands(t *testing.T) {
	_, section, found := strings.Cut(read(t, "README.md"), "\n## Commands\n")
	if !found {
		t.Fatal(`README.md has no section "## Commands"`)
	}
	section, _, _ = strings.Cut(section, "\n## ")
	documented := map[string]bool{}
	name := regexp.MustCompile("`([a-z ]+)`")
	for _, row := range regexp.MustCompile(`(?m)^\| *(.*?) *\|`).FindAllStringSubmatch(section, -1) {
		for _, m := range name.FindAllStringSubmatch(row[1], -1) {
			documented[m[1]] = true
		}
	}
	all := commands()
	for _, c := range all {
		group := slices.ContainsFunc(all, func(o string) bool { return strings.HasPrefix(o, c+" ") })
		if !documented[c] && !group {
			t.Errorf("README.md: the table of commands lacks %q", c)
		}
		delete(documented, c)
	}
	for c := range documented {
		t.Errorf("README.md: the table of commands has %q, which the program has not", c)
	}
}

// commands are the names of all commands, subcommands as "athlete add".
func commands() []string {
	var names []string
	for _, c := range list(&env{}) {
		names = append(names, c.Name())
		for _, sub := range c.Commands() {
			names = append(names, c.Name()+" "+sub.Name())
		}
	}
	return names
}
