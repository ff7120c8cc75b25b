package effort

// Merge is the digest of a session from those of its parts, in order. elapsedS
// runs over the stops between them, in which the athlete is taken to rest.
func Merge(parts []Digest, elapsedS float64) Digest {
	if len(parts) == 0 {
		return Digest{ElapsedS: elapsedS}
	}
	out := Digest{Sport: parts[0].Sport, ElapsedS: elapsedS, Level: parts[0].Level}
	var vo2, cost, speed, grade, hr, hrS float64
	for _, p := range parts {
		out.MovingS += p.MovingS
		out.Distance += p.Distance
		vo2 += float64(p.LevelVO2) * p.MovingS
		cost += float64(p.GradeCost) * float64(p.Distance)
		speed += p.BeyondSpeed * p.MovingS
		grade += p.BeyondGrade * p.MovingS
		if p.MeanHRBpm > 0 {
			hr, hrS = hr+p.MeanHRBpm*p.ElapsedS, hrS+p.ElapsedS
		}
	}
	if out.MovingS > 0 {
		out.LevelVO2, out.BeyondSpeed, out.BeyondGrade = VO2(vo2/out.MovingS), speed/out.MovingS, grade/out.MovingS
	}
	if out.Distance > 0 {
		out.GradeCost = CostPerMetre(cost / float64(out.Distance))
	}
	if hrS > 0 {
		out.MeanHRBpm = hr / hrS
	}
	return out
}
