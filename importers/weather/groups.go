package weather

import (
	"regexp"
	"strconv"
	"strings"
)

var (
	// windGroup is direction, speed and gusts: 05010KT, VRB03G15MPS.
	windGroup = regexp.MustCompile(`^(?:[0-9]{3}|VRB|///)([0-9]{2,3})(?:GP?[0-9]{2,3})?(KT|MPS|KMH)$`)
	// tempGroup is temperature and dew point in whole degrees, M for minus:
	// 14/12, M05/M08, 18/, 18///.
	tempGroup = regexp.MustCompile(`^(M?[0-9]{2})/(?:(M?[0-9]{2})|//|XX)?$`)
	// tenths is the remark with both in tenths, 1 for minus: T01390122.
	tenths = regexp.MustCompile(`^T([01])([0-9]{3})(?:([01])([0-9]{3}))?$`)
	// trend ends what was observed: what follows is expected.
	trend = regexp.MustCompile(`^(?:TEMPO|BECMG|NOSIG|INTER|PROB[0-9]{2}|FM[0-9]{4,6})$`)
)

// groups reads the groups behind the time. In the remarks (RMK) only the
// tenths are read; they go before the whole degrees.
func (o *observation) groups(text string) *fault {
	var temp, dew, exact, exactDew *float64
	remarks, expected := false, false
	for _, g := range strings.Fields(strings.TrimRight(strings.TrimSpace(text), "=")) {
		g = strings.Trim(g, `"$=`)
		switch {
		case g == "RMK":
			remarks = true
		case remarks:
			if m := tenths.FindStringSubmatch(g); m != nil && exact == nil {
				exact, exactDew = tenth(m[1], m[2]), tenth(m[3], m[4])
			}
		case trend.MatchString(g):
			expected = true
		case expected:
		case g == "COR":
			o.corrects = true
		default:
			if m := windGroup.FindStringSubmatch(g); m != nil && o.WindMPerS == nil {
				v := convert(float64(atoi(m[1])), speedUnits[m[2]])
				o.WindMPerS = &v
			} else if m := tempGroup.FindStringSubmatch(g); m != nil && temp == nil {
				temp, dew = degrees(m[1]), degrees(m[2])
			}
		}
	}
	if exact != nil {
		temp = exact
	}
	if exactDew != nil {
		dew = exactDew
	}
	return o.set(temp, dew)
}

// set takes temperature and dew point if they can be.
func (o *observation) set(temp, dew *float64) *fault {
	if temp == nil {
		o.missing = true
		return nil
	}
	v, f := within(airTemp, *temp, strconv.FormatFloat(*temp, 'f', -1, 64))
	o.AirTempC, o.DewPointC = v, dew
	return f
}

// speedUnits are the units of wind in reports.
var speedUnits = map[string]string{"KT": "kt", "MPS": "m s", "KMH": "km h"}

// degrees is 14 or M05 in degrees Celsius, nil for nothing. M00 is a little
// below zero and read as zero.
func degrees(text string) *float64 {
	if text == "" {
		return nil
	}
	v := float64(atoi(strings.TrimPrefix(text, "M")))
	if text[0] == 'M' && v != 0 {
		v = -v
	}
	return &v
}

// tenth is 1 and 139 as -13.9, nil for nothing.
func tenth(sign, digits string) *float64 {
	if digits == "" {
		return nil
	}
	v := float64(atoi(digits)) / 10
	if sign == "1" && v != 0 {
		v = -v
	}
	return &v
}
