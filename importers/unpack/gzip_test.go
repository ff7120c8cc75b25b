package unpack

import (
	"bytes"
	"fmt"
	"testing"
)

// RFC 1952: header 10 bytes without a name, trailer 8 bytes (CRC 32, size).
func TestGzip(t *testing.T) {
	whole := gzipped(text(4000))
	flipped := bytes.Clone(whole)
	flipped[len(flipped)-8] ^= 1
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"whole", whole, "x 4000"},
		{"two members are one content", append(bytes.Clone(whole), gzipped(text(50))...), "x 4050"},
		{"last four bytes lost", whole[:len(whole)-4], "x 4000 cut short after 4000 unpacked bytes"},
		{"trailing garbage", append(bytes.Clone(whole), "garbage of some length"...), "x 4000 followed by bytes that do not belong to it"},
		{"padding is no damage", append(bytes.Clone(whole), make([]byte, 512)...), "x 4000"},
		{"wrong checksum", flipped, "x 4000 wrong in its checksum"},
		{"header only", whole[:10], "x truncated"},
		{"half a header", whole[:5], "x truncated"},
		{"empty content", gzipped(nil), "x 0"},
		{"gzip in gzip", gzipped(whole), "x too-large"},
		{"bomb", gzipped(make([]byte, 8<<20)), "x too-large"},
	} {
		t.Run(c.name, func(t *testing.T) { want(t, expand("x", c.data), c.want) })
	}
}

func TestGzipCutKeepsWhatCameOut(t *testing.T) {
	content := text(100_000)
	whole := gzipped(content)
	for src, p := range expand("x", whole[:len(whole)/2]) {
		if p != nil || src.Damaged == "" || len(src.Data) < 30_000 || !bytes.HasPrefix(content, src.Data) {
			t.Errorf("%d bytes, damaged %q, problem %v", len(src.Data), src.Damaged, p)
		}
	}
}

// A track file in XML packs 26:1 and must pass; up to the first MiB the ratio
// does not count.
func TestHonestRatiosPass(t *testing.T) {
	line := []byte("   <trkpt lat=\"44.10000\" lon=\"-27.20000\"><ele>12.0</ele><time>2026-04-12T07:03:11Z</time></trkpt>\n")
	var b []byte
	for i := range 40_000 {
		line[17], line[18], line[19] = '0'+byte(i%10), '0'+byte(i/10%10), '0'+byte(i/100%10)
		b = append(b, line...)
	}
	want(t, expand("x", gzipped(b)), fmt.Sprintf("x %d", len(b)))
	want(t, expand("x", gzipped(make([]byte, RatioFrom))), "x 1048576")
	want(t, expand("x", gzipped(make([]byte, RatioFrom+1))), "x too-large")
}
