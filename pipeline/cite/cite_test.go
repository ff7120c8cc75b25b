package cite_test

import (
	"sort"
	"testing"

	"saltpan/pipeline/cite"
)

func TestRefsAreWholeAndOnce(t *testing.T) {
	refs := cite.Refs()
	if !sort.SliceIsSorted(refs, func(i, j int) bool { return refs[i].Key < refs[j].Key }) {
		t.Error("references are not in the order of their keys")
	}
	seen, doi := map[string]bool{}, map[string]bool{}
	for _, r := range refs {
		if r.Key == "" || r.Text == "" || seen[r.Key] || r.DOI != "" && doi[r.DOI] {
			t.Errorf("reference %+v is empty or there twice", r)
		}
		if r.Kind != cite.Source && r.Kind != cite.CommonPractice && r.Kind != cite.Memory {
			t.Errorf("%s has kind %q", r.Key, r.Kind)
		}
		seen[r.Key], doi[r.DOI] = true, true
		if cite.Get(r.Key) != r {
			t.Errorf("Get(%q) gives another reference", r.Key)
		}
	}
}

func TestParameterNeedsASource(t *testing.T) {
	refuses := func(name string, make func()) {
		defer func() {
			if recover() == nil {
				t.Errorf("%s: taken", name)
			}
		}()
		make()
	}
	refuses("no reference", func() { cite.New(cite.Param{Name: "a", Unit: "kg"}) })
	refuses("no unit", func() { cite.New(cite.Param{Name: "a", Ref: cite.Get("rogers1997")}) })
	refuses("no name", func() { cite.New(cite.Param{Unit: "kg", Ref: cite.Get("rogers1997")}) })
	refuses("unknown key", func() { cite.Get("nobody1900") })
}

func TestParameterKeepsItsCause(t *testing.T) {
	p := cite.New(cite.Param{Name: "a", Value: 2, U: 0.5, Unit: "g", Lo: 1, Hi: 3, Ref: cite.Get("memory")})
	e := p.Estimate()
	if e.Value != 2 || e.U() != 0.5 || len(e.Budget) != 1 || e.Budget[0].Cause != "param:a" {
		t.Errorf("got %+v", e)
	}
	if !p.Within(1) || !p.Within(3) || p.Within(3.1) || p.Within(0.9) {
		t.Error("range is not kept")
	}
}
