package store

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"saltpan/pipeline/record"
)

// text holds what breaks careless SQL, quoting or encoding.
var text = rapid.SampledFrom([]string{"ines", "Ana O'Neill", `"; DROP TABLE activity; --`, "çãõ ü ß 漢字 🏃", "a\x00b",
	"line\nbreak", "%_?#&", " "})

// fillAny sets every field of v, also those that a record gains later, so that one
// without a column fails the round trip. Times and durations are whole
// milliseconds, what the store keeps.
func fillAny(t *rapid.T, v reflect.Value, name string) {
	switch v.Addr().Interface().(type) {
	case *time.Time:
		v.Set(reflect.ValueOf(moment(rapid.Int64Range(0, 4102444800000).Draw(t, name))))
		return
	case *time.Duration:
		v.SetInt(int64(time.Millisecond) * rapid.Int64Range(-1e9, 1e9).Draw(t, name))
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(text.Draw(t, name))
	case reflect.Float64, reflect.Float32:
		v.SetFloat(float64(float32(rapid.Float64Range(-1e5, 1e5).Draw(t, name))))
	case reflect.Int:
		v.SetInt(rapid.Int64Range(0, 1<<31).Draw(t, name))
	case reflect.Uint8:
		v.SetUint(rapid.Uint64Range(0, 255).Draw(t, name))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, name))
	case reflect.Pointer:
		if rapid.IntRange(0, 3).Draw(t, name+" there") > 0 {
			v.Set(reflect.New(v.Type().Elem()))
			fillAny(t, v.Elem(), name)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fillAny(t, v.Field(i), name+"."+v.Type().Field(i).Name)
		}
	case reflect.Array:
		for i := range v.Len() {
			fillAny(t, v.Index(i), name)
		}
	case reflect.Slice:
		n := rapid.IntRange(0, 3).Draw(t, name+" length")
		if n == 0 {
			return // nil
		}
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			fillAny(t, v.Index(i), name)
		}
	default:
		t.Fatalf("%s: no values for a %v", name, v.Kind())
	}
}

func drawn[T any](t *rapid.T) []T {
	out := make([]T, 2)
	for i := range out {
		fillAny(t, reflect.ValueOf(&out[i]).Elem(), fmt.Sprintf("%T", out[i]))
	}
	return out
}

// drawFacts gives two of everything, with keys that are unique and in the order
// the store gives them back.
func drawFacts(t *rapid.T) record.Facts {
	f := record.Facts{
		Athletes: drawn[record.Athlete](t), Scales: drawn[record.Scale](t), Activities: drawn[record.Activity](t),
		WeighIns: drawn[record.WeighIn](t), Notes: drawn[record.Note](t), Screens: drawn[record.Screen](t),
		SodiumTests: drawn[record.SodiumTest](t), Weather: drawn[record.Weather](t), Answers: drawn[record.Answer](t),
		Corrections: drawn[record.Correction](t), Consents: drawn[record.Consent](t),
	}
	for i := range 2 {
		f.Athletes[i].Key, f.Scales[i].Key = fmt.Sprint("k", i), fmt.Sprint("s", i)
		f.Activities[i].ID, f.WeighIns[i].Scale = fmt.Sprint("a", i), fmt.Sprint("s", i)
		if m := f.Athletes[i].Medical; m != nil && *m == nil {
			*m = []string{} // "none"
		}
		f.Keys = append(f.Keys, record.SessionKey{Key: fmt.Sprint("k", i), Activity: f.Activities[i].ID})
		f.Backgrounds = append(f.Backgrounds, record.Background{Scale: fmt.Sprint("s", i),
			Count: map[[2]int]int{{60 + i, 7}: 3, {61, 23}: 1}})
		f.Activities[i].Samples = orderedSamples(f.Activities[i].Samples)
	}
	byTime(f.Activities, func(a record.Activity) time.Time { return a.Start })
	byTime(f.WeighIns, func(w record.WeighIn) time.Time { return w.Wall })
	byTime(f.Notes, func(n record.Note) time.Time { return n.At })
	byTime(f.Screens, func(s record.Screen) time.Time { return s.At })
	byTime(f.Consents, func(c record.Consent) time.Time { return c.At })
	byTime(f.SodiumTests, func(s record.SodiumTest) time.Time { return s.At })
	byTime(f.Weather, func(w record.Weather) time.Time { return w.At })
	byTime(f.Answers, func(a record.Answer) time.Time { return a.At })
	byTime(f.Corrections, func(c record.Correction) time.Time { return c.At })
	return f
}

func byTime[T any](all []T, at func(T) time.Time) {
	slices.SortStableFunc(all, func(a, b T) int { return at(a).Compare(at(b)) })
}

func orderedSamples(s []record.Sample) []record.Sample {
	slices.SortFunc(s, func(a, b record.Sample) int { return cmp.Compare(a.At, b.At) })
	return s
}

// put writes facts as commands do.
func put(tx *Tx, f record.Facts) error {
	var err error
	each := func(e error) {
		if err == nil {
			err = e
		}
	}
	for i := range f.Athletes {
		each(tx.PutAthlete(f.Athletes[i]))
		each(tx.PutScale(f.Scales[i]))
		each(tx.PutActivity(f.Activities[i]))
		each(tx.PutNote(f.Notes[i]))
		each(tx.PutScreen(f.Screens[i]))
		each(tx.PutSodiumTest(f.SodiumTests[i]))
		each(tx.PutConsent(f.Consents[i]))
		each(tx.PutAnswer(f.Answers[i]))
		each(tx.PutCorrection(f.Corrections[i]))
		each(tx.AddBackground(f.Backgrounds[i].Scale, f.Backgrounds[i].Count))
	}
	each(tx.PutWeighIns(f.WeighIns))
	each(tx.PutWeather(f.Weather))
	each(tx.PutKeys(f.Keys))
	return err
}

func TestRoundTripOfEveryRecord(t *testing.T) {
	ctx := context.Background()
	s := fresh(t)
	rapid.Check(t, func(t *rapid.T) {
		want := drawFacts(t)
		if err := s.Change(ctx, t0, "test", "", func(tx *Tx) error { return put(tx, want) }); err != nil {
			t.Fatal(err)
		}
		defer s.Undo(ctx, t0, 1) // the next round finds nothing of this one
		for i := range want.Activities {
			a := &want.Activities[i]
			got, err := s.Samples(ctx, a.ID)
			if err != nil || len(got) != len(a.Samples) || (len(got) > 0 && !reflect.DeepEqual(got, a.Samples)) {
				t.Fatalf("samples %v, %v, want %v", got, err, a.Samples)
			}
			a.Samples = nil
		}
		got, err := s.Facts(ctx)
		if err != nil {
			t.Fatal(err)
		}
		sameParts(t, got, want)
	})
}

func sameParts(t *rapid.T, got, want record.Facts) {
	g, w := reflect.ValueOf(got), reflect.ValueOf(want)
	for i := range g.NumField() {
		if a, b := g.Field(i).Interface(), w.Field(i).Interface(); !reflect.DeepEqual(a, b) {
			t.Errorf("%s\ngot  %+v\nwant %+v", g.Type().Field(i).Name, a, b)
		}
	}
}

func TestPackKeepsMissingValues(t *testing.T) {
	nan := float32(math.NaN())
	want := []record.Sample{
		{At: -time.Second, Distance: nan, Altitude: 12.5, Speed: nan, Temp: nan},
		{At: 0, Distance: 1, Altitude: nan, Speed: nan, Temp: nan, HRBpm: 141},
	}
	blob, sum, err := pack(want)
	if err != nil || sum != hash(blob) {
		t.Fatal(err)
	}
	got, err := unpack(blob)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := fmt.Sprint(got), fmt.Sprint(want); a != b { // NaN prints as itself
		t.Errorf("got  %s\nwant %s", a, b)
	}
}

func TestUnpackTakesNothingDamaged(t *testing.T) {
	blob, _, err := pack(manySamples(200))
	if err != nil {
		t.Fatal(err)
	}
	for n := range blob {
		if _, err := unpack(blob[:n]); err == nil {
			t.Fatalf("%d of %d bytes were taken for whole", n, len(blob))
		}
	}
	if _, err := unpack([]byte{plain, 0xff, 0xff, 0xff, 0xff, 0xff}); err == nil {
		t.Error("four thousand million samples in no byte")
	}
	if _, err := unpack([]byte{7, 0, 0, 0, 0, 0}); err == nil {
		t.Error("an unknown way of packing was read as plain")
	}
}

// manySamples is a run at one sample a second.
func manySamples(n int) []record.Sample {
	out := make([]record.Sample, n)
	for i := range out {
		x := float64(i)
		out[i] = record.Sample{At: time.Duration(i) * time.Second, Distance: float32(2.9 * x),
			Altitude: float32(math.Round(5*(120+30*math.Sin(x/300))) / 5), Speed: float32(math.Round(1000*(2.9+0.2*math.Sin(x/7))) / 1000),
			Temp: float32(22 + i/900), HRBpm: uint8(140 + 10*math.Sin(x/60))}
	}
	return out
}
