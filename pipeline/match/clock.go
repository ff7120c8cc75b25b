package match

import "time"

// shifts says what to add to the clock of each scale.
type shifts map[string]time.Duration

func (s shifts) of(scale string, _ time.Time) time.Duration { return s[scale] }
