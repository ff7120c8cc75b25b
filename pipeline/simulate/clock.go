package simulate

import "time"

// zone is where the club lives. Its winter time is UTC.
const zone = "Europe/Lisbon"

// Offset is local time minus UTC at t: one hour from 01:00 UTC on the last
// Sunday of March to 01:00 UTC on the last Sunday of October (Directive
// 2000/84/EC, articles 2 and 3). Written out so that a season does not depend
// on the zone files of a computer.
func Offset(t time.Time) time.Duration {
	year := t.UTC().Year()
	if t.Before(lastSunday(year, time.March)) || !t.Before(lastSunday(year, time.October)) {
		return 0
	}
	return time.Hour
}

// lastSunday is 01:00 UTC on the last Sunday of a month with 31 days.
func lastSunday(year int, month time.Month) time.Time {
	last := time.Date(year, month, 31, 1, 0, 0, 0, time.UTC)
	return last.AddDate(0, 0, -int(last.Weekday()))
}

// Local is t as the club's clocks show it, with the right offset.
func Local(t time.Time) time.Time {
	return t.In(time.FixedZone("", int(Offset(t).Seconds())))
}

// instant is the UTC instant of a local wall time. Sessions start neither in
// the skipped nor in the repeated hour of a night.
func instant(wall time.Time) time.Time { return wall.Add(-Offset(wall)) }

// Key is the key of a session: athlete, local date and minute of the first start.
func Key(athlete string, start time.Time) string {
	return athlete + Local(start).Format("-2006-01-02-1504")
}
