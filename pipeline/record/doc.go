// Package record has the facts: what importers read in files and what people
// add, as it stood in the source, in our units. A record never holds a
// computed value, so that a better formula never needs a file to be read again.
//
// A nil pointer means that the source said nothing; it never means zero.
package record
