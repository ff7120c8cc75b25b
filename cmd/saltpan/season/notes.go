package season

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"time"

	"saltpan/pipeline/record"
	"saltpan/pipeline/simulate"
)

// notesSheet is the sheet an athlete filled in: a row for each session, empty
// cells where nothing was noted.
func notesSheet(sessions []simulate.Session) []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	rows := [][]string{{"session", "athlete", "start", "elapsed", "drunk_l", "eaten_g", "urine_ml", "toilet", "clothes_off_g", "felt"}}
	for _, s := range sessions {
		if s.Note != nil {
			rows = append(rows, append([]string{s.Key, s.Athlete,
				simulate.Local(s.Start()).Format("2006-01-02 15:04"), clock(s.Elapsed())}, noteCells(*s.Note)...))
		}
	}
	// A buffer takes every byte, so there is no error to pass on.
	_ = w.WriteAll(rows)
	return out.Bytes()
}

func noteCells(n record.Note) []string {
	urine := ""
	if n.Urine != nil {
		urine = decimal(1000*n.Urine.Litres(), 0)
	}
	return []string{decimal(n.Drunk.Litres(), 2), decimal(1000*n.Eaten.Kilograms(), 0), urine, n.Toilet,
		decimal(1000*n.ClothesOff.Kilograms(), 0), n.Felt}
}

// clock is a duration under a day as hh:mm:ss.
func clock(d time.Duration) string { return time.Time{}.Add(d).Format(time.TimeOnly) }

func decimal(v float64, places int) string { return strconv.FormatFloat(v, 'f', places, 64) }
