package fit

// crcPoly is CRC-16/ARC reflected: the FIT protocol's checksum, initial value 0.
const crcPoly = 0xA001

// crcTable[k][b] is the checksum of byte b followed by k zero bytes, so that
// eight bytes are taken at a time. It is never changed.
var crcTable = func() (t [8][256]uint16) {
	for b := range 256 {
		c := uint16(b)
		for range 8 {
			if c&1 == 1 {
				c = c>>1 ^ crcPoly
			} else {
				c >>= 1
			}
		}
		t[0][b] = c
	}
	for k := 1; k < 8; k++ {
		for b := range 256 {
			t[k][b] = t[k-1][b]>>8 ^ t[0][t[k-1][b]&0xFF]
		}
	}
	return t
}()

// crc16 is the FIT checksum of b. Over data and its own checksum it is 0.
func crc16(b []byte) uint16 {
	c := uint16(0)
	t := &crcTable
	for ; len(b) >= 8; b = b[8:] {
		c ^= uint16(b[0]) | uint16(b[1])<<8
		c = t[7][c&0xFF] ^ t[6][c>>8] ^ t[5][b[2]] ^ t[4][b[3]] ^ t[3][b[4]] ^ t[2][b[5]] ^ t[1][b[6]] ^ t[0][b[7]]
	}
	for _, x := range b {
		c = c>>8 ^ t[0][byte(c)^x]
	}
	return c
}
