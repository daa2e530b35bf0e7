package view

// This file is the columns of the staircase in the panel: how wide, what they are called, which is lit, and their figures.

import (
	"fmt"
	"math"
	"strings"

	"underload/circuit/quantity"
	"underload/sim/meter"
	"underload/ui/drawing"
	"underload/ui/report"
	"underload/ui/stairs"
)

// setColumns folds the steps into columns that fit and sets them side by side.
func (v *View) setColumns(s *meter.Staircase, body box) {
	room := body.w - axisRoom - plotMargin
	columns := stairs.Single(*s)
	sum := func() float64 {
		total := 0.0
		for _, c := range columns {
			total += columnNeeds(c)
		}
		return total
	}
	stairs.Fold(&columns, func() bool { return sum() > room })
	spare := (room - sum()) / float64(len(columns))
	x := body.x + axisRoom
	squeeze := 1.0
	if spare < 0 { // all but the load's column grow narrower
		squeeze, spare = (room-narrowestLoad)/(sum()-narrowestLoad), 0
	}
	for _, c := range columns {
		c.X, c.W = x, columnNeeds(c)+spare
		if !c.Load() {
			c.W = squeeze*columnNeeds(c) + spare
		}
		x += c.W
	}
	stairs.MarkOmitted(columns)
	v.columns = columns
}

func columnNeeds(c *stairs.Column) float64 {
	wide := narrowestColumn
	if c.Load() {
		wide = narrowestLoad
	}
	return max(wide, min(widestName, textWidth(columnName(c), 13, true)+10))
}

// columnName is what stands under a column. A wire without a name of its own goes by its colour.
func columnName(c *stairs.Column) string {
	first := c.Steps[0].Place
	if c.Folded() {
		return between(first, c.Steps[len(c.Steps)-1].Place)
	}
	if strings.Contains(first, "~") && !strings.Contains(first, " to ") {
		colour, _, _ := strings.Cut(c.Steps[0].Says, " ")
		return orElse(colour, "wire")
	}
	if c.Load() {
		return labelOf(first)
	}
	return first
}

// columnSays is the line below the name.
func columnSays(c *stairs.Column) string {
	if c.Folded() {
		return fmt.Sprintf("%d steps", c.Places())
	}
	if _, end, unnamed := strings.Cut(c.Steps[0].Place, "~"); unnamed && !strings.Contains(end, " to ") {
		end, _, _ = strings.Cut(end, "#")
		return "wire to " + end
	}
	return c.Steps[0].Says
}

// litColumn is the column that the pointer lights, in the panel or in the drawing, or -1.
func (v *View) litColumn() int {
	if v.step > 0 {
		return v.step - 1
	}
	if v.lit.name == "" {
		return -1
	}
	place := v.placeOf(v.lit)
	owner := v.ownerOf(v.lit)
	for i, c := range v.columns {
		for _, st := range c.Steps {
			if st.Place == place || st.Place == v.lit.name || owner != "" && st.Place == owner {
				return i
			}
		}
	}
	return -1
}

// stepAt is the place of a column by its number from 1, or "" where it stands for several.
func (v *View) stepAt(n int) string {
	if n < 1 || n > len(v.columns) {
		return ""
	}
	c := v.columns[n-1]
	if c.Folded() {
		return ""
	}
	return c.Steps[0].Place
}

// columnNames writes what each column is.
func (v *View) columnNames(b box) {
	p := v.canvas.p
	for i, c := range v.columns {
		if i > 0 {
			v.canvas.line(1, p.hair, at(math.Round(c.X)+0.5, b.y), at(math.Round(c.X)+0.5, b.y+5))
		}
		ink := p.ink
		if c.Worst() {
			ink = p.alert
		}
		v.canvas.text(c.X+c.W/2, b.y+17, style{size: 13, bold: true, fill: ink, anchor: drawing.Middle}, shorten(columnName(c), 13, true, c.W-6))
		if b.h > 30 {
			v.canvas.text(c.X+c.W/2, b.y+33, style{size: 12, fill: p.ink2, anchor: drawing.Middle}, fittingSays(c, c.W-6))
		}
	}
}

// fittingSays is as much of the line below the name as there is room for: of a wire without a name its end stays.
func fittingSays(c *stairs.Column, room float64) string {
	says := columnSays(c)
	if end, ok := strings.CutPrefix(says, "wire "); ok && textWidth(says, 12, false) > room {
		return shorten(end, 12, false, room)
	}
	return fitted(says, 12, room)
}

// fitted is as many whole words as there is room for, or the first one cut short.
func fitted(words string, size, room float64) string {
	for textWidth(words, size, false) > room {
		i := strings.LastIndex(words, " ")
		if i < 0 {
			return shorten(words, size, false, room)
		}
		words = words[:i]
	}
	return words
}

// ledger writes the millivolts of each column; with the pointer on a row's name, what they add up to.
func (v *View) ledger(b box, s *meter.Staircase) {
	p := v.canvas.p
	rows := []struct {
		name string
		ink  colour
		of   stairs.Pass
		load bool
	}{{"light mV", p.light, stairs.LightPass, false}, {"load mV", p.accent, stairs.LoadPass, true}}
	if moving := v.movingPass(); moving >= 0 {
		rows[moving].name = "now mV"
	}
	if b.h < 2*ledgerRow+4 {
		rows = rows[1:]
	}
	y := b.y
	v.sum.words = ""
	for i, row := range rows {
		if v.step == -1-i {
			v.sum = sum{box{b.x + 8, y, axisRoom, ledgerRow}, v.sumWords(row.name, row.of)}
		}
		v.rule(b.x+8, b.right()-8, y)
		base := y + 15
		v.canvas.text(b.x+axisRoom-8, base, style{size: 12, bold: true, fill: row.ink, anchor: drawing.End}, row.name)
		for _, c := range v.columns {
			words := v.cell(c, row.of)
			st := style{size: 13, fill: p.ink, anchor: drawing.Middle}
			if c.Worst() && row.load {
				st.bold, st.fill = true, p.alert
				w := textWidth(words, 13, true) + 14
				v.canvas.frame(box{c.X + c.W/2 - w/2, y + 1.5, w, ledgerRow - 3}, 3, 1, p.alert, p.alertSoft)
			}
			v.canvas.text(c.X+c.W/2, base, st, shorten(words, 13, st.bold, c.W-2))
		}
		y += ledgerRow
	}
}

// cell is what a column loses: of the load its volts, else millivolts.
func (v *View) cell(c *stairs.Column, of stairs.Pass) string {
	l := c.Level(of)
	if c.Load() && !l.Missing {
		return quantity.Format(l.Lost, quantity.Volts, 3)
	}
	return strings.ReplaceAll(report.Millivolts(l), "\u202f", "\u00a0")
}

// sumWords adds a row up: what all steps lose, the load's included, is what the battery has without any current.
func (v *View) sumWords(name string, of stairs.Pass) string {
	total := 0.0
	for _, c := range v.columns {
		l := c.Level(of)
		if l.Missing {
			return name + ": not all of it was probed"
		}
		total += l.Lost
	}
	return name + ": adds up to " + quantity.Format(total, quantity.Volts, 4) + ", the battery's open volts"
}

// columnAt is the number of the column under a place of the window, from 1; on the name of a row of the ledger it is -1
// for the first and -2 for the second.
func (v *View) columnAt(x, y float64) int {
	b := v.panelBox()
	if v.now.tab != tabStairs || y < b.y+tabHeight || y > b.foot() {
		return 0
	}
	for i, c := range v.columns {
		if x >= c.X && x < c.X+c.W {
			return i + 1
		}
	}
	if len(v.columns) > 0 && x < b.x+axisRoom && y > b.foot()-2*ledgerRow-6 {
		if _, names := v.stairsRooms(box{b.x, b.y + tabHeight, b.w, b.h - tabHeight}); y > names.foot() {
			return -1 - int((y-names.foot())/ledgerRow)
		}
	}
	return 0
}
