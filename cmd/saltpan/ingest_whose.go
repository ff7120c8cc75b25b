package main

import (
	"context"
	"fmt"
	"path"
	"regexp"
	"sort"
	"strings"

	"saltpan/pipeline/record"
	"saltpan/store"
)

// whose is the athlete a file belongs to, empty if nobody says so.
func (g *ingest) whose(in input) string {
	switch {
	case g.o.athlete != "":
		return g.o.athlete
	case g.o.byFolder:
		return keyOf(in.folder)
	case g.rules != nil:
		return g.ruled(in.label)
	}
	for arg, who := range g.owner {
		if strings.HasPrefix(in.file, arg) {
			return who
		}
	}
	if len(g.athletes) == 1 {
		for k := range g.athletes {
			return k
		}
	}
	return ""
}

// whoseKind is whose, except for files that are nobody's.
func (g *ingest) whoseKind(in input, kind string) string {
	if kind == "notes" || kind == "weather" {
		return "" // each row names its session; the air is everybody's
	}
	return g.whose(in)
}

func (g *ingest) ruled(label string) string {
	for _, r := range g.rules {
		if ok, _ := path.Match(r[0], label); ok {
			return r[1]
		}
		if ok, _ := path.Match(r[0], path.Base(label)); ok {
			return r[1]
		}
	}
	return ""
}

// where is the paths to read: those given, or the athletes' inbox folders.
func (g *ingest) where(args []string) ([]string, error) {
	if len(args) > 0 {
		return args, nil
	}
	g.owner = map[string]string{}
	for _, a := range g.athletes {
		if a.Inbox != "" && (g.o.athlete == "" || g.o.athlete == a.Key) {
			g.owner[a.Inbox] = a.Key
			args = append(args, a.Inbox)
		}
	}
	if len(args) == 0 {
		return nil, withHint(usagef("nothing to read: no path given and no athlete has an inbox folder"),
			"`saltpan ingest PATH`, or `saltpan athlete set KEY --inbox DIR`")
	}
	sort.Strings(args)
	return args, nil
}

// warnZone says before anything is named that sessions get names in UTC.
func (g *ingest) warnZone() {
	if g.o.byFolder && g.o.zone == "" && len(g.athletes) == 0 {
		g.e.voice.say("no time zone is known: sessions without one of their own will be named in UTC, for good")
		g.e.voice.hint("interrupt, and read them with --zone Europe/Lisbon")
	}
	for _, a := range g.athletes {
		if a.Zone == "" && (g.o.athlete == "" || g.o.athlete == a.Key) {
			g.e.voice.say("%s has no time zone: sessions without one of their own will be named in UTC, for good", a.Key)
			g.e.voice.hint("set it first: `saltpan athlete set %s --zone Europe/Lisbon`", a.Key)
		}
	}
}

// keyPattern is what a key looks like: it stands in session keys and file names.
var keyPattern = regexp.MustCompile(`^[a-z0-9][a-z0-9_]*$`)

// keyOf makes a key of a folder's name.
func keyOf(name string) string {
	return strings.Trim(regexp.MustCompile(`[^a-z0-9]+`).ReplaceAllString(strings.ToLower(name), "_"), "_")
}

func (g *ingest) newAthlete(ctx context.Context, key string) error {
	if !keyPattern.MatchString(key) {
		return usagef("athlete %q: want a short word of small letters, digits and _", key)
	}
	a := record.Athlete{Key: key, Zone: g.o.zone}
	err := g.st.Change(ctx, g.at, "ingest", fmt.Sprintf("new athlete %s", key), func(tx *store.Tx) error { return tx.PutAthlete(a) })
	if err == nil {
		g.mu.Lock()
		g.athletes[key] = a
		g.mu.Unlock()
	}
	return err
}

// users are the athletes of a scale; everybody if it is shared.
func (g *ingest) users(s record.Scale) []record.Athlete {
	var out []record.Athlete
	if len(s.Athletes) == 0 {
		for _, a := range g.athletes {
			out = append(out, a)
		}
	}
	for _, k := range s.Athletes {
		out = append(out, g.athletes[k])
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Key < out[j].Key })
	return out
}
