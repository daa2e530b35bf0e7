package plot

// This file sets the marks of a picture: flags over the first panel, and their words in a list below the axis.

import (
	"fmt"

	"underload/ui/drawing"
)

// pennant is a mark's sign over its instant. Its stem goes down to the panel.
type pennant struct {
	Tagged
	x, wide float64
	words   string
	lane    int
}

// tagWide is the room of a letter.
const tagWide = 17.0

// flags sets the flags so that none covers another, nor the stem of one: each flies to the right of its stem, the later
// ones lower.
func (d *picture) flags() {
	var all []pennant
	for _, m := range d.tagged {
		if m.Tag == "" {
			continue
		}
		f := pennant{Tagged: m, x: d.x(m.Seconds), wide: tagWide}
		if m.Done {
			if room := min(150, d.w-6-f.x-tagWide-6); room > 24 {
				f.words = drawing.Shorten(m.Words, 12, false, room)
				f.wide += drawing.Wide(f.words, 12, false) + 8
			}
		}
		all = append(all, f)
	}
	lanes := 0
	ends := make([]float64, mostFlagLanes) // how far to the left each lane is taken
	for i := range ends {
		ends[i] = d.w
	}
	for i := len(all) - 1; i >= 0; i-- {
		f := &all[i]
		for f.lane < mostFlagLanes && ends[f.lane] < f.x+f.wide+3 {
			f.lane++
		}
		if f.lane < mostFlagLanes {
			// Nor may a lower lane later be taken where the stem goes down.
			for k := range f.lane + 1 {
				ends[k] = min(ends[k], f.x)
			}
			lanes = max(lanes, f.lane+1)
		}
	}
	foot := d.y + float64(lanes)*laneHeight
	for _, f := range all {
		if f.lane < mostFlagLanes {
			d.flag(f, foot)
		}
	}
	d.y = foot
}

func (d *picture) flag(f pennant, foot float64) {
	top := foot - float64(f.lane+1)*laneHeight
	d.line(ink2, 1, nil, spot(f.x, top), spot(f.x, foot))
	d.sign(f.x, top, f.Tagged)
	if f.words != "" {
		d.text(f.x+tagWide+4, top+12.5, 12, false, ink, drawing.Start, f.words)
	}
}

// sign is a mark's letter in its box: dark for what was done, light and round for what happened.
func (d *picture) sign(x, y float64, m Tagged) {
	fill, letter, radius := panel, ink, 8.0
	if m.Done {
		fill, letter, radius = ink, panel, 2
	}
	d.rect(x, y, tagWide-1, tagWide-1, radius, fill, ink)
	d.text(x+(tagWide-1)/2, y+12.5, 12, m.Done, letter, drawing.Middle, m.Tag)
}

// list tells every mark with its time, in two columns where the page is wide.
func (d *picture) list() {
	if len(d.tagged) == 0 {
		return
	}
	d.y += 10
	columns := 1
	if d.w >= 800 && len(d.tagged) > 3 {
		columns = 2
	}
	column := (d.w - leftMargin - rightMargin) / float64(columns)
	deep := (len(d.tagged) + columns - 1) / columns
	top, lowest := d.y, d.y
	span := d.to - d.from
	wide := 0.0
	for _, m := range d.tagged {
		wide = max(wide, drawing.Wide(Time(m.Seconds, span), 13, false))
	}
	for i, m := range d.tagged {
		if i%deep == 0 {
			d.y = top
		}
		x := leftMargin + column*float64(i/deep)
		if m.Tag != "" {
			d.sign(x, d.y+4, m)
		}
		d.text(x+tagWide+8+wide, d.y+17, 13, false, ink2, drawing.End, Time(m.Seconds, span))
		at := x + tagWide + wide + 20
		for _, line := range wrap(Words(m, span), 13, false, x+column-14-at) {
			d.text(at, d.y+17, 13, false, ink, drawing.Start, line)
			d.y += lineHeight
		}
		lowest = max(lowest, d.y)
	}
	d.y = lowest
}

// Words tells a mark, and how often it comes again.
func Words(m Tagged, span float64) string {
	switch {
	case m.More == 0:
		return m.Words
	case m.More == 1:
		return fmt.Sprintf("%s, and again at %s", m.Words, Time(m.Through, span))
	}
	return fmt.Sprintf("%s, and %d times more until %s", m.Words, m.More, Time(m.Through, span))
}
