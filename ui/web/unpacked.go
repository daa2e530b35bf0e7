//go:build !packed

package web

// This file stands for the browser's program where it is not part of this one.

import "io/fs"

var embedded fs.FS
