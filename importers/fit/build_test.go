package fit

import (
	"bytes"
	"encoding/binary"
	"testing"
	"time"

	"github.com/muktihari/fit/encoder"
	"github.com/muktihari/fit/profile/factory"
	"github.com/muktihari/fit/profile/typedef"
	"github.com/muktihari/fit/proto"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
	"saltpan/pipeline/record"
)

// Numbers of messages that only tests write.
const (
	mesgUserProfile     = 3
	mesgMonitoring      = 55
	mesgHR              = 132
	mesgDeveloperDataID = 207
)

// began is when the invented sessions begin, in FIT seconds.
var began = stampOf("2026-04-12T07:03:11Z")

func stampOf(text string) uint32 {
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		panic(err)
	}
	return seconds(at)
}

// mesg is a message with fields given as number, value, number, value …
func mesg(num uint16, fields ...any) proto.Message {
	m := proto.Message{Num: typedef.MesgNum(num)}
	for i := 0; i < len(fields); i += 2 {
		n := byte(fields[i].(int))
		m.Fields = append(m.Fields, factory.CreateField(m.Num, n).WithValue(fields[i+1]))
	}
	return m
}

// encode writes messages as a FIT file with an encoder nobody here wrote.
func encode(t testing.TB, messages []proto.Message, options ...encoder.Option) []byte {
	t.Helper()
	var out bytes.Buffer
	f := &proto.FIT{Messages: messages}
	if err := encoder.New(&out, options...).Encode(f); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// fileOf is file_id of a type by an invented recorder.
func fileOf(kind int) proto.Message {
	return mesg(mesgFileID, fileIDType, byte(kind), fileIDManufacturer, uint16(255), fileIDProduct, uint16(7),
		fileIDSerial, uint32(123456), fileIDCreated, began)
}

// recordsOf is n records, one a second from a time, at 3 m/s and 120 bpm or so.
func recordsOf(from uint32, n int) (out []proto.Message) {
	for i := range n {
		out = append(out, mesg(mesgRecord, fieldTimestamp, from+uint32(i),
			recordLat, semicircles(38.71+float64(i)*0.00002), recordLong, semicircles(-9.15),
			recordDistance, uint32(300*i), recordHR, uint8(120+i%10), recordTemp, int8(20+i%3),
			recordFineSpeed, uint32(3000), recordFineAltitude, uint32((512+500)*5)))
	}
	return out
}

func semicircles(degrees float64) int32 { return int32(degrees / 180 * (1 << 31)) }

// sessionOfSport is a session message of n seconds at 3 m/s.
func sessionOfSport(sport int, from uint32, n int) proto.Message {
	return mesg(mesgSession, fieldTimestamp, from+uint32(n), sessionStart, from, sessionSport, byte(sport),
		sessionElapsed, uint32(n*1000), sessionTimer, uint32(n*1000-500), sessionDistance, uint32(n*300),
		sessionMeanHR, uint8(124), sessionAscent, uint16(12))
}

func lapOf(from uint32, n int) proto.Message {
	return mesg(mesgLap, fieldTimestamp, from+uint32(n), lapStart, from, lapElapsed, uint32(n*1000), lapDistance, uint32(n*300))
}

// activityOf is the activity message with local time so many seconds ahead.
func activityOf(at uint32, ahead int) proto.Message {
	return mesg(mesgActivity, fieldTimestamp, at, activityLocal, uint32(int(at)+ahead))
}

// joined is messages and lists of messages in one list.
func joined(parts ...any) (out []proto.Message) {
	for _, p := range parts {
		switch p := p.(type) {
		case proto.Message:
			out = append(out, p)
		case []proto.Message:
			out = append(out, p...)
		}
	}
	return out
}

// runOf is a plain run of n seconds.
func runOf(n int) []proto.Message {
	return joined(fileOf(typeActivity), recordsOf(began, n), lapOf(began, n), sessionOfSport(1, began, n), activityOf(began+uint32(n), 3600))
}

func readAll(t testing.TB, data []byte, hints ...importer.Hints) importer.Result {
	t.Helper()
	src := importertest.Source("invented.fit", data, importer.Hints{Athlete: "ines"})
	if len(hints) > 0 {
		src.Hints = hints[0]
	}
	got := New().Read(src)
	if t, ok := t.(*testing.T); ok {
		importertest.Check(t, got)
	}
	return got
}

// only is the single activity of a file.
func only(t testing.TB, data []byte) record.Activity {
	t.Helper()
	got := readAll(t, data)
	if len(got.Activities) != 1 {
		t.Fatalf("want one activity: %s", importertest.Text(got))
	}
	return got.Activities[0]
}

// raw is a FIT file of messages put together byte by byte, for what no
// encoder writes. Its checksum and length are right.
func raw(head int, messages ...[]byte) []byte {
	out := make([]byte, head)
	out[0], out[1] = byte(head), 0x10
	copy(out[8:], ".FIT")
	out = append(out, bytes.Join(messages, nil)...)
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-head))
	return binary.LittleEndian.AppendUint16(out, crc16(out))
}

// definition is a little-endian definition message; fields are number, size, base type.
func definition(local byte, mesg uint16, fields ...byte) []byte {
	out := append([]byte{0x40 | local, 0, 0, byte(mesg), byte(mesg >> 8)}, byte(len(fields)/3))
	return append(out, fields...)
}

// le is a little-endian 32-bit number.
func le(v uint32) []byte { return binary.LittleEndian.AppendUint32(nil, v) }

// data is a data message.
func data(header byte, values ...[]byte) []byte {
	return append([]byte{header}, bytes.Join(values, nil)...)
}
