package view

// This file is the colours of the two themes. Each pair of words and ground in use is at least 4.6:1; no meaning rests on
// hue alone.

import "underload/ui/drawing"

type colour = drawing.Colour

func rgb(v uint32) colour { return colour(0xFF000000 | v) }

// palette is the set of colours of a theme.
type palette struct {
	paper, panel, sunk    colour // the drawing's ground, panels, wells
	hair, line            colour // dividers, borders of controls
	ink, ink2, ink3       colour // words, secondary ones, those of what cannot be pressed
	accent, accentText    colour
	accentSoft, halo      colour
	light                 colour // the trace of the light test, always dashed
	band, bandEdge        colour // what is healthy
	alert, alertSoft      colour // never without a word or a shape
	ok, okSoft            colour
	lampHot, lampDim      colour
	useful, shade, shadow colour // the load's column, what lies under an open menu, the edge under a menu
}

var palettes = map[drawing.Theme]*palette{
	drawing.Light: {
		paper: rgb(0xF6F3EC), panel: rgb(0xFFFFFF), sunk: rgb(0xEFEBE2), hair: rgb(0xDDD7CA), line: rgb(0x8A8475),
		ink: rgb(0x1D2430), ink2: rgb(0x465062), ink3: rgb(0x566071), accent: rgb(0x2E3F9E), accentText: rgb(0xFFFFFF),
		accentSoft: rgb(0xE4E8F8), halo: rgb(0xCBD5F3), light: rgb(0x5B4A3A), band: rgb(0xCFE1EE), bandEdge: rgb(0x9DBBD3),
		alert: rgb(0xAB3704), alertSoft: rgb(0xFCE8DC), ok: rgb(0x0A6570), okSoft: rgb(0xDFF0F0),
		lampHot: rgb(0xFFD94F), lampDim: rgb(0xF6E3B4), useful: rgb(0xF4EEDD), shade: rgb(0xDDD7CA), shadow: rgb(0xB9B2A2),
	},
	drawing.Dark: {
		paper: rgb(0x12161B), panel: rgb(0x1A2027), sunk: rgb(0x242C36), hair: rgb(0x333D49), line: rgb(0x7C8896),
		ink: rgb(0xF2EFE8), ink2: rgb(0xC3CAD3), ink3: rgb(0x9EA8B4), accent: rgb(0xA3B5FF), accentText: rgb(0x10152B),
		accentSoft: rgb(0x29335C), halo: rgb(0x2D3A6B), light: rgb(0xE8E2D0), band: rgb(0x1F3647), bandEdge: rgb(0x466985),
		alert: rgb(0xFF9F70), alertSoft: rgb(0x44281C), ok: rgb(0x74D0D6), okSoft: rgb(0x16383C),
		lampHot: rgb(0xFFD94F), lampDim: rgb(0x6B5A2C), useful: rgb(0x262A26), shade: rgb(0x333D49), shadow: rgb(0x0A0D10),
	},
}
