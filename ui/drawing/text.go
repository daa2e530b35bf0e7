package drawing

// This file says how wide words are, so that layout and painting agree without a font at hand.

// Widths of the characters from space to tilde in thousandths of the size, of the typeface the pictures ask for (Go
// Regular and Bold, read from the font files). The common grotesques share these figures, so that a page without that
// face stands as drawn.
var (
	regularWidths = [95]uint16{278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 584, 584, 316, 584, 316, 278, 556, 556, 556, 556, 556,
		556, 556, 556, 556, 556, 306, 306, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 399, 496, 667, 556, 833, 722,
		778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556,
		247, 253, 500, 268, 833, 556, 556, 556, 556, 333, 500, 283, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584}
	boldWidths = [95]uint16{278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 558, 584, 278, 584, 278, 278, 556, 556, 556, 556, 556,
		556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778, 722, 453, 556, 722, 611, 833, 722,
		778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556, 333, 556, 611, 556, 611, 556, 333, 611, 611,
		289, 288, 556, 298, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584}
	otherWidths = map[rune]uint16{'°': 400, '±': 584, '²': 495, 'Ω': 802, '·': 277, '›': 333, '‹': 333, '−': 584, '–': 556, '…': 1000,
		'\u00a0': 278, '×': 584}
)

// unknownWidth stands for a character that is in no table: no letter of a Latin face is wider.
const unknownWidth = 1015

// textWidth is the width of words in px.
func textWidth(words string, size float64, bold bool) float64 {
	table, sum := &regularWidths, 0
	if bold {
		table = &boldWidths
	}
	for _, r := range words {
		switch {
		case r >= ' ' && r <= '~':
			sum += int(table[r-' '])
		case otherWidths[r] > 0:
			sum += int(otherWidths[r])
		default:
			sum += unknownWidth
		}
	}
	return float64(sum) * size / 1000
}

// roomFor is the room that words are given: their width rounded up to 8 px, so that a changed value moves nothing.
func roomFor(words string, size float64, bold bool) int {
	if words == "" {
		return 0
	}
	return (int(textWidth(words, size, bold)) + 8) / 8 * 8
}

// Shorten cuts words to a width with an ellipsis.
func Shorten(words string, size float64, bold bool, room float64) string {
	if textWidth(words, size, bold) <= room {
		return words
	}
	letters := []rune(words)
	for len(letters) > 1 && textWidth(string(letters)+"…", size, bold) > room {
		letters = letters[:len(letters)-1]
	}
	for len(letters) > 1 && letters[len(letters)-1] == ' ' {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}

// Wide is the width of words in px, as they are set in a scene.
func Wide(words string, size float64, bold bool) float64 { return textWidth(words, size, bold) }
