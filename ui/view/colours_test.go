package view

import (
	"math"
	"testing"

	"underload/ui/drawing"
)

// Every pair of words and ground in use is 4.5:1 at least, and borders of controls 3:1 (WCAG 2.2, success criteria 1.4.3
// and 1.4.11; relative luminance as defined there).
func TestContrast(t *testing.T) {
	for theme, p := range palettes {
		words := map[string][2]colour{
			"ink on panel": {p.ink, p.panel}, "ink on sunk": {p.ink, p.sunk}, "ink on soft accent": {p.ink, p.accentSoft}, "ink on paper": {p.ink, p.paper},
			"ink on alert": {p.ink, p.alertSoft}, "ink on ok": {p.ink, p.okSoft}, "ink2 on panel": {p.ink2, p.panel}, "ink2 on sunk": {p.ink2, p.sunk},
			"ink2 on paper": {p.ink2, p.paper}, "ink2 on soft accent": {p.ink2, p.accentSoft}, "ink3 on panel": {p.ink3, p.panel}, "words on accent": {p.accentText, p.accent},
			"accent on panel": {p.accent, p.panel}, "light on panel": {p.light, p.panel}, "alert on panel": {p.alert, p.panel}, "alert on its ground": {p.alert, p.alertSoft},
			"ok on panel": {p.ok, p.panel}, "ok on its ground": {p.ok, p.okSoft}, "ok on sunk": {p.ok, p.sunk}, "ink2 on the load's column": {p.ink2, p.useful},
			"alert on the load's column": {p.alert, p.useful}, "ink on the load's column": {p.ink, p.useful},
		}
		for name, pair := range words {
			if r := contrast(pair[0], pair[1]); r < 4.5 {
				t.Errorf("theme %d: %s is %.2f:1", theme, name, r)
			}
		}
		edges := map[string][2]colour{"line on panel": {p.line, p.panel}, "line on sunk": {p.line, p.sunk}, "accent on paper": {p.accent, p.paper}, "accent on sunk": {p.accent, p.sunk},
			"the light trace on the band": {p.light, p.band}, "the load trace on the band": {p.accent, p.band}}
		for name, pair := range edges {
			if r := contrast(pair[0], pair[1]); r < 3 {
				t.Errorf("theme %d: %s is %.2f:1", theme, name, r)
			}
		}
	}
	if len(palettes) != 2 || palettes[drawing.Dark] == nil {
		t.Error("there are two themes")
	}
}

func contrast(a, b colour) float64 {
	high, low := luminance(a), luminance(b)
	if high < low {
		high, low = low, high
	}
	return (high + 0.05) / (low + 0.05)
}

func luminance(c colour) float64 {
	part := func(shift uint) float64 {
		v := float64(uint32(c)>>shift&0xFF) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*part(16) + 0.7152*part(8) + 0.0722*part(0)
}
