package trackxml

import "testing"

func TestSport(t *testing.T) {
	for text, want := range map[string][2]string{
		"Running": {"running", ""}, "jog": {"running", ""}, "trail-running": {"running", "trail"}, "Treadmill Run": {"running", "treadmill"}, "TrailRun": {"running", ""},
		"Walking": {"walking", ""}, "indoor_walking": {"walking", "indoor"}, "Biking": {"cycling", ""}, "Other": {"other", ""}, "open water swimming": {"open_water_swimming", ""},
		"": {"unknown", ""}, "9": {"unknown", ""}, "1 2": {"unknown", ""}, "Trunk": {"trunk", ""},
	} {
		if sport, sub := Sport(text); sport != want[0] || sub != want[1] {
			t.Errorf("%q is %q, %q; want %q", text, sport, sub, want)
		}
	}
}
