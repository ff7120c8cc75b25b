package heat

import (
	"math"
	"time"
)

// sunAt is the cosine of the sun's zenith angle at a place and its distance in
// astronomical units.
//
// Source: low-precision formulas of the Astronomical Almanac, page C24, to
// 0.01° between 1950 and 2050; sidereal time after the same almanac, B6.
func sunAt(at time.Time, latDeg, lonDeg float64) (cosZenith, distance float64) {
	days := float64(at.Unix()-j2000Unix) / 86400 // since 2000-01-01 12:00
	rad := math.Pi / 180
	g := (357.528 + 0.9856003*days) * rad // mean anomaly
	longitude := (280.460 + 0.9856474*days + 1.915*math.Sin(g) + 0.020*math.Sin(2*g)) * rad
	obliquity := (23.439 - 4.0e-7*days) * rad
	ascension := math.Atan2(math.Cos(obliquity)*math.Sin(longitude), math.Cos(longitude))
	declination := math.Asin(math.Sin(obliquity) * math.Sin(longitude))
	sidereal := (280.46062 + 360.98564737*days + lonDeg) * rad
	lat := latDeg * rad
	cosZenith = math.Sin(lat)*math.Sin(declination) + math.Cos(lat)*math.Cos(declination)*math.Cos(sidereal-ascension)
	return cosZenith, 1.00014 - 0.01671*math.Cos(g) - 0.00014*math.Cos(2*g)
}

// j2000Unix is 2000-01-01 12:00 UTC.
const j2000Unix = 946728000
