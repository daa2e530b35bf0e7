//go:build !js

package screen

// touched gives nothing: Ebiten tells of no fingers on a desktop.
func (in *input) touched() [][]finger { return nil }
