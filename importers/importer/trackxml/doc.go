// Package trackxml is what the readers of track files in XML (GPX, TCX) share:
// a scanner that gives what precedes damage, times with their offsets, faults
// counted by kind, and the samples and totals that a row of points gives.
package trackxml
