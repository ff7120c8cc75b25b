package gpx

import (
	"fmt"

	"github.com/tkrajina/gpxgo/gpx"

	"saltpan/importers/importer"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

const secondName = "gpxgo"

// second asks gpxgo for its totals, on demand and whenever the first reader
// found damage. Its times are not taken: it loses offsets without a word.
func (d *document) second(src importer.Source, res *importer.Result) {
	failed := d.damage != "" || res.Empty() && (d.tally.Has(importer.BadTime) || d.tally.Has(importer.NoZone))
	if !src.Hints.Second && !failed {
		return
	}
	tracks, err := secondTracks(src.Data)
	if res.Empty() {
		res.Why = append(res.Why, secondOpinion(tracks, err))
	}
	for i := range res.Activities {
		a := &res.Activities[i]
		n, whole := d.whole[a.ID]
		if err != nil {
			a.Second = &record.Totals{Reader: secondName, Failed: err.Error()}
		} else if whole && n < len(tracks) {
			a.Second = secondTotals(tracks[n])
		}
	}
}

// secondTracks guards against panics in a reader that is not ours.
func secondTracks(data []byte) (tracks []gpx.GPXTrack, err error) {
	defer func() {
		if r := recover(); r != nil {
			tracks, err = nil, fmt.Errorf("stopped: %v", r)
		}
	}()
	doc, err := gpx.ParseBytes(data)
	if err != nil {
		return nil, err
	}
	return doc.Tracks, nil
}

func secondTotals(t gpx.GPXTrack) *record.Totals {
	out := &record.Totals{Reader: secondName}
	for _, s := range t.Segments {
		out.Samples += len(s.Points)
	}
	if out.Samples > 0 {
		m := quantity.Distance(t.Length2D())
		out.Distance = &m
	}
	return out
}

func secondOpinion(tracks []gpx.GPXTrack, err error) string {
	if err != nil {
		return fmt.Sprintf("second reader %s: %v", secondName, err)
	}
	points := 0
	for _, t := range tracks {
		points += secondTotals(t).Samples
	}
	return fmt.Sprintf("second reader %s: %d tracks, %d points", secondName, len(tracks), points)
}
