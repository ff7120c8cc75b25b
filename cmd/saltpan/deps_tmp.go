package main

import (
	_ "github.com/fsnotify/fsnotify"
	_ "github.com/muktihari/fit/decoder"
	_ "github.com/muktihari/fit/encoder"
	_ "github.com/muktihari/fit/proto"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/spf13/cobra"
	_ "github.com/tkrajina/gpxgo/gpx"
	_ "github.com/tormoder/fit"
	_ "golang.org/x/term"
	_ "golang.org/x/text/encoding/charmap"
	_ "golang.org/x/text/encoding/htmlindex"
	_ "golang.org/x/text/encoding/unicode"
	_ "gonum.org/v1/gonum/mat"
	_ "modernc.org/sqlite"
	_ "pgregory.net/rapid"
)

func main() {}
