package screen

// This file makes a file of what is painted, and takes files that are dropped on the window.

import (
	"bytes"
	"image"
	"image/png"
	"io/fs"

	"github.com/hajimehoshi/ebiten/v2"
)

// pngFile is a picture as a file.
func pngFile(of *ebiten.Image) []byte {
	picture := image.NewRGBA(of.Bounds())
	of.ReadPixels(picture.Pix)
	var file bytes.Buffer
	if err := png.Encode(&file, picture); err != nil {
		panic(err) // a buffer takes all, and the picture is not empty
	}
	return file.Bytes()
}

// mostDropped is the largest file that is taken, in bytes.
const mostDropped = 16 << 20

// dropped opens the files that were dropped on the window.
func (g *game) dropped() {
	files := ebiten.DroppedFiles()
	if files == nil {
		return
	}
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		return
	}
	for _, entry := range entries {
		info, err := entry.Info()
		if err != nil || info.IsDir() || info.Size() > mostDropped {
			continue
		}
		if data, err := fs.ReadFile(files, entry.Name()); err == nil {
			g.open(entry.Name(), "", data)
		}
	}
}
