// Package sodium says how much sodium is in an athlete's sweat, from the best
// basis there is, and what a sweat loss then carries with it.
//
// Best first: a whole-body measurement · a patch, carried from its site to the
// whole body · the salt screen · the published mean. The value comes from the
// best basis alone.
package sodium
