package view

// This file turns lists that are longer than their room.

// scrolled is the first row shown of a list, kept within it.
func (v *View) scrolled(list string, n, most int) int {
	from := max(0, min(v.scroll[list], n-most))
	v.scroll[list] = from
	return from
}

// pager turns a list that is longer than its room.
func (v *View) pager(list string, b box, n, most int) {
	if n <= most {
		return
	}
	from := v.scroll[list]
	turn := func(id, label string, x float64, to int, off string, way float64) {
		v.iconIn(control{id: id + list, label: label, at: box{x, b.y, v.row(), b.h}, off: off, do: func() { v.scroll[list] = to; v.dirty = true }}, func(c box, ink colour) {
			if off != "" {
				ink = v.canvas.p.hair
			}
			v.canvas.line(2, ink, at(c.midX()-5, c.midY()+way*3), at(c.midX(), c.midY()-way*3), at(c.midX()+5, c.midY()+way*3))
		})
	}
	turn("up:", "Earlier", b.right()-2*v.row()-4, from-most, empty(from == 0, "This is the beginning"), 1)
	turn("down:", "Later", b.right()-v.row(), from+most, empty(from+most >= n, "This is the end"), -1)
}
