//go:build !unix

package main

import "io/fs"

// inode is the file's number on its disk; this system tells none.
func inode(fs.FileInfo) int64 { return 0 }
