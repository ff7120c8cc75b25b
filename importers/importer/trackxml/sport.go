package trackxml

import (
	"strings"
	"unicode"

	"saltpan/pipeline/record"
)

// Sport is the sport and the kind of it that a free text means: "trail_running"
// is running, trail. A number or nothing is unknown; a word we have no name for
// stands for itself in lower case.
func Sport(text string) (sport, sub string) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
	for i, w := range words {
		name, ok := knownSport(w)
		if !ok {
			continue
		}
		rest := append(append([]string(nil), words[:i]...), words[i+1:]...)
		return name, strings.Join(rest, "_")
	}
	if len(words) == 0 {
		return record.UnknownSport, ""
	}
	return strings.Join(words[:min(len(words), 3)], "_"), ""
}

func knownSport(word string) (string, bool) {
	switch word {
	case "run", "running", "jog", "jogging":
		return record.Running, true
	case "walk", "walking":
		return record.Walking, true
	case "bike", "biking", "cycling", "ride":
		return "cycling", true
	case "trailrun", "trailrunning":
		return record.Running, true
	}
	return "", false
}
