package pipeline

import (
	"slices"

	"saltpan/pipeline/balance"
	"saltpan/pipeline/cite"
	"saltpan/pipeline/effort"
	"saltpan/pipeline/heat"
	"saltpan/pipeline/sodium"
)

// Params is every number from the literature that the stages use.
func Params() []cite.Param {
	return slices.Concat(effort.Params(), heat.Params(), balance.Params(), sodium.Params())
}
