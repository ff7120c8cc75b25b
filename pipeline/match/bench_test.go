package match

import (
	"fmt"
	"testing"
)

// A season of 300 sessions with 1,500 readings of the household is to match
// in under half a second on one core.
func BenchmarkFind(b *testing.B) {
	for _, sessions := range []int{300, 5000} {
		in := season(spring, sessions, onTime)
		for i := 0; len(in.WeighIns) < 5*sessions; i++ {
			w := in.WeighIns[i]
			w.ID = fmt.Sprintf("x%05d", i)
			w.Wall, w.Mass = w.Wall.Add(minutes(float64(31+i*37%600))), w.Mass+1
			in.WeighIns = append(in.WeighIns, w)
		}
		b.Run(fmt.Sprintf("%d sessions", sessions), func(b *testing.B) {
			for b.Loop() {
				Find(in)
			}
		})
	}
}
