package pipeline

import (
	"fmt"
	"time"

	"saltpan/pipeline/flags"
	"saltpan/pipeline/heat"
	"saltpan/pipeline/match"
	"saltpan/pipeline/record"
	"saltpan/pipeline/session"
)

const highestRate = flags.HighestRate

// raise collects the flags of a session in a fixed order: what is missing,
// what is alarming, what is worth knowing.
func raise(s Session, from session.Session, m match.Match, scales map[string]match.ScaleNote) []flags.Flag {
	out := missing(s, m)
	if s.Balance != nil {
		out = append(out, flags.Mass(s.Balance.MassChangePct)...)
		out = append(out, alarming(s)...)
	}
	if s.Elapsed <= 0 {
		out = append(out, flags.Raise("no-duration"))
	}
	out = append(out, flags.Pause(s.Elapsed, s.Moving)...)
	if s.Elapsed < flags.ShortSession && s.Balance != nil {
		out = append(out, flags.Raise("short-session"))
	}
	out = append(out, ofMatch(s, m, scales)...)
	out = append(out, ofConditions(s)...)
	for _, p := range from.Parts {
		out = append(out, flags.Activity(p.Best)...)
	}
	return out
}

func missing(s Session, m match.Match) []flags.Flag {
	var out []flags.Flag
	if m.Before.Asked != "" || m.After.Asked != "" {
		out = append(out, flags.Raise("question"))
	}
	if s.Before == nil && m.Before.Asked == "" {
		out = append(out, flags.Raise("no-before"))
	}
	if s.After == nil && m.After.Asked == "" {
		out = append(out, flags.Raise("no-after"))
	}
	return append(out, missingNote(s)...)
}

func missingNote(s Session) []flags.Flag {
	carrying := s.Weighing == record.Carrying
	switch {
	case s.Balance == nil:
		return nil
	case s.Balance.NeedsNote:
		return []flags.Flag{flags.Raise("no-note")}
	case carrying && (s.Note == nil || s.Note.ClothesOff == nil):
		return []flags.Flag{flags.Raise("clothes")}
	case !carrying && s.Note != nil && s.Note.Urine == nil && s.Note.Toilet == "":
		return []flags.Flag{flags.Raise("no-toilet")}
	}
	return nil
}

func alarming(s Session) []flags.Flag {
	var out []flags.Flag
	if !s.Balance.AtLeast && s.Elapsed > 0 {
		out = append(out, flags.Rate(float64(s.Balance.Rate.Value))...)
	}
	if s.Note != nil && s.Note.Poured != nil && *s.Note.Poured > 0 {
		out = append(out, flags.Raise("poured"))
	}
	return out
}

func ofMatch(s Session, m match.Match, scales map[string]match.ScaleNote) []flags.Flag {
	var out []flags.Flag
	for _, code := range m.Flags {
		out = append(out, flags.Raise(code, detail(code, s)...))
	}
	for _, w := range []*WeighIn{s.Before, s.After} {
		if w == nil {
			continue
		}
		if note, ok := scales[w.Scale]; ok && note.Text != "" && note.Shift != 0 {
			return append(out, flags.Raise("clock-corrected", fmt.Sprintf("%v was added", note.Shift)))
		}
	}
	return out
}

// detail fills in what a flag of the matcher needs to be understood.
func detail(code string, s Session) []any {
	switch code {
	case "long-gap":
		return []any{gaps(s)}
	case "several-candidates":
		return []any{why(s)}
	}
	return nil
}

func gaps(s Session) string {
	text := ""
	if s.Before != nil {
		text = minutes(s.Start.Sub(s.Before.At)) + " before"
	}
	if s.After != nil {
		if text != "" {
			text += ", "
		}
		text += minutes(s.After.At.Sub(s.Start.Add(s.Elapsed))) + " after"
	}
	return text
}

func minutes(d time.Duration) string {
	return fmt.Sprintf("%d min", int(d.Round(time.Minute).Minutes()))
}

func why(s Session) string {
	if s.AfterWhy != "" && s.After != nil {
		return s.AfterWhy
	}
	return s.BeforeWhy
}

func ofConditions(s Session) []flags.Flag {
	var out []flags.Flag
	switch {
	case s.Air == nil && s.Indoor:
		out = append(out, flags.Raise("no-room"))
	case s.Air != nil && s.Air.Temp.From == heat.FromWatch:
		out = append(out, flags.Raise("wrist-heat"))
	}
	if s.Effort != nil && s.Effort.Disagree {
		out = append(out, flags.Raise("effort-disagrees", fmt.Sprintf("%.0f W and %.0f W", s.Effort.Rate.Value, s.Effort.Second.Value)))
	}
	return out
}
