package measure_test

import (
	"fmt"
	"math"
	"testing"

	"saltpan/pipeline/measure"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance || math.IsNaN(got) {
		t.Errorf("%s: got %v, want %v ± %v", what, got, want, tolerance)
	}
}

// gauge reads an input of the end gauge whose parts come from different causes.
func gauge(value float64, parts ...measure.Part) measure.Estimate[float64] {
	return measure.Read("test", value, nil, parts...)
}

// endGauge is GUM H.1 (JCGM 100:2008; numbers from memory), in nm and °C:
// l = lS + d − lS (δα θ + αS δθ), first order.
func endGauge() measure.Estimate[float64] {
	const lS, d, alpha, theta = 50.000623e6, 215, 11.5e-6, -0.1
	standard := gauge(lS, measure.Part{Cause: "standard", U: 25, DF: 18})
	difference := gauge(d, measure.Part{Cause: "observations", U: 5.8, DF: 24},
		measure.Part{Cause: "comparator-random", U: 3.9, DF: 5}, measure.Part{Cause: "comparator-systematic", U: 6.7, DF: 8})
	expansion := gauge(0, measure.Part{Cause: "difference-of-expansion", U: 0.58e-6, DF: 50})
	warmth := gauge(0, measure.Part{Cause: "difference-of-temperature", U: 0.029, DF: 2})
	coefficient := gauge(alpha, measure.Part{Cause: "expansion", U: 1.2e-6})
	temperature := gauge(theta, measure.Part{Cause: "bed", U: 0.2}, measure.Part{Cause: "cycle", U: 0.35})
	return measure.Combine("test", lS+d, standard.Times(1), difference.Times(1), expansion.Times(-lS*theta),
		warmth.Times(-lS*alpha), coefficient.Times(0), temperature.Times(0)) // δα and δθ are 0 by expectation
}

// GUM H.1, calibration of an end gauge: 50.000838 mm, u = 32 nm, 16 effective
// degrees of freedom, U99 = 2.92·32 = 93 nm (from memory; u is 31.7 unrounded).
func TestEndGauge(t *testing.T) {
	e := endGauge()
	near(t, "length", e.Value, 50.000838e6, 0.5)
	near(t, "u", e.U(), 32, 0.5)
	near(t, "degrees of freedom", math.Floor(e.DF()), 16, 0)
	near(t, "factor", measure.Factor(0.99, e.DF()), 2.92, 0.005)
	near(t, "U99", measure.Factor(0.99, e.DF())*e.U(), 93, 0.5)
	near(t, "half of the 95 % interval", e.Hi-e.Value, 2.12*e.U(), 0.005*e.U()) // t95(16) of GUM table G.2
	near(t, "u of the difference", math.Sqrt(5.8*5.8+3.9*3.9+6.7*6.7), 9.7, 0.05)
	if n := len(e.Budget); n != 6 {
		t.Errorf("%d causes, want 6: those without an effect of the first order are left out", n)
	}
}

// The same with the terms of the second order, by simulation: GUM H.1.7 has
// u = 34 nm with them (from memory).
func TestEndGaugeSecondOrder(t *testing.T) {
	const lS, alpha, theta = 50.000623e6, 11.5e-6, -0.1
	e := measure.Simulate("test", 1, 100000, func(d *measure.Draw) float64 {
		l := lS + 25*d.Cause("standard")
		a := alpha + 1.2e-6*d.Cause("expansion")
		h := theta + 0.2*d.Cause("bed") + 0.35*d.Cause("cycle")
		return l + 215 + 9.7*d.Cause("difference") - l*(0.58e-6*d.Cause("difference-of-expansion")*h+a*0.029*d.Cause("difference-of-temperature"))
	})
	near(t, "u", e.U(), 34, 0.5)
	near(t, "length", e.Value, 50.000838e6, 1)
}

// reactance is GUM H.2 (JCGM 100:2008, table H.2; observations from memory):
// voltage, current and phase read together five times. Each observation is a
// cause that the three means share, which is their covariance of GUM 5.2.3.
func reactance() (v, i, phi measure.Estimate[float64]) {
	rows := [][]float64{
		{5.007, 4.994, 5.005, 4.990, 4.999},
		{0.019663, 0.019639, 0.019640, 0.019685, 0.019678},
		{1.0456, 1.0438, 1.0468, 1.0428, 1.0433},
	}
	var out [3]measure.Estimate[float64]
	for r, row := range rows {
		n, mean := float64(len(row)), 0.0
		for _, x := range row {
			mean += x / n
		}
		var parts []measure.Part
		for k, x := range row {
			parts = append(parts, measure.Part{Cause: fmt.Sprint("observation/", k), U: (x - mean) / math.Sqrt(n*(n-1))})
		}
		out[r] = measure.Read("test", mean, nil, parts...)
	}
	return out[0], out[1], out[2]
}

// correlation is GUM 5.2.2, equation 14, over shared causes.
func correlation(a, b measure.Estimate[float64]) float64 {
	other, sum := map[string]float64{}, 0.0
	for _, p := range b.Budget {
		other[p.Cause] = p.U
	}
	for _, p := range a.Budget {
		sum += p.U * other[p.Cause]
	}
	return sum / (a.U() * b.U())
}

// GUM H.2, simultaneous resistance and reactance (results from memory): R
// 127.732 Ω, u 0.071; X 219.847 Ω, u 0.295; Z 254.260 Ω, u 0.236; correlations
// −0.588, −0.485 and 0.993.
func TestResistanceAndReactance(t *testing.T) {
	v, i, phi := reactance()
	near(t, "u(V)", v.U(), 0.0032, 0.00005)
	near(t, "u(I)", i.U(), 0.0095e-3, 0.00005e-3)
	near(t, "u(φ)", phi.U(), 0.00075, 0.000005)
	near(t, "r(V,I)", correlation(v, i), -0.36, 0.005)
	near(t, "r(V,φ)", correlation(v, phi), 0.86, 0.005)
	near(t, "r(I,φ)", correlation(i, phi), -0.65, 0.005)

	z := v.Value / i.Value
	sin, cos := math.Sincos(phi.Value)
	of := func(f, df float64) measure.Estimate[float64] {
		return measure.Combine("test", z*f, v.Times(f/i.Value), i.Times(-z*f/i.Value), phi.Times(z*df))
	}
	r, x, abs := of(cos, -sin), of(sin, cos), of(1, 0)
	for _, c := range []struct {
		what           string
		e              measure.Estimate[float64]
		value, u, digs float64
	}{{"R", r, 127.732, 0.071, 0.0005}, {"X", x, 219.847, 0.295, 0.0005}, {"Z", abs, 254.260, 0.236, 0.0005}} {
		near(t, c.what, c.e.Value, c.value, c.digs)
		near(t, "u("+c.what+")", c.e.U(), c.u, 0.0007) // u(X) is 0.2956 from the observations unrounded
	}
	near(t, "r(R,X)", correlation(r, x), -0.588, 0.0005)
	near(t, "r(R,Z)", correlation(r, abs), -0.485, 0.0005)
	near(t, "r(X,Z)", correlation(x, abs), 0.993, 0.0005)
}

// Student's t of GUM table G.2 (from memory).
func TestFactor(t *testing.T) {
	for _, c := range []struct{ p, df, want float64 }{
		{0.95, 1, 12.71}, {0.95, 2, 4.30}, {0.95, 3, 3.18}, {0.95, 4, 2.78}, {0.95, 5, 2.57}, {0.95, 10, 2.23}, {0.95, 30, 2.04},
		{0.99, 2, 9.92}, {0.99, 5, 4.03}, {0.99, 16, 2.92}, {0.99, 16.7, 2.92}, {0.95, math.Inf(1), 1.96},
	} {
		near(t, fmt.Sprintf("t(%v, %v)", c.p, c.df), measure.Factor(c.p, c.df), c.want, 0.006)
	}
	if known := measure.Read("test", 1.0, nil, measure.Part{Cause: "a", U: 1}); !math.IsInf(known.DF(), 1) {
		t.Errorf("a known part has %v degrees of freedom", known.DF())
	}
}
