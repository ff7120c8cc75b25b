package quantity_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"saltpan/pipeline/quantity"
)

// near is the relative tolerance for conversions that are exact by definition.
const near = 1e-12

// kinds has every parser as a function to a float, in the coherent unit.
var kinds = map[string]func(string) (float64, error){
	"mass":          func(s string) (float64, error) { v, err := quantity.ParseMass(s); return float64(v), err },
	"volume":        func(s string) (float64, error) { v, err := quantity.ParseVolume(s); return float64(v), err },
	"distance":      func(s string) (float64, error) { v, err := quantity.ParseDistance(s); return float64(v), err },
	"concentration": func(s string) (float64, error) { v, err := quantity.ParseConcentration(s); return float64(v), err },
	"temperature":   func(s string) (float64, error) { v, err := quantity.ParseTemperature(s); return float64(v), err },
	"pace":          func(s string) (float64, error) { v, err := quantity.ParsePace(s); return float64(v), err },
	"duration":      func(s string) (float64, error) { v, err := quantity.ParseDuration(s); return v.Seconds(), err },
}

// Expected values follow from the definitions: 1 lb = 0.45359237 kg, 1 st =
// 14 lb, 1 US fl oz = 231/128 cubic inches of 2.54 cm, 1 mi = 1609.344 m
// (NIST SP 811 appendix B), and sodium at 22.98977 g/mol.
func TestParse(t *testing.T) {
	flOz := 231.0 / 128 * 0.0254 * 0.0254 * 0.0254 * 1000
	for _, c := range []struct {
		kind, text string
		want       float64
	}{
		{"mass", "62.4kg", 62.4},
		{"mass", "62,4 kg", 62.4},
		{"mass", " 62.4 KG ", 62.4},
		{"mass", "137.5lb", 137.5 * 0.45359237},
		{"mass", "137.5 lbs", 137.5 * 0.45359237},
		{"mass", "9st11lb", (9*14 + 11) * 0.45359237},
		{"mass", "9 st 11.5 lb", (9*14 + 11.5) * 0.45359237},
		{"mass", "9st11", (9*14 + 11) * 0.45359237},
		{"mass", "9st", 9 * 14 * 0.45359237},
		{"mass", "650g", 0.65},
		{"mass", "12oz", 0.45359237 * 12 / 16},
		{"mass", "0g", 0},
		{"mass", "0,650kg", 0.65},
		{"volume", "600ml", 0.6},
		{"volume", "0.6l", 0.6},
		{"volume", "0,6 L", 0.6},
		{"volume", "6dl", 0.6},
		{"volume", "33cl", 0.33},
		{"volume", "20floz", 20 * flOz},
		{"volume", "20 fl. oz", 20 * flOz},
		{"distance", "42.2km", 42200},
		{"distance", "26.2mi", 26.2 * 1609.344},
		{"distance", "800m", 800},
		{"distance", "3000 ft", 914.4},
		{"concentration", "950mg/L", 950 / 22.98977},
		{"concentration", "41 mmol/l", 41},
		{"concentration", "41mEq/L", 41},
		{"temperature", "24C", 24},
		{"temperature", "24 °C", 24},
		{"temperature", "212F", 100},
		{"temperature", "-40F", -40},
		{"temperature", "-3,5C", -3.5},
		{"temperature", "−3C", -3},
		{"pace", "5:30/km", 1000.0 / 330},
		{"pace", "8:51/mi", 1609.344 / 531},
		{"duration", "3h30", 12600},
		{"duration", "3h30min", 12600},
		{"duration", "90min", 5400},
		{"duration", "90m", 5400},
		{"duration", "1:30:00", 5400},
		{"duration", "45s", 45},
		{"duration", "2h", 7200},
		{"duration", "1.5h", 5400},
		{"duration", "1h30m20s", 5420},
		{"duration", "5min30", 330},
	} {
		got, err := kinds[c.kind](c.text)
		if err != nil {
			t.Errorf("%s %q: %v", c.kind, c.text, err)
		} else if math.Abs(got-c.want) > near*(1+math.Abs(c.want)) {
			t.Errorf("%s %q = %v, want %v", c.kind, c.text, got, c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ kind, text, says string }{
		{"mass", "62.4", "want a number with a unit, such as 62.4kg, 137.5lb or 9st11lb"},
		{"mass", "", "want"},
		{"mass", "kg", "not a number"},
		{"mass", "-1kg", "negative"},
		{"mass", "NaNkg", "not a number"},
		{"mass", "infkg", "not a number"},
		{"mass", "1e3kg", "want"},
		{"mass", "62.4.1kg", "not a number"},
		{"mass", "62kg 300g", "want"},
		{"mass", "9st14lb", "14 pounds"},
		{"mass", "9st11kg", "want"},
		{"mass", "9st11lbx", "want"},
		{"mass", "62.4stone", `unknown unit "stone"`},
		{"mass", "1,250g", "could be 1250 or 1.250"},
		{"mass", strings.Repeat("9", 400) + "kg", "not a number"},
		{"mass", "99999999999999999kg", "too large"},
		{"volume", "600", "such as 600ml, 0.6l or 20floz"},
		{"volume", "20oz", "floz"},
		{"volume", "-0.1l", "negative"},
		{"volume", "1,200ml", "could be 1200 or 1.200"},
		{"distance", "42.2", "want"},
		{"concentration", "950", "950mg/L or 41mmol/L"},
		{"concentration", "950mg", `unknown unit "mg"`},
		{"concentration", "-41mmol/L", "negative"},
		{"temperature", "24", "24C or 75F"},
		{"temperature", "24K", "unknown unit"},
		{"temperature", "-300C", "absolute zero"},
		{"temperature", "--3C", "want"},
		{"pace", "5:30", "5:30/km or 8:51/mi"},
		{"pace", "0:00/km", "want"},
		{"pace", "5:75/km", "want"},
		{"pace", "5:3/km", "want"},
		{"pace", "-5:30/km", "want"},
		{"pace", "5.5/km", "want"},
		{"duration", "90", "3h30, 90min, 1:30:00 or 45s"},
		{"duration", "1:30", "hours and minutes or minutes and seconds"},
		{"duration", "3h75", "want"},
		{"duration", "30min2h", "want"},
		{"duration", "45s10", "want"},
		{"duration", "-2h", "negative"},
		{"duration", "1:-5:00", "want"},
	} {
		_, err := kinds[c.kind](c.text)
		if err == nil {
			t.Errorf("%s %q was taken", c.kind, c.text)
		} else if !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s %q: %q does not say %q", c.kind, c.text, err, c.says)
		}
	}
}

// FuzzParse holds that nothing typed gives a number that is not finite or, but
// for temperatures, below zero.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"62,4 kg", "9st11lb", "20 fl. oz", "1:30:00", "3h30", "5:30/km", "-3°C", "41mmol/L", "1e400kg", "٣kg"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for kind, parse := range kinds {
			v, err := parse(text)
			if err == nil && (math.IsNaN(v) || math.IsInf(v, 0) || v < 0 && kind != "temperature") {
				t.Errorf("%s %q = %v", kind, text, v)
			}
		}
	})
}

func ExampleParseMass() {
	m, err := quantity.ParseMass("9st11lb")
	fmt.Printf("%.3f kg %v\n", m.Kilograms(), err)
	_, err = quantity.ParseMass("62.4")
	fmt.Println(err)
	// Output:
	// 62.142 kg <nil>
	// mass "62.4": want a number with a unit, such as 62.4kg, 137.5lb or 9st11lb
}

func ExampleParseDuration() {
	d, _ := quantity.ParseDuration("3h30")
	fmt.Println(d)
	_, err := quantity.ParseDuration("1:30")
	fmt.Println(err)
	// Output:
	// 3h30m0s
	// duration "1:30": it could be hours and minutes or minutes and seconds; want hours, minutes and seconds, such as 3h30, 90min, 1:30:00 or 45s
}

func ExampleParsePace() {
	v, _ := quantity.ParsePace("5:30/km")
	fmt.Printf("%.3f m/s\n", v)
	// Output: 3.030 m/s
}

func TestParseDurationIsExact(t *testing.T) {
	if d, err := quantity.ParseDuration("1h30m20s"); err != nil || d != time.Hour+30*time.Minute+20*time.Second {
		t.Errorf("got %v, %v", d, err)
	}
}
