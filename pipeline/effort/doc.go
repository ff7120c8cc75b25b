// Package effort works out how much energy a session took: from pace and
// grade, with heart rate as a second opinion.
//
//	rate = ACSM level cost of the speed + what Minetti's polynomial adds or saves for the grade
//	energy = mass × (rate × moving time + rest × pauses)
//
// ACSM's own grade term is stated not to hold for outdoor running up and down,
// and Minetti's polynomial lies 14 % under ACSM on the level; so each serves
// where it holds, and a file without altitude gives the level cost unchanged.
// Digest keeps what a track says apart from whose track it is, so that a new
// body mass never needs the samples again.
package effort
