//go:build packed

package web

// This file puts the browser's program into a released one: go run ./ui/web/pack, then go build -tags packed.

import (
	"embed"
	"io/fs"
)

//go:embed packed
var packedFiles embed.FS

var embedded = func() fs.FS {
	files, err := fs.Sub(packedFiles, "packed")
	if err != nil {
		panic(err) // the name is valid
	}
	return files
}()
