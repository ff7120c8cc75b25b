package match

import (
	"sort"
	"strings"
	"time"

	"saltpan/pipeline/record"
)

// nobody owns rows whose person column names someone who is not an athlete.
const nobody = "\x00nobody"

// reading is a weigh-in at an instant it can mean.
type reading struct {
	in   record.WeighIn
	at   time.Time
	rate float64 // of strangers like it, per hour and kilogram; set for candidates
}

func (r reading) kg() float64 { return r.in.Mass.Kilograms() }

// told reports whether a person typed it in for this athlete.
func (r reading) told() bool { return r.in.Athlete != "" && typed(r.in) }

// typed reports whether a person typed a weigh-in: its time is not by the
// scale's clock.
func typed(w record.WeighIn) bool { return w.Origin.Path == "" }

// household is the input in a fixed order, each thing once.
type household struct {
	athletes    map[string]record.Athlete
	scales      map[string]record.Scale
	bouts       []Bout
	byAthlete   map[string][]Bout
	weighIns    []record.WeighIn
	owner       map[string]string // weigh-in ID → athlete, nobody or ""
	answers     map[slotKey]record.Answer
	scaleAnswer map[string]record.Answer // question ID → answer
	background  map[string]map[[2]int]int
	zones       map[string]*time.Location
}

type slotKey struct {
	session string
	slot    Slot
}

func newHousehold(in Input) *household {
	h := &household{
		athletes: map[string]record.Athlete{}, scales: map[string]record.Scale{}, owner: map[string]string{},
		answers: map[slotKey]record.Answer{}, scaleAnswer: map[string]record.Answer{},
		background: map[string]map[[2]int]int{}, zones: map[string]*time.Location{},
	}
	for _, a := range in.Athletes {
		h.athletes[a.Key] = a
	}
	for _, s := range in.Scales {
		h.scales[s.Key] = s
	}
	for _, b := range in.Backgrounds {
		h.background[b.Scale] = b.Count
	}
	h.bouts = sortedBouts(in.Bouts)
	h.byAthlete = map[string][]Bout{}
	for _, b := range h.bouts {
		h.byAthlete[b.Athlete] = append(h.byAthlete[b.Athlete], b)
	}
	h.weighIns = sortedWeighIns(in.WeighIns)
	h.own()
	h.answer(in.Answers)
	return h
}

func sortedBouts(in []Bout) []Bout {
	out := append([]Bout(nil), in...)
	sort.SliceStable(out, func(i, j int) bool {
		if !out[i].Start.Equal(out[j].Start) {
			return out[i].Start.Before(out[j].Start)
		}
		return out[i].Session < out[j].Session
	})
	kept, seen := out[:0], map[string]bool{}
	for _, b := range out {
		if !seen[b.Session] {
			kept = append(kept, b)
		}
		seen[b.Session] = true
	}
	return kept
}

func sortedWeighIns(in []record.WeighIn) []record.WeighIn {
	out := append([]record.WeighIn(nil), in...)
	sort.SliceStable(out, func(i, j int) bool {
		if !out[i].Wall.Equal(out[j].Wall) {
			return out[i].Wall.Before(out[j].Wall)
		}
		return out[i].ID < out[j].ID
	})
	kept, seen := out[:0], map[string]bool{}
	for _, w := range out {
		if !seen[w.ID] {
			kept = append(kept, w)
		}
		seen[w.ID] = true
	}
	return kept
}

// own settles whose each weigh-in is, where a person or a column says so.
func (h *household) own() {
	names := map[string]string{}
	for _, key := range sortedKeys(h.athletes) {
		names[fold(key)] = key
		if name := h.athletes[key].Name; name != "" {
			names[fold(name)] = key
		}
	}
	named := map[string]bool{}
	for _, w := range h.weighIns {
		if names[fold(w.Person)] != "" {
			named[w.Scale] = true
		}
	}
	for _, w := range h.weighIns {
		switch who := names[fold(w.Person)]; {
		case w.Athlete != "":
			h.owner[w.ID] = w.Athlete
		case who != "":
			h.owner[w.ID] = who
		case w.Person != "" && named[w.Scale]:
			h.owner[w.ID] = nobody
		}
	}
}

func fold(s string) string { return strings.ToLower(strings.TrimSpace(s)) }

// answer keeps the last answer to each slot and to each question.
func (h *household) answer(in []record.Answer) {
	all := append([]record.Answer(nil), in...)
	sort.SliceStable(all, func(i, j int) bool {
		if !all[i].At.Equal(all[j].At) {
			return all[i].At.Before(all[j].At)
		}
		return all[i].Question+"\n"+all[i].Choice+"\n"+all[i].WeighIn < all[j].Question+"\n"+all[j].Choice+"\n"+all[j].WeighIn
	})
	for _, a := range all {
		if a.Session == "" {
			h.scaleAnswer[a.Question] = a
		} else {
			h.answers[slotKey{a.Session, Slot(a.Slot)}] = a
		}
	}
}

// usual is an athlete's usual mass in kilograms, 0 if not known.
func (h *household) usual(athlete string) float64 {
	if m := h.athletes[athlete].UsualMass; m != nil {
		return m.Kilograms()
	}
	return 0
}

// mayBe reports whether a weigh-in can be this athlete's at all.
func (h *household) mayBe(w record.WeighIn, athlete string) bool {
	if owner := h.owner[w.ID]; owner != "" {
		return owner == athlete
	}
	users := h.scales[w.Scale].Athletes
	return len(users) == 0 || contains(users, athlete)
}

// pool has the readings that can be this athlete's, by instant, and the
// weigh-ins that no zone is known for.
func (h *household) pool(athlete string, shifts shifts) (placed []reading, zoneless []record.WeighIn) {
	return h.poolOn("", athlete, shifts)
}

// poolOn is the pool of one scale, of all for "".
func (h *household) poolOn(scale, athlete string, shifts shifts) (placed []reading, zoneless []record.WeighIn) {
	for _, w := range h.weighIns {
		if scale != "" && w.Scale != scale || !h.mayBe(w, athlete) || w.Resolution >= 24*time.Hour {
			continue
		}
		instants, known := h.instants(w, athlete)
		if !known {
			zoneless = append(zoneless, w)
		}
		for _, at := range instants {
			if !typed(w) {
				at = at.Add(shifts.of(w.Scale, at))
			}
			placed = append(placed, reading{in: w, at: at})
		}
	}
	sort.SliceStable(placed, func(i, j int) bool {
		if !placed[i].at.Equal(placed[j].at) {
			return placed[i].at.Before(placed[j].at)
		}
		return placed[i].in.ID < placed[j].in.ID
	})
	return placed, zoneless
}

// instants are the moments a weigh-in can mean: by the offset in its row, else
// in the zone declared for its file, of its scale, of the athlete on that
// date. A shift told for the scale is added. known is false without any zone.
func (h *household) instants(w record.WeighIn, athlete string) (at []time.Time, known bool) {
	scale := h.scales[w.Scale]
	if w.UTCOffset != nil {
		at = []time.Time{w.Wall.Add(-*w.UTCOffset)}
	} else {
		loc := h.zone(w.Zone, scale.Zone, h.athletes[athlete].ZoneOn(w.Wall.Format(time.DateOnly)))
		if loc == nil {
			return nil, false
		}
		at = Instants(w.Wall, loc)
	}
	if scale.Shift != nil && !typed(w) {
		for i := range at {
			at[i] = at[i].Add(*scale.Shift)
		}
	}
	return at, true
}

// zone is the first of the names that is a zone, nil if none is.
func (h *household) zone(names ...string) *time.Location {
	for _, name := range names {
		if name == "" {
			continue
		}
		loc, seen := h.zones[name]
		if !seen {
			loc, _ = time.LoadLocation(name) // nil for a name that is no zone
			h.zones[name] = loc
		}
		if loc != nil {
			return loc
		}
	}
	return nil
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

func contains(list []string, s string) bool {
	for _, l := range list {
		if l == s {
			return true
		}
	}
	return false
}
