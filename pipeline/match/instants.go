package match

import "time"

// Instants are the moments at which a clock on the wall in loc shows the date
// and time of wall (whose own zone is not looked at): one as a rule, none in
// the gap when clocks go forward or a day is left out, two in the overlap when
// they go back. Earliest first.
//
// Every offset in force 26 h before and after is tried and kept if the wall
// clock then reads back the same. Offsets run from -12 h to +14 h, so no
// change that bears on the wall time lies outside.
func Instants(wall time.Time, loc *time.Location) []time.Time {
	utc := time.Date(wall.Year(), wall.Month(), wall.Day(), wall.Hour(), wall.Minute(), wall.Second(), wall.Nanosecond(), time.UTC)
	var out []time.Time
	for _, around := range []time.Duration{-26 * time.Hour, 26 * time.Hour} {
		_, offset := utc.Add(around).In(loc).Zone()
		at := utc.Add(-time.Duration(offset) * time.Second)
		if readsBack(at, utc, loc) && (len(out) == 0 || !out[0].Equal(at)) {
			out = append(out, at)
		}
	}
	if len(out) == 2 && out[1].Before(out[0]) {
		out[0], out[1] = out[1], out[0]
	}
	return out
}

func readsBack(at, wall time.Time, loc *time.Location) bool {
	_, offset := at.In(loc).Zone()
	return at.Add(time.Duration(offset) * time.Second).Equal(wall)
}
