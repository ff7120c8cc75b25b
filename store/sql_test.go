package store

import (
	"context"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// statements are the SQL constants of the package's source, by name.
func statements(t *testing.T) map[string]string {
	t.Helper()
	noTests := func(f fs.FileInfo) bool { return !strings.HasSuffix(f.Name(), "_test.go") }
	//lint:ignore SA1019 one folder without build tags is all that is parsed here
	packages, err := parser.ParseDir(token.NewFileSet(), ".", noTests, 0)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	verb := regexp.MustCompile(`^(SELECT|INSERT|WITH|VACUUM|UPDATE|DELETE)\b`)
	ast.Inspect(packages["store"], func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			return true
		}
		if lit, ok := spec.Values[0].(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if text, err := strconv.Unquote(lit.Value); err == nil && verb.MatchString(text) {
				out[spec.Names[0].Name] = text
			}
		}
		return true
	})
	return out
}

func TestEveryStatementPrepares(t *testing.T) {
	s := fresh(t)
	all := statements(t)
	if len(all) < 30 {
		t.Fatalf("found %d statements in the source, expected all of them", len(all))
	}
	for name, text := range all {
		stmt, err := s.db.PrepareContext(context.Background(), text)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		stmt.Close()
	}
}
