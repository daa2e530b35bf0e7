package view

// This file is the drop staircase in the panel: traces, healthy band, cliff, ledger, whole or magnified.

import (
	"fmt"
	"math"
	"strings"

	"underload/circuit/quantity"
	"underload/sim/meter"
	"underload/ui/drawing"
	"underload/ui/stairs"
)

// Widths of columns, px.
const (
	narrowestColumn = 54.0
	narrowestLoad   = 96.0
	widestName      = 104.0
	axisRoom        = 64.0 // left of the plot
	plotMargin      = 16.0 // right of it
	ledgerRow       = 20.0
)

// stairsTab paints the staircase and its head.
func (v *View) stairsTab(head, body box) {
	s := v.now.live.shown
	p := v.canvas.p
	if s == nil {
		v.canvas.lines(box{body.x + 24, body.y + 20, body.w - 48, 60}, style{size: 14, fill: p.ink2}, 20, 3, v.now.live.stairsWaiting)
		return
	}
	v.stairsHead(head, s)
	if v.now.blind() && !anyKnown(s) {
		v.emptyStairs(body, s)
		return
	}
	v.setColumns(s, body)
	plot, names := v.stairsRooms(body)
	v.columnGrounds(plot, names, body)
	if v.magnified {
		v.magnifiedPlot(plot)
	} else {
		v.wholePlot(plot, s)
	}
	v.columnNames(names)
	v.ledger(box{body.x, names.foot(), body.w, body.foot() - names.foot()}, s)
}

func anyKnown(s *meter.Staircase) bool {
	for _, st := range s.Steps {
		if !st.UnderLoad.Missing || !st.Light.Missing {
			return true
		}
	}
	return false
}

// emptyStairs is the staircase of a blind case in which nothing was probed on the path yet.
func (v *View) emptyStairs(body box, s *meter.Staircase) {
	p := v.canvas.p
	plot := box{body.x + 24, body.y + 16, body.w - 48, body.h - 32}
	v.hatch(plot)
	words := fmt.Sprintf("Not probed yet. The path of %s is drawn as far as you probe it: what is lost between two probed points stands between them.", plain(s.Load))
	lines := wrap(words, 14, false, min(520, plot.w-60), 4)
	note := box{plot.midX() - 290, plot.midY() - float64(len(lines))*10 - 12, 580, float64(len(lines))*20 + 24}
	if note.w > plot.w-20 {
		note.x, note.w = plot.x+10, plot.w-20
	}
	v.canvas.frame(note, 6, 1, p.hair, p.panel)
	for i, line := range lines {
		v.canvas.text(note.midX(), note.y+12+float64(i)*20+15, style{size: 14, fill: p.ink2, anchor: drawing.Middle}, line)
	}
}

// hatch fills a box with slanted hairlines.
func (v *View) hatch(b box) {
	p := v.canvas.p
	v.canvas.fill(b, 0, p.panel)
	for d := 8.0; d < b.w+b.h; d += 10 {
		x0, y0 := b.x+d, b.y
		if x0 > b.right() {
			x0, y0 = b.right(), b.y+d-b.w
		}
		x1, y1 := b.x, b.y+d
		if y1 > b.foot() {
			x1, y1 = b.x+d-b.h, b.foot()
		}
		v.canvas.line(1, p.hair, at(x0, y0), at(x1, y1))
	}
}

// stairsHead is whole or magnified, and the legend as far as there is room.
func (v *View) stairsHead(b box, s *meter.Staircase) {
	w := 88.0
	label := "Magnify"
	if b.w < w { // the key M does the same
		return
	}
	v.chip(control{id: "magnify", label: label, on: v.magnified, at: box{b.right() - w, b.midY() - v.row()/2, w, v.row()}, do: func() { v.magnified = !v.magnified; v.dirty = true }})
	x := b.right() - w - 8
	p := v.canvas.p
	load := "under load " + ampText(s.Amps)
	light := "light test " + ampText(s.LightAmps)
	if v.plan.small {
		light, load = "light "+ampText(s.LightAmps), "load "+ampText(s.Amps)
	}
	switch {
	case v.ownCurrent():
		light, load = "at rest", "at work" // nobody has measured how much
	case s.Amps == 0 && v.now.blind():
		load = "load not taken"
	}
	switch moving := v.movingPass(); {
	case moving == 1 && v.ownCurrent():
		load = "now"
	case moving == 1:
		light, load = "light test", "now "+ampText(s.Amps)
	case moving == 0:
		light, load = "now "+ampText(s.LightAmps), "under load"
	}
	keys := []struct {
		paint func(x, y float64)
		words string
	}{
		{func(x, y float64) { v.canvas.dashed(2, p.light, []float64{7, 4}, at(x, y), at(x+22, y)) }, light},
		{func(x, y float64) { v.canvas.line(3.2, p.accent, at(x, y), at(x+22, y)) }, load},
		{func(x, y float64) { v.canvas.frame(box{x, y - 6, 22, 12}, 2, 1, p.bandEdge, p.band) }, "healthy"},
	}
	total := 0.0
	fits := 0
	if two := textWidth(light, 13, false) + textWidth(load, 13, false) + 2*44; two > x-b.x { // the two lines without their amps
		keys[0].words, keys[1].words = firstWord(light), firstWord(load)
	}
	for _, k := range keys {
		w := 28 + textWidth(k.words, 13, false) + 16
		if total+w > x-b.x {
			break
		}
		total += w
		fits++
	}
	x -= total
	for _, k := range keys[:fits] {
		k.paint(x, b.midY())
		v.canvas.text(x+28, b.midY()+4.5, style{size: 13, fill: p.ink}, k.words)
		x += 28 + textWidth(k.words, 13, false) + 16
	}
}

// movingPass is which pass of the staircase is the present instant of a run: 0 the light test, 1 the one under load, -1
// none.
func (v *View) movingPass() int {
	switch {
	case v.clock == nil || v.now.live.climbed == nil:
		return -1
	case v.now.with == "test-lamp":
		return 0
	}
	return 1
}

// firstWord is light, or load.
func firstWord(words string) string {
	first, _, _ := strings.Cut(strings.TrimPrefix(words, "under "), " ")
	return first
}

// ownCurrent reports whether a part's own current makes the staircase of a blind case: its amps are then unknown.
func (v *View) ownCurrent() bool {
	s := v.now.live.shown
	return v.now.blind() && s != nil && v.c.Part(s.Load) != nil
}

// chip is a small choice that is on or off.
func (v *View) chip(c control) {
	l := v.control(c)
	b, ink := v.plate(c.at, l, ordinary)
	v.middleText(b.inset(4), style{size: 14, bold: l.on, fill: ink}, c.label)
}

// stairsRooms divides the body: the plot, and the names below it. Where there is little height the second lines go.
func (v *View) stairsRooms(body box) (plot, names box) {
	nameHeight, rows := 38.0, 2.0
	if body.h < 230 {
		nameHeight = 22
	}
	if body.h < 180 {
		rows = 1
	}
	foot := nameHeight + rows*ledgerRow + 6
	plot = box{body.x + axisRoom, body.y + 10, body.w - axisRoom - plotMargin, body.h - 10 - foot}
	return plot, box{plot.x, plot.foot(), plot.w, nameHeight}
}

// columnGrounds paints what lies under the traces, and makes each column something to point at.
func (v *View) columnGrounds(plot, names, body box) {
	p := v.canvas.p
	lit := v.litColumn()
	for i, c := range v.columns {
		b := box{c.X, plot.y, c.W, plot.h}
		switch {
		case c.Level(stairs.LightPass).Missing && c.Level(stairs.LoadPass).Missing:
			v.hatch(b)
			v.notProbed(b)
		case v.magnified && (c.Load() || c.Omit):
			v.hatch(b)
		case c.Load():
			v.canvas.fill(b, 0, p.useful)
		}
		if lit == i {
			v.canvas.frame(box{c.X, plot.y, c.W, body.foot() - plot.y - 2}, 4, 1.4, p.accent, 0)
		}
	}
}

func (v *View) notProbed(b box) {
	words := "not probed"
	if textWidth(words, 12, false) > b.w-8 {
		words = "?"
	}
	w := textWidth(words, 12, false) + 10
	in := box{b.midX() - w/2, b.midY() - 10, w, 20}
	v.canvas.fill(in, 3, v.canvas.p.panel)
	v.middleText(in, style{size: 12, fill: v.canvas.p.ink2}, words)
}

// grid draws level lines and their names, and the zero line.
func (v *View) grid(sc stairs.Scale, says func(value float64) string) {
	p := v.canvas.p
	plot := sc.Plot
	last := math.Inf(1)
	ticks := stairs.Ticks(min(sc.From, sc.To), max(sc.From, sc.To))
	for _, value := range ticks {
		y := math.Round(sc.Y(value)) + 0.5
		if math.Abs(last-y) < 17 {
			continue
		}
		last = y
		if value == 0 {
			v.canvas.line(1, p.line, at(plot.X, y), at(plot.X+plot.W, y))
		} else {
			v.canvas.dashed(1, p.hair, []float64{2, 4}, at(plot.X, y), at(plot.X+plot.W, y))
		}
		v.canvas.text(plot.X-8, y+4, style{size: 12, fill: p.ink2, anchor: drawing.End}, says(value))
	}
}

func (v *View) wholePlot(plot box, s *meter.Staircase) {
	p := v.canvas.p
	high := stairs.Highest(*s)
	sc := stairs.Scale{Plot: stairs.Area(plot.x, plot.y, plot.w, plot.h), From: 1.05 * high, To: min(1.06*stairs.Lowest(*s), -0.025*high)}
	v.grid(sc, func(value float64) string { return quantity.Format(math.Round(value*100)/100, quantity.Volts, 0) })
	if around := stairs.WholeBand(v.columns, s.OpenVolts, sc); len(around) > 2 {
		v.canvas.add(drawing.Shape{Form: drawing.Area, Spots: around, Fill: p.band, Stroke: p.bandEdge, Width: 1})
	}
	v.traces(stairs.WholeTrace(v.columns, stairs.LoadPass, sc), false)
	v.traces(stairs.WholeTrace(v.columns, stairs.LightPass, sc), true)
	worst := stairs.WorstOf(v.columns)
	if worst == nil {
		v.verdictWords(plot, s)
		return
	}
	l := worst.Level(stairs.LoadPass)
	v.cliff(worst, sc.Y(l.Volts+l.Lost), sc.Y(l.Volts), plot)
}

// traces draws a pass in its pieces: light is dashed.
func (v *View) traces(pieces [][]drawing.Spot, light bool) {
	p := v.canvas.p
	for _, piece := range pieces {
		switch {
		case len(piece) < 2:
		case light:
			v.canvas.dashed(2, p.light, []float64{7, 4}, piece...)
		default:
			v.canvas.line(3.2, p.accent, piece...)
		}
	}
}

// verdictWords says in the plot that no step stands out.
func (v *View) verdictWords(plot box, s *meter.Staircase) {
	if v.now.blind() || s.Verdict == "" || plot.h < 90 {
		return
	}
	p := v.canvas.p
	x, w := plot.x+24, plot.w/2-60
	for _, c := range v.columns {
		if c.Load() {
			x, w = plot.x+24, c.X-plot.x-40
			if right := plot.right() - c.X - c.W - 40; right > w {
				x, w = c.X+c.W+24, right
			}
		}
	}
	if w < 160 {
		return
	}
	v.canvas.lines(box{x, plot.y + 0.36*plot.h, min(w, 380), 60}, style{size: 13, fill: p.ink2}, 18, 2, s.Verdict)
}

// magnifiedPlot draws the volts lost so far on each side, without the load's own step.
func (v *View) magnifiedPlot(plot box) {
	p := v.canvas.p
	most := 0.025
	for _, sd := range stairs.Sides(v.columns) {
		most = max(most, sd.Lost(stairs.LostOf(stairs.LoadPass)), sd.Lost(stairs.LostOf(stairs.LightPass)), (1+stairs.Tolerance)*sd.Lost((*stairs.Column).Sound))
	}
	sc := stairs.Scale{Plot: stairs.Area(plot.x, plot.y, plot.w, plot.h), From: -0.06 * most, To: 1.15 * most}
	v.grid(sc, func(value float64) string { return quantity.Format(math.Round(value*1e5)/1e5, quantity.Volts, 0) })
	for _, sd := range stairs.Sides(v.columns) {
		for _, around := range stairs.LostBand(sd, sc) {
			if len(around) > 2 {
				v.canvas.add(drawing.Shape{Form: drawing.Area, Spots: around, Fill: p.band, Stroke: p.bandEdge, Width: 1})
			}
		}
	}
	for _, sd := range stairs.Sides(v.columns) {
		if v.known(sd, stairs.LoadPass) {
			v.traces(stairs.LostTrace(sd, stairs.LostOf(stairs.LoadPass), sc), false)
		}
		if v.known(sd, stairs.LightPass) {
			v.traces(stairs.LostTrace(sd, stairs.LostOf(stairs.LightPass), sc), true)
		}
	}
	for _, c := range v.columns {
		if c.Load() || c.Omit {
			v.omitted(c, plot)
		}
	}
}

// known reports whether a side has anything of a pass.
func (v *View) known(sd stairs.Side, of stairs.Pass) bool {
	for _, c := range sd.Columns {
		if !c.Level(of).Missing {
			return true
		}
	}
	return false
}

// omitted says what stands in a column that the magnified form leaves out.
func (v *View) omitted(c *stairs.Column, plot box) {
	p := v.canvas.p
	l := c.Level(stairs.LoadPass)
	if l.Missing {
		return
	}
	ink := p.ink2
	if !c.Load() && !c.Battery {
		ink = p.alert
	}
	words := quantity.Format(l.Lost, quantity.Volts, 3)
	w := min(c.W-4, max(textWidth(words, 13, true), textWidth("left out", 12, false))+10)
	in := box{c.X + c.W/2 - w/2, plot.midY() - 20, w, 40}
	v.canvas.fill(in, 3, p.panel)
	v.canvas.text(in.midX(), in.y+16, style{size: 13, bold: true, fill: ink, anchor: drawing.Middle}, shorten(words, 13, true, w))
	v.canvas.text(in.midX(), in.y+33, style{size: 12, fill: p.ink2, anchor: drawing.Middle}, shorten("left out", 12, false, w))
}
