package weather

import (
	"cmp"
	"regexp"
	"strings"
	"unicode"

	"saltpan/importers/importer/table"
)

var (
	// zoneInHeader is "UTC", "(GMT)" or "UTC+01:00" in a header cell.
	zoneInHeader = regexp.MustCompile(`(?i)(?:^|[^a-z])((?:utc|gmt)(?: ?([-+−])([0-9]{1,2})(?::?([0-9]{2}))?)?)(?:[^a-z0-9]|$)`)
	// noise is what a header may add without changing what is meant: the height
	// of the sensor, that it is a mean of the hour, the word degrees.
	noise = regexp.MustCompile(`(?:^| )(?:2 ?m|10 ?m|mean|avg|average|hourly|obs|observed|current|deg|degrees?|grad)(?: |$)`)
)

// recognise says what a header cell means. The whole cell has to be a known
// word, with a unit behind it at most: "soil temperature" and "wind gust" are
// other things.
func recognise(cell string) word {
	if m := zoneInHeader.FindStringSubmatchIndex(cell); m != nil {
		rest := table.Words(cell[:m[2]] + " " + cell[m[3]:])
		if w := vocabulary[rest]; rest == "" || w.meaning == when {
			return word{when, "", table.Words(cell)}
		}
	}
	full := table.Words(spelled.Replace(cell))
	if w, ok := vocabulary[full]; ok {
		return w
	}
	if w, ok := split(full); ok {
		return w
	}
	for noise.MatchString(full) {
		full = strings.TrimSpace(noise.ReplaceAllString(full, " "))
	}
	if w, ok := vocabulary[full]; ok {
		return w
	}
	w, _ := split(full)
	return w
}

// split takes the unit off the end of a header: "wind speed km h".
func split(full string) (word, bool) {
	for i := len(full) - 1; i > 0; i-- {
		if full[i] != ' ' {
			continue
		}
		w, ok := vocabulary[full[:i]]
		u := cmp.Or(unitOf(w.meaning, full[i+1:]), unitOf(w.meaning, strings.TrimPrefix(full[i+1:], "in ")))
		if ok && u != "" {
			return word{w.meaning, u, w.text}, true
		}
	}
	return word{}, false
}

// score says how well cells are recognised as a header: not at all without a
// time and an air temperature, or with a column of another kind of table.
func score(cells []string) int {
	known, seen := 0, map[meaning]bool{}
	for _, c := range cells {
		if len(c) > 100 || strings.IndexFunc(c, unicode.IsLetter) < 0 {
			continue
		}
		if other(c) {
			return 0
		}
		if w := recognise(c); w.meaning != nothing {
			known++
			seen[w.meaning] = true
		}
	}
	if !seen[when] || !seen[airTemp] {
		return 0
	}
	return known
}

// other reports whether a header cell begins with a word of another kind of table.
func other(cell string) bool {
	words := table.Words(cell)
	for i := 0; i <= len(words); i++ {
		if (i == len(words) || words[i] == ' ') && notWeatherWords[words[:i]] {
			return true
		}
	}
	return false
}
