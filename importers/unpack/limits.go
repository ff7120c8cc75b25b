package unpack

// What an input may cost. All are counted on bytes that came out, never on what
// a header claims. Common practice; the hardest honest case seen is a track
// file in XML at 26:1.
const (
	// MaxMember is the most bytes one file or member may unpack to.
	MaxMember = 256 << 20
	// MaxArchive is the most bytes one archive may unpack to, nested ones included.
	MaxArchive = 4 << 30
	// MaxMembers is how many members one archive may list, nested ones included.
	MaxMembers = 20_000
	// MaxRatio is how many times its packed size a member may unpack to, beyond
	// the first RatioFrom bytes.
	MaxRatio = 200
	// RatioFrom is how much may come out before the ratio counts.
	RatioFrom = 1 << 20
	// maxDirectory bounds the list of members, in bytes, before it is read.
	maxDirectory = 16 << 20
)

// allowed is how much a member of a packed size may unpack to.
func allowed(packed int64) int64 {
	if packed > MaxMember {
		return MaxMember
	}
	return min(MaxMember, max(RatioFrom, MaxRatio*packed))
}

// budget is what is left for one archive and those inside it.
type budget struct {
	bytes   int64
	members int
}
