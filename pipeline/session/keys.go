package session

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"saltpan/pipeline/record"
)

// giveKeys sets the keys of sessions and returns those given now.
func giveKeys(sessions []Session, in Input) []record.SessionKey {
	given, taken := map[string][]string{}, map[string]bool{}
	for _, k := range in.Keys {
		given[k.Activity] = append(given[k.Activity], k.Key)
		taken[k.Key] = true
	}
	var fresh []record.SessionKey
	used := map[string]bool{}
	for i := range sessions {
		s := &sessions[i]
		s.takeKeys(given, used)
		if s.Key == "" {
			s.Key = newKey(*s, in.Athletes, taken)
			taken[s.Key] = true
			fresh = append(fresh, record.SessionKey{Key: s.Key, Activity: s.Parts[0].Best.ID})
		}
		used[s.Key] = true
	}
	return fresh
}

// takeKeys takes the oldest key of the session's activities, those of its
// first part before those of others; the rest become aliases.
func (s *Session) takeKeys(given map[string][]string, used map[string]bool) {
	for _, id := range s.Activities() {
		for _, k := range given[id] {
			if s.Key == "" && !used[k] && ofAthlete(k, s.Athlete) {
				s.Key = k
			} else if k != s.Key && !slices.Contains(s.Aliases, k) {
				s.Aliases = append(s.Aliases, k)
			}
		}
	}
	slices.Sort(s.Aliases)
}

// ofAthlete reports whether a key was made for an athlete: after a move a
// session gets a key of its new athlete and the old one becomes an alias.
func ofAthlete(key, athlete string) bool { return strings.HasPrefix(key, athlete+"-") }

// newKey is athlete, local date and minute; a second session of the same
// minute gets "-2".
func newKey(s Session, athletes []record.Athlete, taken map[string]bool) string {
	base := s.Athlete + "-" + Local(s, athletes).Format("2006-01-02-1504")
	key := base
	for n := 2; taken[key]; n++ {
		key = fmt.Sprintf("%s-%d", base, n)
	}
	return key
}

// Local is the start of a session on the clock its athlete lives by: the zone
// of that date (trips), else the offset the file states, else UTC.
func Local(s Session, athletes []record.Athlete) time.Time {
	if loc := Zone(s, athletes); loc != nil {
		return s.Start.In(loc)
	}
	return s.Start.UTC()
}

// Zone is the location Local uses, nil if nothing says one.
func Zone(s Session, athletes []record.Athlete) *time.Location {
	for _, a := range athletes {
		if a.Key != s.Athlete {
			continue
		}
		name := a.ZoneOn(s.Start.Format("2006-01-02"))
		if loc, err := time.LoadLocation(name); err == nil && name != "" {
			return loc
		}
	}
	if s.UTCOffset != nil {
		return time.FixedZone(offsetName(*s.UTCOffset), int(s.UTCOffset.Seconds()))
	}
	return nil
}

func offsetName(d time.Duration) string {
	sign := '+'
	if d < 0 {
		sign, d = '-', -d
	}
	return fmt.Sprintf("UTC%c%02d:%02d", sign, int(d.Hours()), int(d.Minutes())%60)
}
