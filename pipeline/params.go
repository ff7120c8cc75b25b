package pipeline

import (
	"slices"

	"saltpan/pipeline/balance"
	"saltpan/pipeline/cite"
	"saltpan/pipeline/sodium"
)

// Params is every number from the literature that the stages use.
func Params() []cite.Param { return slices.Concat(balance.Params(), sodium.Params()) }
