package record

import "strconv"

// Origin says where a fact was read or who told it.
type Origin struct {
	// Path is the file as the user sees it, relative to the ingested argument;
	// a member of an archive is "a.zip!run.fit". Empty for what a person told.
	Path string `json:"path,omitempty"`
	// Line is the 1-based physical line, header included; 0 where lines mean nothing.
	Line int `json:"line,omitempty"`
	// SHA256 is the hash of the input's own bytes, in hexadecimal.
	SHA256 string `json:"sha256,omitempty"`
	// Reader is the importer and its version, "fit/1".
	Reader string `json:"reader,omitempty"`
}

// String is PATH or PATH:LINE, or "told" for what a person added.
func (o Origin) String() string {
	switch {
	case o.Path == "":
		return "told"
	case o.Line == 0:
		return o.Path
	}
	return o.Path + ":" + strconv.Itoa(o.Line)
}
