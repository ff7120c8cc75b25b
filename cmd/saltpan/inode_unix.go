//go:build unix

package main

import (
	"io/fs"
	"syscall"
)

// inode is the file's number on its disk, 0 where there is none.
func inode(info fs.FileInfo) int64 {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return int64(s.Ino)
	}
	return 0
}
