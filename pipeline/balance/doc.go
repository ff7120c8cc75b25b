// Package balance works out what a session's weigh-ins and note say about the
// fluid lost. Three results stand apart: the simple loss, in which a kilogram
// is a litre; the sweat loss, from which breath and gas exchange are taken out;
// and the water deficit, in which the water of burning counts.
//
//	body weighing:     simple = (before − after) + drunk + eaten − urine − stool
//	carrying weighing: simple = (before − after) + picked up − left behind − urine − stool − clothes taken off
//	sweat   = simple − breath water − (CO2 − O2) + sweat held in clothes
//	rate    = (sweat − sweat in the gaps) / elapsed
//	deficit = net mass loss of the body + solids eaten − (CO2 − O2) − metabolic water
//
// The identity is that of ISO 9886 (form from memory) and of baker2017 table 3.
// Breath water follows mitchell1972 and gas exchange the molar masses where
// energy and vapour pressure are known; else 0.2 g/kcal stands for both
// (cheuvront2017). The correction matters most in the cold, where it is 14 to
// 41 % of the loss against 0.2 to 15 % in the heat (cheuvront2002).
package balance
