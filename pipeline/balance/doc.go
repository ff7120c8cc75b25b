// Package balance works out what a session's weigh-ins and note say about the
// fluid lost: the simple loss, in which a kilogram is a litre, and the sweat
// loss, from which breath and gas exchange are taken out.
//
//	body weighing:     simple = (before − after) + drunk + eaten − urine − stool
//	carrying weighing: simple = (before − after) + picked up − left behind − urine − stool − clothes taken off
//	sweat = simple − non-sweat mass + sweat held in clothes
//
// The identity is that of ISO 9886 (form from memory) and of baker2017 table 3.
package balance
