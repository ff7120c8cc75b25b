package main

import (
	"fmt"
	"strconv"
	"strings"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// noteKind is one thing a note can say: the option, its help, the question
// asked at a terminal (empty: not asked) and how the answer is taken.
type noteKind struct {
	name, help, ask string
	take            func(n *record.Note, text string) error
}

// switches are the options that mean yes when they stand alone.
var switches = []string{"towelled", "race", "indoor", "fan"}

var noteKinds = []noteKind{
	{"drunk", "what was drunk: 600ml, 20floz, none", "Drunk? (600ml)", volume(func(n *record.Note) **quantity.Volume { return &n.Drunk })},
	{"eaten", "what was eaten: 40g, none", "Eaten? (40g)", mass(func(n *record.Note) **quantity.Mass { return &n.Eaten })},
	{"toilet", "none or yes (amount unknown)", "Toilet? (none, yes, or an amount such as 200ml)", takeToilet},
	{"urine", "urine, if measured: 200ml, none", "", volume(func(n *record.Note) **quantity.Volume { return &n.Urine })},
	{"stool", "stool, if weighed: 150g, none", "", mass(func(n *record.Note) **quantity.Mass { return &n.Stool })},
	{"poured", "fluid poured over or spilled: 200ml", "", volume(func(n *record.Note) **quantity.Volume { return &n.Poured })},
	{"clothes-off", "clothes taken off after the first weigh-in: 300g, none", "", mass(func(n *record.Note) **quantity.Mass { return &n.ClothesOff })},
	{"clothes-wet", "sweat held in clothes at the second weigh-in: 200g", "", mass(func(n *record.Note) **quantity.Mass { return &n.ClothesWet })},
	{"picked-up", "taken on after the first weigh-in while carrying: 500g", "", mass(func(n *record.Note) **quantity.Mass { return &n.PickedUp })},
	{"left-behind", "put down before the second weigh-in while carrying: 300g", "", mass(func(n *record.Note) **quantity.Mass { return &n.LeftBehind })},
	{"towelled", "dried off before the second weigh-in", "", yesNo(func(n *record.Note) **bool { return &n.Towelled })},
	{"race", "it was a race", "", yesNo(func(n *record.Note) **bool { return &n.Race })},
	{"indoor", "it was indoors; =no if it only looks so", "", yesNo(func(n *record.Note) **bool { return &n.Indoor })},
	{"room", "temperature of the room, indoors: 21C", "", warmth(func(n *record.Note) **quantity.Temperature { return &n.Room })},
	{"fan", "a fan, indoors", "", yesNo(func(n *record.Note) **bool { return &n.Fan })},
	{"temp", "air temperature, if known better: 24C, 75F", "", warmth(func(n *record.Note) **quantity.Temperature { return &n.AirTemp })},
	{"humidity", "relative humidity of the air in %: 60", "", takeHumidity},
	{"weighing", "body or carrying, if not as usual", "", takeWeighing},
	{"gut", "how the gut felt, 0 (bad) to 10 (good)", "", score(func(n *record.Note) **int { return &n.Gut })},
	{"thirst", "thirst at the end, 0 (none) to 10", "", score(func(n *record.Note) **int { return &n.Thirst })},
	{"felt", "how it went, in words", "How did it go?", func(n *record.Note, text string) error { n.Felt = text; return nil }},
}

func isNoteKind(name string) bool {
	for _, k := range noteKinds {
		if k.name == name {
			return true
		}
	}
	return false
}

// noteWords are the words said, by the name of the option.
type noteWords map[string]*string

func (w noteWords) at(name string) *string {
	if w[name] == nil {
		w[name] = new(string)
	}
	return w[name]
}

func (w noteWords) empty() bool {
	for _, v := range w {
		if *v != "" {
			return false
		}
	}
	return true
}

// note turns the words into a note, or says which word is wrong.
func (w noteWords) note(session string) (record.Note, error) {
	n := record.Note{Session: session}
	for _, k := range noteKinds {
		text := *w.at(k.name)
		if text == "" {
			continue
		}
		if err := k.take(&n, text); err != nil {
			return n, fmt.Errorf("--%s: %w", k.name, err)
		}
	}
	if n.Toilet == "none" && (n.Urine != nil && *n.Urine > 0 || n.Stool != nil && *n.Stool > 0) {
		return n, fmt.Errorf("--toilet none and an amount contradict each other; want one of the two")
	}
	return n, nil
}

func nothing(text string) bool {
	switch strings.ToLower(text) {
	case "none", "nothing", "no", "0":
		return true
	}
	return false
}

func volume(at func(*record.Note) **quantity.Volume) func(*record.Note, string) error {
	return func(n *record.Note, text string) error {
		v, err := quantity.Volume(0), error(nil)
		if !nothing(text) {
			v, err = quantity.ParseVolume(text)
		}
		if v > 20 {
			return fmt.Errorf("%q: want at most 20 litres", text)
		}
		*at(n) = &v
		return err
	}
}

func mass(at func(*record.Note) **quantity.Mass) func(*record.Note, string) error {
	return func(n *record.Note, text string) error {
		m, err := quantity.Mass(0), error(nil)
		if !nothing(text) {
			m, err = quantity.ParseMass(text)
		}
		if m > 20 {
			return fmt.Errorf("%q: want at most 20 kilograms", text)
		}
		*at(n) = &m
		return err
	}
}

func yesNo(at func(*record.Note) **bool) func(*record.Note, string) error {
	return func(n *record.Note, text string) error {
		b := strings.HasPrefix(strings.ToLower(text), "y")
		if !b && !nothing(text) {
			return fmt.Errorf("%q: want yes or no", text)
		}
		*at(n) = &b
		return nil
	}
}

func score(at func(*record.Note) **int) func(*record.Note, string) error {
	return func(n *record.Note, text string) error {
		v, err := strconv.Atoi(text)
		if err != nil || v < 0 || v > 10 {
			return fmt.Errorf("%q: want 0 to 10", text)
		}
		*at(n) = &v
		return nil
	}
}

// takeToilet takes none, yes, or an amount.
func takeToilet(n *record.Note, text string) error {
	switch {
	case nothing(text):
		n.Toilet = "none"
	case strings.HasPrefix(strings.ToLower(text), "y"):
		n.Toilet = "yes"
	default:
		v, err := quantity.ParseVolume(text)
		if err != nil {
			return fmt.Errorf("%q: want none, yes or an amount such as 200ml", text)
		}
		n.Toilet, n.Urine = "yes", &v
	}
	return nil
}

func takeWeighing(n *record.Note, text string) error {
	n.Weighing = record.Weighing(text)
	return oneOf("weighing", text, "body", "carrying")
}

func warmth(at func(*record.Note) **quantity.Temperature) func(*record.Note, string) error {
	return func(n *record.Note, text string) error {
		t, err := quantity.ParseTemperature(text)
		if err == nil && (t < -40 || t > 55) {
			return fmt.Errorf("%q: want -40 to 55 degrees Celsius", text)
		}
		*at(n) = &t
		return err
	}
}

func takeHumidity(n *record.Note, text string) error {
	v, err := strconv.ParseFloat(strings.TrimSuffix(text, "%"), 64)
	if err != nil || !(v > 0 && v <= 100) {
		return fmt.Errorf("%q: want 1 to 100 percent", text)
	}
	n.Humidity = &v
	return nil
}
