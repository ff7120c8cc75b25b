package weather

import (
	"strings"
	"testing"

	"saltpan/importers/importer"
)

// Every way to write 2019-05-12 12:44 UTC (ISO 8601; 1557665040 by date -u -d @1557665040).
func TestTimes(t *testing.T) {
	for _, cell := range []string{
		"2019-05-12T12:44:00Z", "2019-05-12T12:44Z", "2019-05-12 12:44:00 UTC", "2019-05-12 12:44 GMT", "2019-05-12T12:44:00.000Z", "2019-05-12T14:44+02:00", "2019-05-12T14:44:00+0200",
		"2019-05-12 07:44-05", "2019-05-12T18:29+05:45", "2019/05/12 12:44Z", "20190512T1244Z", "20190512T124400Z", "1557665040", "1557665040000", "1557665040.5", "12.05.2019 12:44Z", "13/05/2019 00:44+12:00",
		"2019-05-12 12:44 UTC+0", "2019-05-12T14:44UTC+2",
	} {
		expect(t, cell, "time,temp_c\n"+cell+",12\n", importer.Hints{}, "2019-05-12T12:44:00 12 :2")
	}
	for _, cell := range []string{"2019-05-12 12:44", "201905121244", "20190512 1244", "12.05.2019 12:44", "2019-05-12 12:44 pm", "20190512124400"} {
		expect(t, cell, "time (UTC),temp_c\n"+cell+",12\n", importer.Hints{}, "2019-05-12T12:44:00 12 :2")
		expect(t, cell+" with a zone", "time,temp_c\n"+cell+",12\n", importer.Hints{Zone: "UTC"}, "2019-05-12T12:44:00 12 :2")
		expect(t, cell+" without one", "time,temp_c\n"+cell+",12\n", importer.Hints{}, "refused no-zone :2")
	}
	expect(t, "hours alone", "time (UTC),temp_c\n2019051212,12\n", importer.Hints{}, "2019-05-12T12:00:00 12 :2")
	expect(t, "hour 24", "time (UTC),temp_c\n2019-05-12 24:00,12\n", importer.Hints{}, "2019-05-13T00:00:00 12 :2")
}

func TestTimesThatAreNone(t *testing.T) {
	for _, cell := range []string{"", "noon", "2019-05-12", "20190512", "2019-02-30T12:00Z", "2019-05-12T25:00Z", "2019-05-12T12:60Z", "1989-12-31T00:00Z", "2101-01-01T00:00Z", "2019-05-12T12:00+17:00",
		"2019-05-12T12:00+02:07", "2019-05-12T12:00 EST", "2019-05-12 13:00 pm", "12:00Z"} {
		expect(t, cell, "time,temp_c\n"+cell+",12\n2019-05-12T12:00Z,12\n", importer.Hints{}, "2019-05-12T12:00:00 12 :3; bad-time :2")
	}
}

func TestDateOrder(t *testing.T) {
	const text = "time,temp_c\n03/04/2025 09:00,12\n"
	expect(t, "open", text, importer.Hints{Zone: "UTC"}, "refused unclear-dates :2")
	expect(t, "day first", text, importer.Hints{Zone: "UTC", Dates: "dmy"}, "2025-04-03T09:00:00 12 :2")
	expect(t, "month first", text, importer.Hints{Zone: "UTC", Dates: "mdy"}, "2025-03-04T09:00:00 12 :2")
	expect(t, "only one can be", "time,temp_c\n04/13/2025 09:00 PM,12\n13/04/2025 09:00,12\n", importer.Hints{Zone: "UTC"}, "2025-04-13T09:00:00 12 :3; 2025-04-13T21:00:00 12 :2")
}

// Zones: by the row, by the header, declared, or refused with the option that says it.
func TestZones(t *testing.T) {
	berlin := importer.Hints{Zone: "Europe/Berlin"}
	expect(t, "header with an offset", "time (UTC+01:00),temp_c\n2025-07-03 09:00,12\n2025-07-03T09:30Z,13\n", berlin, "2025-07-03T08:00:00 12 :2; 2025-07-03T09:30:00 13 :3")
	expect(t, "declared", "time,temp_c\n2025-07-03 09:00,12\n2025-01-03 09:00,3\n", berlin, "2025-01-03T08:00:00 3 :3; 2025-07-03T07:00:00 12 :2")
	expect(t, "standard time all year", "time,temp_c\n2025-07-03 09:00,12\n", importer.Hints{Zone: "Etc/GMT-1"}, "2025-07-03T08:00:00 12 :2")
	expect(t, "no such zone", "time,temp_c\n2025-07-03 09:00,12\n", importer.Hints{Zone: "Mars/Olympus"}, "refused no-zone :2")
	expect(t, "one row without", "time,temp_c\n2025-07-03 09:00,12\n2025-07-03T09:00Z,12\n", importer.Hints{}, "2025-07-03T09:00:00 12 :3; no-zone :2")
	// The European Union's clocks: forward on 30 March 2025, back on 26 October 2025 at 01:00 UTC (directive 2000/84/EC).
	expect(t, "forward", "time,temp_c\n2025-03-30 01:30,1\n2025-03-30 02:30,2\n2025-03-30 03:30,3\n", berlin, "2025-03-30T00:30:00 1 :2; 2025-03-30T01:30:00 3 :4; bad-time :3")
	expect(t, "back", "time,temp_c\n2025-10-26 01:30,1\n2025-10-26 02:00,2\n2025-10-26 02:30,3\n2025-10-26 02:00,4\n2025-10-26 02:30,5\n2025-10-26 03:00,6\n", berlin,
		"2025-10-25T23:30:00 1 :2; 2025-10-26T00:00:00 2 :3; 2025-10-26T00:30:00 3 :4; 2025-10-26T01:00:00 4 :5; 2025-10-26T01:30:00 5 :6; 2025-10-26T02:00:00 6 :7")
	expect(t, "back, newest first", "time,temp_c\n2025-10-26 04:00,7\n2025-10-26 03:00,6\n2025-10-26 02:30,5\n2025-10-26 02:00,4\n2025-10-26 02:30,3\n2025-10-26 02:00,2\n2025-10-26 01:30,1\n", berlin,
		"2025-10-25T23:30:00 1 :8; 2025-10-26T00:00:00 2 :7; 2025-10-26T00:30:00 3 :6; 2025-10-26T01:00:00 4 :5; 2025-10-26T01:30:00 5 :4; 2025-10-26T02:00:00 6 :3; 2025-10-26T03:00:00 7 :2")
	r := read(t, "time,temp_c\n2025-07-03 09:00,12\n", importer.Hints{})
	if r.Refused == nil || !strings.Contains(r.Refused.Hint, "--zone UTC") {
		t.Errorf("the hint does not name --zone UTC: %+v", r.Refused)
	}
}
