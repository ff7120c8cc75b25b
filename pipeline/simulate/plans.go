package simulate

import (
	"math/rand/v2"
	"time"
)

// special is what is out of the ordinary about a session.
type special int

const (
	plain        special = iota
	treadmill            // indoors
	race                 // all out, on a Sunday
	longPause            // the watch was paused for 25 minutes
	restarted            // stopped and started anew after 4 minutes
	twiceADay            // a second session the same day
	drankTooMuch         // more than was lost: a gain
	twoDevices           // recorded by two devices
)

// plan is what an athlete sets out to do.
type plan struct {
	wall    time.Time // local start, with UTC as a stand-in
	moving  time.Duration
	harder  float64 // m/s faster than easy
	special special
}

// specials tells by athlete, week and day of the week (Monday is 0), all
// counted from 0, what is out of the ordinary.
func specials() map[[3]int]special {
	return map[[3]int]special{
		{1, 1, 3}: drankTooMuch,
		{3, 2, 3}: treadmill,
		{0, 3, 3}: twiceADay,
		{2, 4, 6}: longPause,
		{2, 6, 1}: restarted,
		{3, 7, 1}: twoDevices,
		{1, 9, 6}: race,
	}
}

// plans is a season's plan for athlete i: a brisk Tuesday, an easy Thursday, a
// long Sunday, on half of the Saturdays a short one; now and then none.
func plans(rng *rand.Rand, i int, o Options) []plan {
	var out []plan
	for week := range o.Weeks {
		for _, day := range []int{1, 3, 5, 6} {
			sp := specials()[[3]int{i, week, day}]
			p := dayPlan(rng, day)
			skipped := chance(rng, 0.04) || (day == 5 && chance(rng, 0.5))
			if skipped && sp == plain {
				continue
			}
			out = append(out, p.on(o.Start.AddDate(0, 0, 7*week+day), sp)...)
		}
	}
	return out
}

// dayPlan is the plan for a day of the week; wall holds the time of day.
func dayPlan(rng *rand.Rand, day int) plan {
	jitter := minutes(rng, -20, 20)
	at := func(clock time.Duration, from, to, harder float64) plan {
		return plan{time.Time{}.Add(clock + jitter), minutes(rng, from, to), harder, plain}
	}
	switch day {
	case 1:
		return at(18*time.Hour+30*time.Minute, 38, 62, 0.4)
	case 3:
		return at(18*time.Hour+15*time.Minute, 42, 70, 0)
	case 5:
		return at(9*time.Hour+30*time.Minute, 32, 50, 0)
	}
	return at(8*time.Hour+45*time.Minute, 80, 140, -0.1)
}

// on puts the plan on a date, with what is special about it.
func (p plan) on(date time.Time, sp special) []plan {
	p.wall = date.Add(p.wall.Sub(time.Time{}))
	p.special = sp
	switch sp {
	case race:
		p.harder, p.moving = 0.6, 110*time.Minute
	case drankTooMuch:
		p.harder, p.moving = -0.4, 65*time.Minute
	case twiceADay:
		morning := p
		morning.wall = p.wall.Add(-11 * time.Hour)
		morning.moving = 45 * time.Minute
		return []plan{morning, p}
	}
	return []plan{p}
}
