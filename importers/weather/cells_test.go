package weather

import (
	"testing"

	"saltpan/importers/importer"
)

// Codes for missing leave a number out; without a temperature there is no observation.
func TestMissing(t *testing.T) {
	for _, code := range []string{"", "M", "m", "T", "-999", "-9999", "-999.0", "999.9", "9999", "NaN", "null", "n/a", "-", "///", "−999"} {
		expect(t, "temperature "+code, "time,temp_c,rh\n2025-04-03T09:00Z,"+code+",71\n2025-04-03T10:00Z,12,"+code+"\n", importer.Hints{}, "2025-04-03T10:00:00 12 :3")
	}
	expect(t, "999.9 can be a pressure and sun", "time,temp_c,pressure_hpa,ghi\n2025-04-03T09:00Z,12,999.9,999\n2025-04-03T10:00Z,12,-999,-9999\n", importer.Hints{},
		"2025-04-03T09:00:00 12 s999 p999.9 :2; 2025-04-03T10:00:00 12 :3")
}

func TestNumbers(t *testing.T) {
	for _, tt := range []struct{ cell, want string }{
		{"12.5", "12.5 :2"}, {`"12,5"`, "12.5 :2"}, {"+12.5", "12.5 :2"}, {"-3", "-3 :2"}, {"−3", "-3 :2"}, {".5", "0.5 :2"}, {"-0", "0 :2"}, {"12.5°C", "12.5 :2"}, {"50 F", "10 :2"},
		{"60", "60 :2"}, {"-60", "-60 :2"},
	} {
		expect(t, tt.cell, "time,temp_c\n2025-04-03T09:00Z,"+tt.cell+"\n", importer.Hints{}, "2025-04-03T09:00:00 "+tt.want)
	}
	for _, tt := range []struct{ cell, want string }{
		{"warm", "bad-number"}, {`"+0012,1"`, "bad-number"}, {"1.2.3", "bad-number"}, {"12 13", "bad-number"}, {"1e400", "unknown-unit"}, {"60.1", "out-of-range"}, {"-60.1", "out-of-range"},
		{"-99.9", "out-of-range"}, {"12,5", "bad-number"},
	} {
		expect(t, tt.cell, "time,temp_c\n2025-04-03T09:00Z,"+tt.cell+"\n2025-04-03T10:00Z,1\n", importer.Hints{}, "2025-04-03T10:00:00 1 :3; "+tt.want+" :2")
	}
}

// A number that cannot be is left out; the rest of the row stays.
func TestRanges(t *testing.T) {
	for _, tt := range []struct{ header, cell, want string }{
		{"rh", "106", ""}, {"rh", "-1", ""}, {"rh", "103", "h100 "}, {"wind_m_s", "-1", ""}, {"wind_m_s", "116", ""}, {"ghi", "-3", "s0 "}, {"ghi", "1600", ""},
		{"pressure_hpa", "200", ""}, {"dewpoint_c", "14", ""}, {"dewpoint_c", "13", "d13 "}, {"dewpoint_c", "41", ""},
	} {
		want := "2025-04-03T09:00:00 12 " + tt.want + ":2"
		if tt.want == "" {
			want += "; out-of-range :2"
		}
		expect(t, tt.header+" "+tt.cell, "time,temp_c,"+tt.header+"\n2025-04-03T09:00Z,12,"+tt.cell+"\n", importer.Hints{}, want)
	}
}
