// Package fit reads FIT files (Flexible and Interoperable Data Transfer, the
// binary format of sports watches and of some scales): activities and weigh-ins.
//
// A third-party decoder cuts the bytes into messages; which message and field
// means what stands in fields.go, for the dozen messages that are kept. What
// precedes damage is saved and marked. The numbers of messages, fields, sports
// and file types are those of the published FIT profile.
//
// From bytes to facts: chunks (crc.go) → messages (frame.go, fields.go) → bouts
// (bouts.go, samples.go), weigh-ins (weight.go) or a reason to skip (skip.go).
// A second, independent decoder stands in second.go.
package fit
