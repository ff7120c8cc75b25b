package heat

import "saltpan/pipeline/quantity"

// WBGTInSun is the wet bulb globe temperature outdoors with sun, from the
// natural wet bulb, the globe and the air: 0.7 Tnwb + 0.2 Tg + 0.1 Ta.
//
// Source: iso7243, definition.
func WBGTInSun(naturalWetBulb, globe, air quantity.Temperature) quantity.Temperature {
	return 0.7*naturalWetBulb + 0.2*globe + 0.1*air
}

// WBGTNoSun is the wet bulb globe temperature indoors and outdoors without
// sun: 0.7 Tnwb + 0.3 Tg.
//
// Source: iso7243, definition.
func WBGTNoSun(naturalWetBulb, globe quantity.Temperature) quantity.Temperature {
	return 0.7*naturalWetBulb + 0.3*globe
}

// WBGTSimplified is the wet bulb globe temperature from air temperature and
// vapour pressure alone: 0.567 Ta + 0.393 e + 3.94, °C and hPa.
//
// Source: bom. It takes fairly strong sun and light wind for granted (from
// memory) and so says too much in cloud, at night and in wind.
func WBGTSimplified(air quantity.Temperature, e quantity.Pressure) quantity.Temperature {
	return quantity.Celsius(0.567*air.Celsius() + 0.393*float64(e) + 3.94)
}

// Flag is a level of the flag system for distance running.
type Flag string

// Flags from cold to hot.
const (
	White  Flag = "white"
	Green  Flag = "green"
	Yellow Flag = "yellow"
	Red    Flag = "red"
	Black  Flag = "black"
)

// FlagAt is the flag flown at a wet bulb globe temperature: white under 10 °C,
// green under 18, yellow [18, 23), red [23, 28], black above. The printed bins
// "18 to 22" and "23 to 28" leave a hole that these do not.
//
// Source: acsm1984.
func FlagAt(wbgt quantity.Temperature) Flag {
	switch {
	case wbgt < 10:
		return White
	case wbgt < 18:
		return Green
	case wbgt < 23:
		return Yellow
	case wbgt <= 28:
		return Red
	}
	return Black
}
