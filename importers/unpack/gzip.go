package unpack

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"

	"saltpan/importers/importer"
)

// gzip gives what a gzip file holds. Its label stays the file's own. Several
// gzip members in a row are one content (RFC 1952, section 2.2).
func (w *walk) gzip(src importer.Source, at level) bool {
	if at.gzips >= maxGzips {
		return w.refuse(src.Path, importer.TooLarge, "a gzip file inside a gzip file", deepHint)
	}
	packed := bytes.NewReader(src.Data)
	zr, err := gzip.NewReader(packed)
	if err != nil {
		return w.refuse(src.Path, importer.Truncated, "a gzip file that ends inside its header", "get the file again")
	}
	most := min(allowed(int64(len(src.Data))), w.budget.bytes)
	data, err := io.ReadAll(io.LimitReader(zr, most+1))
	if int64(len(data)) > most {
		return w.refuse(src.Path, importer.TooLarge, tooLarge(most), "")
	}
	w.budget.bytes -= int64(len(data))
	damage := gzipDamage(err, len(data), zerosFollow(src.Data, packed.Len()))
	if len(data) == 0 && damage != "" {
		return w.refuse(src.Path, importer.Truncated, "a gzip file that is "+damage, "get the file again")
	}
	at.gzips++
	return w.source(importer.Source{Path: src.Path, Data: data, Hints: src.Hints, Damaged: both(src.Damaged, damage)}, at)
}

func tooLarge(most int64) string {
	return fmt.Sprintf("it unpacks to more than %d bytes, the most allowed for its packed size", most)
}

// gzipDamage says what was wrong with a gzip file of which data came out.
func gzipDamage(err error, got int, padded bool) string {
	switch {
	case err == nil, errors.Is(err, gzip.ErrHeader) && padded:
		return ""
	case errors.Is(err, gzip.ErrHeader):
		return "followed by bytes that do not belong to it"
	case errors.Is(err, gzip.ErrChecksum):
		return "wrong in its checksum"
	case errors.Is(err, io.ErrUnexpectedEOF):
		return fmt.Sprintf("cut short after %d unpacked bytes", got)
	}
	return fmt.Sprintf("damaged after %d unpacked bytes", got)
}

// zerosFollow reports that what the reader left is padding.
func zerosFollow(data []byte, left int) bool {
	tail := data[len(data)-left:]
	return len(bytes.Trim(tail, "\x00")) == 0
}

func both(a, b string) string {
	if a != "" && b != "" {
		return a + "; " + b
	}
	return a + b
}
