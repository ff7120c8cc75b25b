package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"time"

	"saltpan/pipeline"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// table writes aligned columns; the first row is the header.
func table(w io.Writer, rows [][]string) error {
	var b strings.Builder
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(t, strings.Join(r, "\t")+"\t")
	}
	t.Flush()
	for line := range strings.Lines(b.String()) {
		if _, err := fmt.Fprintln(w, strings.TrimRight(line, " \n")); err != nil {
			return err
		}
	}
	return nil
}

// sessionTable shows sessions, each in its own zone. One unit system serves
// the whole table: the option's, or the one all its athletes share.
func (e *env) sessionTable(list []pipeline.Session, athletes map[string]record.Athlete) error {
	u := e.tableUnits(list, athletes)
	rows := [][]string{{"session", "time", "distance " + u.DistanceUnit(), "change %", "loss " + u.VolumeUnit(), u.RateUnit(), "sodium mg", "needs"}}
	for _, s := range list {
		rows = append(rows, sessionRow(s, u))
	}
	return table(e.out, rows)
}

func (e *env) tableUnits(list []pipeline.Session, athletes map[string]record.Athlete) quantity.Units {
	if e.units != "" {
		return quantity.Units(e.units)
	}
	for _, s := range list {
		if athletes[s.Athlete].Units != record.US {
			return quantity.Metric
		}
	}
	if len(list) == 0 {
		return quantity.Metric
	}
	return quantity.US
}

func sessionRow(s pipeline.Session, u quantity.Units) []string {
	row := []string{s.Key, hms(s.Elapsed), "", "", "", "", "", needOf(s)}
	if s.Distance != nil {
		row[2] = fmt.Sprintf("%.1f", u.Distance(*s.Distance))
	}
	if b := s.Balance; b != nil && s.Status != pipeline.Unusable {
		row[3] = fmt.Sprintf("%+.1f", b.MassChangePct)
		row[4], row[5] = lossText(s, u)
		row[6] = sodiumText(s)
	}
	return row
}

// lossText is the loss and its rate with their intervals, or the least they can be.
func lossText(s pipeline.Session, u quantity.Units) (loss, rate string) {
	b := s.Balance
	if b.AtLeast {
		return least(u.Volume(b.Sweat.Lo), u), least(u.Rate(b.Rate.Lo), u)
	}
	return quantity.FormatVolumeInterval(b.Sweat.Value, b.Sweat.Lo, b.Sweat.Hi, u),
		quantity.FormatRateInterval(b.Rate.Value, b.Rate.Lo, b.Rate.Hi, u)
}

func least(v float64, u quantity.Units) string {
	if u == quantity.US {
		return quantity.FormatAtLeast(v, 0)
	}
	return quantity.FormatAtLeast(v, 2)
}

func sodiumText(s pipeline.Session) string {
	l := s.SodiumLoss
	if l == nil {
		return ""
	}
	if l.AtLeast {
		return quantity.FormatAtLeast(float64(l.Lo), 0)
	}
	return quantity.FormatInterval(float64(l.Value), float64(l.Lo), float64(l.Hi), 0)
}

// needOf says in a word what a session still needs.
func needOf(s pipeline.Session) string {
	switch s.Status {
	case pipeline.NeedsNote:
		return "note"
	case pipeline.NeedsAnswer:
		return "answer"
	case pipeline.Unusable:
		return "nothing: unusable"
	case pipeline.NeedsWeighIn:
		switch {
		case s.Before == nil && s.After == nil:
			return "weigh-ins"
		case s.Before == nil:
			return "weigh-in before"
		}
		return "weigh-in after"
	}
	return ""
}

// hms is a duration as on a watch, "1:12:00".
func hms(d time.Duration) string {
	s := int(d.Round(time.Second).Seconds())
	return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
}

// localTime is a moment on the clock of a session's zone.
func localTime(t time.Time, zone string) string {
	return t.In(location(zone)).Format("Mon 2 Jan 2006 15:04")
}

func location(zone string) *time.Location {
	if loc, err := time.LoadLocation(zone); err == nil {
		return loc
	}
	if off, err := time.Parse("UTC-07:00", zone); err == nil {
		return off.Location()
	}
	return time.UTC
}
