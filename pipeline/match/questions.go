package match

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sort"
	"strings"
)

// questionID names a question by what it asks about, so that the same doubt
// keeps its name.
func questionID(session string, side Slot, list []reading) string {
	ids := make([]string, 0, len(list))
	for _, r := range list {
		ids = append(ids, r.in.ID)
	}
	sort.Strings(ids)
	return hashed(append([]string{session, string(side)}, ids...)...)
}

func hashed(parts ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(parts, "\n")))
	return "q" + hex.EncodeToString(sum[:4])
}

// questions are those that the matches leave open, by session.
func questions(all []*candidates, found map[string]Match) []Question {
	var out []Question
	for _, c := range all {
		m := found[c.bout.Session]
		for _, f := range []Fill{m.Before, m.After} {
			if f.Asked != "" {
				out = append(out, c.question(f))
			}
		}
	}
	return out
}

func (c *candidates) question(f Fill) Question {
	q := Question{ID: f.Asked, Athlete: c.bout.Athlete, Session: c.bout.Session, Slot: f.Slot}
	probable := map[string]float64{}
	for i, r := range c.before {
		probable[r.in.ID+string(Before)] += c.post.before[i]
	}
	for i, r := range c.after {
		probable[r.in.ID+string(After)] += c.post.after[i]
	}
	seen := map[string]bool{}
	for _, r := range c.choices[f.Slot] {
		if !seen[r.in.ID] {
			q.Choices = append(q.Choices, Candidate{ID: letter(len(q.Choices)), WeighIn: r.in, At: r.at, Posterior: probable[r.in.ID+string(f.Slot)]})
		}
		seen[r.in.ID] = true
	}
	q.Text = fmt.Sprintf("which of these is the weigh-in %s the session", f.Slot)
	if len(q.Choices) == 1 {
		q.Text = fmt.Sprintf("is this the weigh-in %s the session", f.Slot)
	}
	return q
}

// letter is a, b … z, then aa, ab …
func letter(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return letter(i/26-1) + letter(i%26)
}
