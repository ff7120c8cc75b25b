package season

import (
	"bytes"
	"time"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/mesgdef"
	"github.com/muktihari/fit/profile/typedef"
	"github.com/muktihari/fit/proto"

	"saltpan/pipeline/quantity"
	"saltpan/pipeline/simulate"
)

// fit is the recording as a FIT activity file: file_id, then messages in the
// order of time, summaries last.
func (b bout) fit() ([]byte, error) {
	track := b.track()
	fit := proto.FIT{Messages: make([]proto.Message, 0, len(track)+40)}
	add := func(m interface {
		ToMesg(*mesgdef.Options) proto.Message
	}) {
		fit.Messages = append(fit.Messages, m.ToMesg(nil))
	}
	add(b.fitFileID())
	add(b.fitEvent(0, typedef.EventTypeStart))
	for i, pt := range track {
		if b.pausedBefore(track, i) {
			add(b.fitEvent(b.part.PauseAt, typedef.EventTypeStopAll))
			add(b.fitEvent(b.part.PauseAt+b.part.Pause, typedef.EventTypeStart))
		}
		add(b.fitRecord(pt))
	}
	add(b.fitEvent(b.part.Elapsed, typedef.EventTypeStopAll))
	cut := laps(b.part, track)
	for i, l := range cut {
		add(b.fitLap(i, l))
	}
	add(b.fitSession(track, len(cut)))
	add(b.fitActivity())
	var out bytes.Buffer
	err := encoder.New(&out, encoder.WithHeaderOption(encoder.HeaderOptionNormal, 15)).Encode(&fit)
	return out.Bytes(), err
}

// pausedBefore reports whether the pause lies between point i and the one before.
func (b bout) pausedBefore(track []simulate.Point, i int) bool {
	return b.part.Pause > 0 && i > 0 && track[i-1].At <= b.part.PauseAt && track[i].At > b.part.PauseAt
}

func (b bout) at(t time.Duration) time.Time { return b.part.Start.Add(t) }

// fitFileID names no maker: 255 is the profile's number for development.
func (b bout) fitFileID() *mesgdef.FileId {
	return mesgdef.NewFileId(nil).
		SetType(typedef.FileActivity).
		SetManufacturer(typedef.ManufacturerDevelopment).
		SetProduct(1).
		SetSerialNumber(b.serial).
		SetTimeCreated(b.part.Start)
}

func (b bout) fitEvent(t time.Duration, kind typedef.EventType) *mesgdef.Event {
	return mesgdef.NewEvent(nil).
		SetTimestamp(b.at(t)).
		SetEvent(typedef.EventTimer).
		SetEventType(kind)
}

func (b bout) fitRecord(pt simulate.Point) *mesgdef.Record {
	m := mesgdef.NewRecord(nil).
		SetTimestamp(b.at(pt.At)).
		SetDistanceScaled(float64(pt.Distance)).
		SetEnhancedSpeedScaled(float64(pt.Speed)).
		SetHeartRate(pt.HRBpm).
		SetTemperature(int8(pt.Temp))
	if !b.session.Indoor() {
		m.SetPositionLatDegrees(pt.Lat).SetPositionLongDegrees(pt.Lon).
			SetEnhancedAltitudeScaled(float64(pt.Altitude))
	}
	return m
}

func (b bout) fitLap(i int, l lap) *mesgdef.Lap {
	return mesgdef.NewLap(nil).
		SetMessageIndex(typedef.MessageIndex(i)).
		SetTimestamp(b.at(l.to)).
		SetStartTime(b.at(l.from)).
		SetTotalElapsedTimeScaled((l.to - l.from).Seconds()).
		SetTotalTimerTimeScaled(l.timer.Seconds()).
		SetTotalDistanceScaled(l.metres).
		SetAvgHeartRate(meanHR(l.points)).
		SetEvent(typedef.EventLap).
		SetEventType(typedef.EventTypeStop)
}

func (b bout) fitSession(track []simulate.Point, nLaps int) *mesgdef.Session {
	sub := typedef.SubSportTrail
	m := mesgdef.NewSession(nil)
	if b.session.Indoor() {
		sub = typedef.SubSportTreadmill
	} else {
		m.SetStartPositionLatDegrees(track[0].Lat).SetStartPositionLongDegrees(track[0].Lon).
			SetTotalAscent(uint16(b.session.Ascent(b.part)))
	}
	return m.
		SetTimestamp(b.part.Stop()).
		SetStartTime(b.part.Start).
		SetTotalElapsedTimeScaled(b.part.Elapsed.Seconds()).
		SetTotalTimerTimeScaled(b.part.Moving().Seconds()).
		SetTotalDistanceScaled(float64(b.part.Distance)).
		SetEnhancedAvgSpeedScaled(float64(b.part.Distance) / b.part.Moving().Seconds()).
		SetAvgHeartRate(meanHR(track)).
		SetMaxHeartRate(maxHR(track)).
		SetAvgTemperature(int8(meanTemp(track).Celsius())).
		SetSport(typedef.SportRunning).
		SetSubSport(sub).
		SetFirstLapIndex(0).
		SetNumLaps(uint16(nLaps)).
		SetEvent(typedef.EventSession).
		SetEventType(typedef.EventTypeStop)
}

// fitActivity holds the local time, from which the offset can be read.
func (b bout) fitActivity() *mesgdef.Activity {
	stop := b.part.Stop()
	return mesgdef.NewActivity(nil).
		SetTimestamp(stop).
		SetLocalTimestamp(stop.Add(simulate.Offset(stop))).
		SetTotalTimerTimeScaled(b.part.Moving().Seconds()).
		SetNumSessions(1).
		SetType(typedef.ActivityManual).
		SetEvent(typedef.EventActivity).
		SetEventType(typedef.EventTypeStop)
}

func meanTemp(track []simulate.Point) quantity.Temperature {
	var sum quantity.Temperature
	for _, pt := range track {
		sum += pt.Temp
	}
	return sum / quantity.Temperature(len(track))
}
