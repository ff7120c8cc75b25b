package pipeline

import (
	"saltpan/pipeline/effort"
	"saltpan/pipeline/heat"
	"saltpan/pipeline/quantity"
	"saltpan/pipeline/record"
)

// DigestMethod is the version of Digest; it rises when a digest can change.
const DigestMethod = "digest/1"

// Digest is what deriving needs of an activity's samples, so that they are
// gone through once and not at each derivation.
type Digest struct {
	Effort effort.Digest `json:"effort"`
	// WatchTemp is the mean of the watch's own sensor after it settled.
	WatchTemp *quantity.Temperature `json:"watch_temp_c,omitempty"`
}

// NewDigest takes the digest of an activity with its samples.
func NewDigest(a record.Activity) Digest {
	return Digest{Effort: effort.NewDigest(a), WatchTemp: heat.Settled(a)}
}
