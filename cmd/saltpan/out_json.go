package main

import (
	"time"

	"saltpan/pipeline"
	"saltpan/pipeline/flags"
	"saltpan/pipeline/heat"
	"saltpan/pipeline/measure"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// sessionJSON is the contract of `sessions --json`. Absent facts are absent keys.
type sessionJSON struct {
	Session   string        `json:"session"`
	Athlete   string        `json:"athlete"`
	Sport     string        `json:"sport"`
	Start     string        `json:"start"`
	Zone      string        `json:"zone"`
	ElapsedS  float64       `json:"elapsed_s"`
	MovingS   *float64      `json:"moving_s,omitempty"`
	DistanceM *float64      `json:"distance_m,omitempty"`
	AscentM   *float64      `json:"ascent_m,omitempty"`
	MeanHRBpm *float64      `json:"mean_hr_bpm,omitempty"`
	AirTempC  *intervalJSON `json:"air_temp_c,omitempty"`
	Humidity  *float64      `json:"humidity_pct,omitempty"`
	Before    *weighInJSON  `json:"before,omitempty"`
	After     *weighInJSON  `json:"after,omitempty"`
	Weighing  string        `json:"weighing"`
	Note      *noteJSON     `json:"note,omitempty"`

	MassChangeKg  *float64      `json:"mass_change_kg,omitempty"`
	MassChangePct *float64      `json:"mass_change_pct,omitempty"`
	SimpleLossL   *float64      `json:"simple_loss_l,omitempty"`
	SimpleRate    *float64      `json:"simple_rate_l_per_h,omitempty"`
	AtLeast       *bool         `json:"at_least,omitempty"`
	SweatLossL    *intervalJSON `json:"sweat_loss_l,omitempty"`
	LossRate      *intervalJSON `json:"loss_rate_l_per_h,omitempty"`
	Sodium        *intervalJSON `json:"sodium_mg_per_l,omitempty"`
	SodiumLossMg  *intervalJSON `json:"sodium_loss_mg,omitempty"`

	Status  string       `json:"status"`
	Flags   []flags.Flag `json:"flags"`
	Files   []string     `json:"files"`
	Parts   []partJSON   `json:"parts,omitempty"`
	Aliases []string     `json:"aliases,omitempty"`
}

// partJSON is one piece of a session that was stopped and restarted.
type partJSON struct {
	Start    string   `json:"start"`
	ElapsedS float64  `json:"elapsed_s"`
	Files    []string `json:"files"`
}

type weighInJSON struct {
	At        string   `json:"at"`
	MassKg    float64  `json:"mass_kg"`
	From      string   `json:"from"`
	Also      []string `json:"also,omitempty"`
	Posterior float64  `json:"posterior"`
}

// intervalJSON bounds 95 %; with at_least it has lo alone.
type intervalJSON struct {
	Value *float64 `json:"value,omitempty"`
	Lo    *float64 `json:"lo,omitempty"`
	Hi    *float64 `json:"hi,omitempty"`
	From  string   `json:"from,omitempty"`
}

func interval[Q ~float64](e measure.Estimate[Q]) *intervalJSON {
	lo := float64(e.Lo)
	if e.AtLeast {
		return &intervalJSON{Lo: &lo}
	}
	value, hi := float64(e.Value), float64(e.Hi)
	return &intervalJSON{Value: &value, Lo: &lo, Hi: &hi}
}

func toJSON(s pipeline.Session) sessionJSON {
	out := sessionJSON{Session: s.Key, Athlete: s.Athlete, Sport: s.Sport, Start: stamp(s.Start), Zone: s.Zone,
		ElapsedS: s.Elapsed.Seconds(), MovingS: seconds(s.Moving), DistanceM: number(s.Distance), AscentM: number(s.Ascent),
		MeanHRBpm: s.MeanHRBpm, Before: weighIn(s.Before), After: weighIn(s.After), Weighing: string(s.Weighing),
		Note: toNote(s.Note), Status: string(s.Status), Flags: s.Flags, Aliases: s.Aliases, Sodium: sodiumOf(s)}
	if out.Flags == nil {
		out.Flags = []flags.Flag{}
	}
	out.addAir(s)
	out.addBalance(s)
	out.addFiles(s)
	return out
}

func (o *sessionJSON) addAir(s pipeline.Session) {
	if s.Air == nil {
		return
	}
	o.AirTempC = interval(s.Air.Temp.Estimate)
	o.AirTempC.From = s.Air.Temp.From
	if s.Air.Vapour != nil {
		pct := heat.Humidity(s.Air.Temp.Value, s.Air.Vapour.Value)
		o.Humidity = &pct
	}
}

func (o *sessionJSON) addBalance(s pipeline.Session) {
	b := s.Balance
	if b == nil {
		return
	}
	change := float64(s.After.Mass - s.Before.Mass)
	o.MassChangeKg, o.MassChangePct, o.AtLeast = &change, &b.MassChangePct, &b.AtLeast
	if !b.AtLeast {
		loss, rate := float64(b.Simple.Value), float64(b.SimpleRate.Value)
		o.SimpleLossL = &loss
		if s.Elapsed > 0 {
			o.SimpleRate = &rate
		}
	}
	o.SweatLossL = interval(b.Sweat)
	if s.Elapsed > 0 {
		o.LossRate = interval(b.Rate)
	}
	if s.SodiumLoss != nil {
		o.SodiumLossMg = interval(*s.SodiumLoss)
	}
}

func (o *sessionJSON) addFiles(s pipeline.Session) {
	o.Files = []string{}
	for _, p := range s.Parts {
		part := partJSON{Start: stamp(p.Start), ElapsedS: p.Elapsed.Seconds()}
		for _, f := range p.Files {
			part.Files = append(part.Files, f.Path)
		}
		o.Files = append(o.Files, part.Files...)
		if len(s.Parts) > 1 {
			o.Parts = append(o.Parts, part)
		}
	}
}

func weighIn(w *pipeline.WeighIn) *weighInJSON {
	if w == nil {
		return nil
	}
	out := &weighInJSON{At: stamp(w.At), MassKg: w.Mass.Kilograms(), From: addressOf(w.From, w.ID), Posterior: w.Posterior}
	for _, a := range w.Also {
		out.Also = append(out.Also, a.String())
	}
	return out
}

// noteJSON is a note without whose and when.
type noteJSON struct {
	DrunkL       *float64 `json:"drunk_l,omitempty"`
	EatenKg      *float64 `json:"eaten_kg,omitempty"`
	UrineL       *float64 `json:"urine_l,omitempty"`
	Toilet       string   `json:"toilet,omitempty"`
	StoolKg      *float64 `json:"stool_kg,omitempty"`
	PouredL      *float64 `json:"poured_l,omitempty"`
	ClothesOffKg *float64 `json:"clothes_off_kg,omitempty"`
	ClothesWetKg *float64 `json:"clothes_wet_kg,omitempty"`
	PickedUpKg   *float64 `json:"picked_up_kg,omitempty"`
	LeftBehindKg *float64 `json:"left_behind_kg,omitempty"`
	Towelled     *bool    `json:"towelled,omitempty"`
	Race         *bool    `json:"race,omitempty"`
	Indoor       *bool    `json:"indoor,omitempty"`
	Gut          *int     `json:"gut_0_10,omitempty"`
	Thirst       *int     `json:"thirst_0_10,omitempty"`
	Felt         string   `json:"felt,omitempty"`
}

func toNote(n *record.Note) *noteJSON {
	if n == nil {
		return nil
	}
	return &noteJSON{DrunkL: number(n.Drunk), EatenKg: number(n.Eaten), UrineL: number(n.Urine), Toilet: n.Toilet,
		StoolKg: number(n.Stool), PouredL: number(n.Poured), ClothesOffKg: number(n.ClothesOff), ClothesWetKg: number(n.ClothesWet),
		PickedUpKg: number(n.PickedUp), LeftBehindKg: number(n.LeftBehind), Towelled: n.Towelled, Race: n.Race, Indoor: n.Indoor,
		Gut: n.Gut, Thirst: n.Thirst, Felt: n.Felt}
}

func number[Q ~float64](v *Q) *float64 {
	if v == nil {
		return nil
	}
	f := float64(*v)
	return &f
}

func seconds(d *time.Duration) *float64 {
	if d == nil {
		return nil
	}
	s := d.Seconds()
	return &s
}

func stamp(t time.Time) string { return t.UTC().Format(time.RFC3339) }

// sodiumOf is the concentration a session's sodium is reckoned with.
func sodiumOf(s pipeline.Session) *intervalJSON {
	c := s.Sodium.Concentration
	mg := func(c quantity.Concentration) *float64 { v := c.MilligramsPerLitre(); return &v }
	return &intervalJSON{Value: mg(c.Value), Lo: mg(c.Lo), Hi: mg(c.Hi), From: s.Sodium.From}
}
