package effort

// Respiratory quotients of fat alone and of carbohydrate alone between which
// the table of Péronnet and Massicotte runs (peronnet1991).
const (
	fatQuotient          = 0.7036
	carbohydrateQuotient = 0.9961
)

// KcalPerLitre is the energy of one litre of oxygen (STPD) at a nonprotein
// respiratory quotient, in kcal:
//
//	4.0372 + 1.1563 R,  0.7036 ≤ R ≤ 0.9961
//
// Source: peronnet1991. The older Lusk line (3.815 + 1.232 R) is 3 % lower and
// is used nowhere here. Outside the range it gives the end of the range and false.
func KcalPerLitre(r float64) (kcal float64, within bool) {
	c := min(max(r, fatQuotient), carbohydrateQuotient)
	return 4.0372 + 1.1563*c, c == r
}

// Oxidation is the fat and carbohydrate burnt, in g/min, at uptakes in L/min:
//
//	fat = 1.695 VO2 − 1.701 VCO2;  carbohydrate = 4.585 VCO2 − 3.226 VO2
//
// Source: peronnet1991; protein left out, steady state. A negative amount means
// that the quotient lies outside 0.7036 to 0.9961.
func Oxidation(vo2, vco2 float64) (fat, carbohydrate float64) {
	return 1.695*vo2 - 1.701*vco2, 4.585*vco2 - 3.226*vo2
}

// Weir is the metabolic rate in kcal/min at uptakes in L/min:
//
//	3.941 VO2 + 1.106 VCO2
//
// Source: weir1949, from memory; protein left out.
func Weir(vo2, vco2 float64) float64 { return 3.941*vo2 + 1.106*vco2 }
