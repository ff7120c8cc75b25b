package season

import (
	"fmt"
	"strings"

	"saltpan/pipeline/simulate"
)

const (
	xmlHead    = `<?xml version="1.0" encoding="UTF-8"?>` + "\n"
	localTime  = "2006-01-02T15:04:05-07:00"
	utcTime    = "2006-01-02T15:04:05Z"
	gpxSpace   = "http://www.topografix.com/GPX/1/1"
	pointSpace = "http://www.garmin.com/xmlschemas/TrackPointExtension/v1"
	tcxSpace   = "http://www.garmin.com/xmlschemas/TrainingCenterDatabase/v2"
)

// gpx is the recording as GPX 1.1: local times with their offset, heart rate
// and air temperature as point extensions, a new segment after a pause. It is
// for runs in the open: a point of this format has to have a place.
func (b bout) gpx() []byte {
	var w strings.Builder
	track := b.track()
	fmt.Fprintf(&w, xmlHead+`<gpx version="1.1" creator="saltpan" xmlns=%q xmlns:tp=%q>`+"\n", gpxSpace, pointSpace)
	fmt.Fprintf(&w, "<trk><name>%s</name><type>running</type>\n<trkseg>\n", b.session.Key)
	for i, pt := range track {
		if b.pausedBefore(track, i) {
			w.WriteString("</trkseg>\n<trkseg>\n")
		}
		fmt.Fprintf(&w, `<trkpt lat="%.7f" lon="%.7f"><ele>%.1f</ele>`, pt.Lat, pt.Lon, float64(pt.Altitude))
		fmt.Fprintf(&w, "<time>%s</time>", simulate.Local(b.at(pt.At)).Format(localTime))
		fmt.Fprintf(&w, "<extensions><tp:TrackPointExtension><tp:atemp>%.0f</tp:atemp><tp:hr>%d</tp:hr></tp:TrackPointExtension></extensions></trkpt>\n",
			pt.Temp.Celsius(), pt.HRBpm)
	}
	w.WriteString("</trkseg>\n</trk>\n</gpx>\n")
	return []byte(w.String())
}

// tcx is the recording as TCX: UTC times, a lap each kilometre, a new track
// after a pause. The format has no place for a temperature.
func (b bout) tcx() []byte {
	var w strings.Builder
	track := b.track()
	fmt.Fprintf(&w, xmlHead+`<TrainingCenterDatabase xmlns=%q>`+"\n", tcxSpace)
	fmt.Fprintf(&w, "<Activities><Activity Sport=\"Running\"><Id>%s</Id>\n", b.part.Start.Format(utcTime))
	for _, l := range laps(b.part, track) {
		b.tcxLap(&w, l)
	}
	w.WriteString("</Activity></Activities>\n</TrainingCenterDatabase>\n")
	return []byte(w.String())
}

func (b bout) tcxLap(w *strings.Builder, l lap) {
	kcal := b.session.Truth.Before.Kilograms() * l.metres / 1000
	fmt.Fprintf(w, "<Lap StartTime=%q><TotalTimeSeconds>%.1f</TotalTimeSeconds><DistanceMeters>%.2f</DistanceMeters>"+
		"<Calories>%.0f</Calories><AverageHeartRateBpm><Value>%d</Value></AverageHeartRateBpm>"+
		"<Intensity>Active</Intensity><TriggerMethod>Distance</TriggerMethod>\n<Track>\n",
		b.at(l.from).Format(utcTime), l.timer.Seconds(), l.metres, kcal, meanHR(l.points))
	for i, pt := range l.points {
		if b.pausedBefore(l.points, i) {
			w.WriteString("</Track>\n<Track>\n")
		}
		fmt.Fprintf(w, "<Trackpoint><Time>%s</Time>", b.at(pt.At).Format(utcTime))
		if !b.session.Indoor() {
			fmt.Fprintf(w, "<Position><LatitudeDegrees>%.7f</LatitudeDegrees><LongitudeDegrees>%.7f</LongitudeDegrees></Position>"+
				"<AltitudeMeters>%.1f</AltitudeMeters>", pt.Lat, pt.Lon, float64(pt.Altitude))
		}
		fmt.Fprintf(w, "<DistanceMeters>%.2f</DistanceMeters><HeartRateBpm><Value>%d</Value></HeartRateBpm></Trackpoint>\n",
			float64(pt.Distance), pt.HRBpm)
	}
	w.WriteString("</Track>\n</Lap>\n")
}
