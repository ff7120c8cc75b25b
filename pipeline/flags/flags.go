// Package flags says what a person should know about a session or fill in.
package flags

import "sort"

// Level is how much a flag matters.
type Level string

// The three levels: a remark needs nothing, an ask needs a person, a caution
// is about health or about a number not to be trusted.
const (
	Remark  Level = "remark"
	Ask     Level = "ask"
	Caution Level = "caution"
)

// Flag is one thing to know about a session.
type Flag struct {
	Code  string `json:"code"`
	Level Level  `json:"level"`
	Text  string `json:"text"`
	Do    string `json:"do,omitempty"`
}

// kind is a row of the table of codes.
type kind struct {
	level Level
	text  string
	do    string
}

// table has every code once. "%v" in a text is filled with the case's detail.
var table = map[string]kind{
	"no-note":          {Ask, "nobody said what was drunk, eaten or left in the toilet between the weigh-ins", "add it with `saltpan note`; \"nothing\" is an answer too"},
	"no-toilet":        {Ask, "the note does not say whether there was a toilet stop", "add it with `saltpan note --toilet`"},
	"no-before":        {Ask, "no weigh-in before the start", "next time weigh within an hour before the start, or add it with `saltpan weigh`"},
	"no-after":         {Ask, "no weigh-in after the stop", "next time weigh within half an hour after the stop, or add it with `saltpan weigh`"},
	"question":         {Ask, "a weigh-in could belong to this session; only a person can say", "see `saltpan missing`, then `saltpan answer`"},
	"gain":             {Caution, "more mass after than before: more was taken in than lost", "drink less next time; more is not safer"},
	"loss-over-2":      {Caution, "more than 2 % of body mass lost", "drink a little more in training of this kind, never more than is lost"},
	"loss-over-4":      {Caution, "more than 4 % of body mass lost", "check the weigh-ins; if they are right, take this up with someone who knows you"},
	"implausible-rate": {Caution, "loss rate outside what has been measured in athletes (0.26-5.73 L/h)", "check the weigh-ins and the note"},
	"long-gap":         {Remark, "long time between a weigh-in and the run: %v", "weigh closer to the start and the stop"},
	"long-pause":       {Remark, "the watch was paused for %v; what was lost then counts", ""},
	"short-session":    {Remark, "under 30 minutes: the scale's own step is a large part of the loss", "test in sessions of an hour or more"},
	"clothes":          {Ask, "weighed while carrying and the note does not say whether clothes came off", "add it with `saltpan note --clothes-off`"},
	"poured":           {Remark, "fluid was poured over or spilled; it must not be counted as drunk", ""},
	"several-candidates": {Remark, "several weigh-ins were possible; the likeliest was taken: %v",
		"see `saltpan explain`; `saltpan weigh drop FILE:LINE` takes one out"},
	"two-scales":       {Remark, "weighed on two scales: their difference counts as loss", "use one scale before and after"},
	"no-zone":          {Ask, "the scale's times name no zone", "`saltpan athlete set KEY --zone Europe/Lisbon` or `saltpan scale set NAME --zone …`"},
	"salvaged":         {Remark, "the file was damaged: %v; what came before the damage was kept", "sync the session again if the watch still has it"},
	"readers-disagree": {Caution, "two independent readers found different totals: %v", "look at the session on the watch"},
	"not-checked":      {Remark, "the second reader could not read the file, so its totals are one reader's word", ""},
	"no-duration":      {Caution, "the file holds a single moment: there is no duration and no rate", "sync the session again if the watch still has it"},
	"no-room":          {Ask, "an indoor session, and nobody said how warm the room was", "add it with `saltpan note --indoor --room 21C`, or --indoor=no if it was outdoors"},
	"wrist-heat":       {Remark, "the air temperature comes from the watch, which the wrist warms", "a weather file, or `saltpan note --temp`, is more trustworthy"},
	"effort-disagrees": {Remark, "pace and heart rate tell different efforts: %v", ""},
	"clock-corrected":  {Ask, "the scale's clock was wrong: %v", "check the example rows in `saltpan scale list`; `saltpan answer` reverses it"},
}

// Raise makes the flag of a code; detail fills in its text. It panics on a
// code that is not in the table.
func Raise(code string, detail ...any) Flag {
	k, ok := table[code]
	if !ok {
		panic("flags: no such code " + code)
	}
	return Flag{Code: code, Level: k.level, Text: fill(k.text, detail), Do: k.do}
}

// Codes are all codes in alphabetical order.
func Codes() []string {
	var out []string
	for c := range table {
		out = append(out, c)
	}
	sort.Strings(out)
	return out
}
