package tcx

import (
	"fmt"
	"strings"
	"time"
)

// long is a run of 20,000 points, indented as usual.
func long() []byte {
	var points []string
	first := time.Date(2026, 4, 12, 7, 0, 0, 0, time.UTC)
	for i := range 20_000 {
		points = append(points, fmt.Sprintf(`
          <Trackpoint>
            <Time>%s</Time>
            <Position>
              <LatitudeDegrees>%.7f</LatitudeDegrees>
              <LongitudeDegrees>-27.2000000</LongitudeDegrees>
            </Position>
            <AltitudeMeters>%d.2</AltitudeMeters>
            <DistanceMeters>%.2f</DistanceMeters>
            <HeartRateBpm>
              <Value>%d</Value>
            </HeartRateBpm>
            <Extensions>
              <TPX xmlns="urn:example:activity">
                <Speed>2.9</Speed>
                <RunCadence>82</RunCadence>
              </TPX>
            </Extensions>
          </Trackpoint>`, first.Add(time.Duration(i)*time.Second).Format("2006-01-02T15:04:05.000Z"), 44+float64(i)*1e-5, i%50, float64(i)*2.9, 120+i%40))
	}
	return []byte(run(lapOf(start, "20000", "58000", `<Track>`+strings.Join(points, "")+`</Track>`)))
}
