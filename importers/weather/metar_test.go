package weather

import (
	"testing"

	"saltpan/importers/importer"
)

// Reports made up for an invented station. Groups as in WMO-No. 306, volume
// I.1, FM 15 and 16; the remark in tenths as in the US Federal Meteorological
// Handbook No. 1, chapter 12, whose own example is T00261015 for 2.6 and -1.5
// (both from memory). A knot is 1852 m/h.
func TestReports(t *testing.T) {
	const at = "2019-05-12T12:44:00 "
	for _, tt := range []struct{ report, want string }{
		{"METAR XAAA 121244Z 05010KT 9999 FEW040 14/12 Q1013=", "14 d12 w5.14444"},
		{"SPECI XAAA 121244Z 05010MPS 14/12", "14 d12 w10"},
		{"XAAA 121244Z 05036KMH 14/12", "14 d12 w10"},
		{"METAR XAAA 121244Z AUTO VRB03G15MPS 14/12", "14 d12 w3"},
		{"METAR XAAA 121244Z 00000KT M05/M08", "-5 d-8 w0"},
		{"METAR XAAA 121244Z M00/M03", "0 d-3"},
		{"METAR XAAA 121244Z /////KT 18///", "18"},
		{"METAR XAAA 121244Z 18/", "18"},
		{"METAR XAAA 121244Z 18/XX", "18"},
		{"METAR XAAA 121244Z 1/2SM R24/1200 01/M01", "1 d-1"},
		{"METAR XAAA 121244Z 14/12 A2992 RMK AO2 SLP134 T01390122", "13.9 d12.2"},
		{"METAR XAAA 121244Z M12/M14 RMK T11221139 $", "-12.2 d-13.9"},
		{"METAR XAAA 121244Z 03/M01 RMK T00261015=", "2.6 d-1.5"},
		{"METAR XAAA 121244Z 14/12 RMK T0139", "13.9 d12"},
		{"METAR XAAA 121244Z 14/12 RMK 20/18 T01390122 T02000180", "13.9 d12.2"},
		{"METAR XAAA 121244Z 14/12 T02000180", "14 d12"},
		{"METAR XAAA 121244Z RMK T01390122", "13.9 d12.2"},
		{"METAR XAAA 121244Z 14/12 TEMPO 24020KT 20/18", "14 d12"},
		{"METAR XAAA 121244Z 05010KT 14/12 BECMG 24020KT RMK T01390122", "13.9 d12.2 w5.14444"},
		{"METAR XAAA 121244Z 14/12 NOSIG", "14 d12"},
		{"METAR COR XAAA 121244Z 14/12", "14 d12"},
		{"METAR XAAA 121244Z COR 14/12", "14 d12"},
	} {
		expect(t, tt.report, "201905121244 "+tt.report+"\n", importer.Hints{}, at+tt.want+" XAAA :1")
	}
}

// A report names no month; the date before it does.
func TestReportDates(t *testing.T) {
	for _, tt := range []struct{ before, group, want string }{
		{"201905121244 ", "121244Z", "2019-05-12T12:44:00"}, {"20190512 ", "121244Z", "2019-05-12T12:44:00"}, {"20190512T1244Z ", "121244Z", "2019-05-12T12:44:00"},
		{"2019-05-12,", "121244Z", "2019-05-12T12:44:00"}, {"2019-05-12T12:44Z;METAR ", "121244Z", "2019-05-12T12:44:00"}, {"mast,2019-05-12 12:50,", "121244Z", "2019-05-12T12:44:00"},
		{"2019/05/12 12:44 ", "121244Z", "2019-05-12T12:44:00"}, {"2019-05-31 ", "010050Z", "2019-06-01T00:50:00"}, {"2019-06-01 ", "312350Z", "2019-05-31T23:50:00"},
	} {
		expect(t, tt.before, tt.before+"XAAA "+tt.group+" 14/12\n", importer.Hints{}, tt.want+" 14 d12 XAAA :1")
	}
	for _, text := range []string{"XAAA 121244Z 14/12", "METAR XAAA 121244Z 14/12=", "2019-05-15 XAAA 121244Z 14/12", "2019-02-30 XAAA 011244Z 14/12", "2019-05-12 XAAA 122544Z 14/12", "1989-05-12 XAAA 121244Z 14/12"} {
		expect(t, text, text+"\n", importer.Hints{}, "refused bad-time :1")
	}
}

// What is no observation is passed over; what cannot be is a problem of its line.
func TestReportFiles(t *testing.T) {
	expect(t, "below a header, with gaps", "where,when,report\n\nXAAA,2019-05-12 12:44,\"XAAA 121244Z 05010KT 14/12\"\nXAAA,2019-05-12 12:50,\"XAAA 121250Z 05010KT 15/12\"\n",
		importer.Hints{}, "2019-05-12T12:44:00 14 d12 w5.14444 XAAA :3; 2019-05-12T12:50:00 15 d12 w5.14444 XAAA :4")
	expect(t, "over two lines", "20190512 METAR XAAA 121244Z 05010KT\n   14/12 Q1013=\n20190512 METAR XAAA 121250Z 15/12=\n",
		importer.Hints{}, "2019-05-12T12:44:00 14 d12 w5.14444 XAAA :1; 2019-05-12T12:50:00 15 d12 XAAA :3")
	expect(t, "no observation", "20190512 METAR XAAA 121244Z NIL=\n20190512 TAF XAAA 121100Z 1212/1318 TX20/1215Z=\n20190512 XAAA 121100Z 1212/1318 24010KT=\n20190512 METAR XAAA 121250Z 24010KT ///// Q1013=\n20190512 METAR XAAA 121255Z 14/12=\n",
		importer.Hints{}, "2019-05-12T12:55:00 14 d12 XAAA :5")
	expect(t, "only NIL", "20190512 METAR XAAA 121244Z NIL=\n", importer.Hints{}, "refused empty :0")
	expect(t, "out of range", "20190512 XAAA 121244Z 74/12\n20190512 XAAA 121245Z 14/19\n20190512 XAAA 121246Z 240999KT 14/12\n", importer.Hints{},
		"2019-05-12T12:45:00 14 XAAA :2; 2019-05-12T12:46:00 14 d12 XAAA :3; out-of-range :1; out-of-range :2; out-of-range :3")
	// No air has its dew point above its temperature; 1.7 is more than rounding.
	expect(t, "dew point above the air", "20190512 XAAA 121244Z M14/M12 RMK T11391122\n", importer.Hints{}, "2019-05-12T12:44:00 -13.9 XAAA :1; out-of-range :1")
}
