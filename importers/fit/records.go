package fit

import "math"

// record takes in a record message. Speed and altitude come in two widths, of
// which the wider one wins.
func (s *scan) record(l *layout, b []byte, at uint32) {
	if s.rows == nil {
		s.rows = make([]row, 0, min(s.size/len(b)+1, s.left.records))
	}
	r := blank(at)
	for i := range l.fields {
		f := &l.fields[i]
		if f.num == recordSpeedDistance {
			s.travel.take(&r, f, b)
		} else if v, ok := f.number(b); ok {
			r.set(f.num, v)
		}
	}
	s.rows = append(s.rows, r)
	s.left.records--
}

// set takes in one field of a record in the units of the FIT profile.
func (r *row) set(num byte, v int64) {
	switch num {
	case recordLat:
		r.lat = int32(v)
	case recordLong:
		r.lon = int32(v)
	case recordDistance:
		if v = centimetres(v); v >= 0 {
			r.distance = float32(float64(v) / 100)
		}
	case recordHR:
		r.hr = bpm(v)
	case recordTemp:
		r.temp = float32(v)
	case recordFineAltitude:
		r.altitude = float32(v)/5 - 500
	case recordFineSpeed:
		r.speed = float32(v) / 1000
	case recordAltitude:
		if r.altitude != r.altitude {
			r.altitude = float32(v)/5 - 500
		}
	case recordSpeed:
		if r.speed != r.speed {
			r.speed = float32(v) / 1000
		}
	}
}

// bpm is a heart rate, 0 if it cannot be one: 0 and 255 stand for "no reading".
func bpm(v int64) uint8 {
	if v <= 0 || v >= 255 {
		return 0
	}
	return uint8(v)
}

// travel adds up compressed_speed_distance: 12 bits of speed in 1/100 m/s and
// 12 bits of distance in 1/16 m that roll over every 256 m.
type travel struct {
	last  uint32
	total uint32
}

func (t *travel) take(r *row, f *field, b []byte) {
	b = b[f.off : f.off+f.size]
	if len(b) != 3 || b[0] == 0xFF && b[1] == 0xFF && b[2] == 0xFF {
		return
	}
	now := uint32(b[1])>>4 | uint32(b[2])<<4
	t.total += (now - t.last) & 0xFFF
	t.last = now
	if r.distance != r.distance {
		r.distance = float32(float64(t.total) / 16)
	}
	if r.speed != r.speed {
		r.speed = float32(uint32(b[0])|uint32(b[1]&0x0F)<<8) / 100
	}
}

// blank is a row in which everything but the time is missing.
func blank(at uint32) row {
	nan := float32(math.NaN())
	return row{at: at, lat: noPlace, lon: noPlace, distance: nan, altitude: nan, speed: nan, temp: nan}
}
