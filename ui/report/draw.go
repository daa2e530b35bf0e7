package report

// This file sets the picture: head, legend, the whole staircase, the magnified one, and the ledger between them.

import (
	"fmt"
	"html"
	"io"
	"math"

	"underload/circuit/catalog"
)

// Heights, in px.
const (
	wholeHeight     = 280.0
	magnifiedHeight = 220.0
	ledgerRow       = 22.0
	lineHeight      = 17.0
)

// drawing is a picture while it is made.
type drawing struct {
	canvas
	page    Page
	columns []*column
	end     float64 // where the last column ends
	y       float64 // how far down the page is filled
}

// Draw writes the staircase as SVG.
func Draw(w io.Writer, p Page) error {
	_, err := io.WriteString(w, draw(p).String())
	return err
}

func draw(p Page) *drawing {
	d := &drawing{page: p}
	d.columns, d.w = setColumns(p.Stairs)
	markOmitted(d.columns)
	d.end = d.w - rightMargin
	d.w += d.apron()
	d.head()
	d.whole()
	d.names()
	d.ledger()
	d.magnified()
	d.foot()
	d.h = d.y
	ground := fmt.Sprintf(`<rect width="%s" height="%s" fill="%s"/>`+"\n", px(d.w), px(d.h), paper)
	hatch := fmt.Sprintf(`<defs><pattern id="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">`+
		`<line x1="0" y1="0" x2="0" y2="7" stroke="%s" stroke-width="1.6"/></pattern></defs>`+"\n", hair)
	body := d.body.String()
	d.body.Reset()
	d.body.WriteString("<title>" + titleOf(p) + "</title>\n" + hatch + ground + body)
	return d
}

func titleOf(p Page) string { return html.EscapeString(clean(p.Title + ": " + p.Stairs.Verdict)) }

// paragraph sets words line under line across the page.
func (d *drawing) paragraph(words string, s style, leading float64) {
	for _, line := range wrap(words, s.size, s.bold, d.w-2*rightMargin) {
		d.y += leading
		d.text(rightMargin, d.y, s, line)
	}
}

func (d *drawing) head() {
	d.y = 14
	d.paragraph(d.page.Title, style{size: 20, bold: true, fill: ink}, 26)
	d.paragraph(d.page.Setting, style{size: 13, fill: ink2}, 20)
	d.y += 4
	d.paragraph(d.page.Stairs.Verdict, style{size: 15, bold: true, fill: ink}, 22)
	if state := d.page.Stairs.State; state != "" {
		d.paragraph(Hitch(state), style{size: 13, fill: ink}, 20)
	}
	d.y += 10
	d.legend()
}

// legend explains the lines; hue is never their only mark.
func (d *drawing) legend() {
	s := d.page.Stairs
	keys := []struct {
		sample func(x, y float64)
		words  string
	}{
		{func(x, y float64) {
			d.line(x, y, x+34, y, loadInk, `stroke-width="3.2"`)
		}, fmt.Sprintf("under load: %s, %s", s.Load, amperes(s.Amps))},
		{func(x, y float64) {
			d.line(x, y, x+34, y, lightInk, `stroke-width="2" stroke-dasharray="7 4"`)
		}, fmt.Sprintf("light test: %s, %s", s.LightLoad, amperes(s.LightAmps))},
		{func(x, y float64) {
			d.rect(box{x, y - 6, 34, 12}, band, fmt.Sprintf(`stroke="%s"`, bandEdge))
		}, fmt.Sprintf("healthy circuit, wires ±30\u00a0%%: %s", amperes(s.HealthyAmps))},
	}
	d.y += 18
	x := rightMargin
	for _, k := range keys {
		wide := 42 + textWidth(k.words, 13, false) + 26
		if x+wide > d.w-rightMargin+26 && x > rightMargin {
			x = rightMargin
			d.y += 22
		}
		k.sample(x, d.y-4)
		d.text(x+42, d.y, style{size: 13, fill: ink}, k.words)
		x += wide
	}
	d.y += 16
}

// plot opens a plot of some height under a heading and draws its ground.
func (d *drawing) plot(heading string, height float64) box {
	d.y += 16
	d.text(rightMargin, d.y, style{size: 15, bold: true, fill: ink}, heading)
	d.y += 10
	b := box{leftMargin, d.y, d.end - leftMargin, height}
	d.rect(b, panel, "")
	d.y += height
	return b
}

// grid draws the level lines of a plot, named by says.
func (d *drawing) grid(s scale, says func(v float64) string) {
	from, to := min(s.from, s.to), max(s.from, s.to)
	for _, v := range ticks(from, to) {
		y := s.y(v)
		d.line(s.plot.x, y, s.plot.x+s.plot.w, y, hair, `stroke-dasharray="2 4"`)
		d.text(s.plot.x-10, y+4, style{size: 12, fill: ink2, at: 1}, says(v))
	}
}

// whole draws the volts along the whole path.
func (d *drawing) whole() {
	s := d.page.Stairs
	plot := d.plot("Volts along the path, against battery −", wholeHeight)
	sc := scale{plot, 1.06 * highest(s), min(1.06*lowest(s), -0.025*highest(s))}
	for _, c := range d.columns {
		if c.load() {
			d.rect(box{c.x, plot.y, c.w, plot.h}, loadGround, "")
		}
	}
	d.grid(sc, func(v float64) string { return figures(math.Round(100*v)/100, 0) + "\u00a0V" })
	around := wholeBand(d.columns, s.OpenVolts, sc)
	d.polygon(around, band, fmt.Sprintf(`stroke="%s"`, bandEdge))
	var traces [][]spot
	traces = append(traces, d.traces(wholeTrace(d.columns, loadPass, sc), loadLine)...)
	traces = append(traces, d.traces(wholeTrace(d.columns, lightPass, sc), lightLine)...)
	if worst := worstOf(d.columns); worst != nil && worst.omit {
		l := worst.level(loadPass)
		d.cliff(worst, sc.y(l.Volts+l.Lost), sc.y(l.Volts), ground{plot, traces, [][]spot{around}, nil})
	}
	d.line(plot.x, sc.y(0), plot.x+plot.w, sc.y(0), frame, "")
}

const (
	loadLine  = `stroke-width="3.2"`
	lightLine = `stroke-width="2" stroke-dasharray="7 4"`
)

// traces draws the pieces of a pass and gives them back, so that no word is set over them.
func (d *drawing) traces(pieces [][]spot, how string) [][]spot {
	stroke := loadInk
	if how == lightLine {
		stroke = lightInk
	}
	for _, piece := range pieces {
		if len(piece) > 1 {
			d.polyline(piece, stroke, how)
		}
	}
	return pieces
}

// names writes what each column is under the whole staircase.
func (d *drawing) names() {
	deepest := 0
	top := d.y
	for _, c := range d.columns {
		d.line(c.x+c.w, top-wholeHeight, c.x+c.w, top, hair, `stroke-opacity="0.5"`)
		y := top + 4
		for _, name := range c.names() {
			y += lineHeight
			fill := ink
			if c.worst() {
				fill = alert
			}
			d.text(c.x+c.w/2, y, style{size: nameSize, bold: true, fill: fill, at: 0.5, full: name},
				shorten(name, nameSize, true, c.w-8))
		}
		says := c.says()
		for _, line := range says {
			y += lineHeight - 1
			d.text(c.x+c.w/2, y, style{size: saysSize, fill: ink2, at: 0.5}, shorten(line, saysSize, false, c.w-8))
		}
		deepest = max(deepest, len(c.names())+len(says))
		d.y = max(d.y, y)
	}
	d.y += 10
}

// ledger writes each column's figures.
func (d *drawing) ledger() {
	rows := []struct {
		name string
		fill string
		cell func(c *column) string
	}{
		{"light mV", lightInk, func(c *column) string { return lossCell(c, lightPass) }},
		{"load mV", loadInk, func(c *column) string { return lossCell(c, loadPass) }},
		{"load mΩ", ink, func(c *column) string { return ohmsCell(c, loadPass) }},
		{"healthy mΩ", ink2, func(c *column) string { return ohmsCell(c, healthyPass) }},
	}
	for n, row := range rows {
		d.line(rightMargin, d.y, d.end, d.y, hair, "")
		d.y += ledgerRow
		d.text(leftMargin-10, d.y-7, style{size: 12, bold: true, fill: row.fill, at: 1}, row.name)
		for _, c := range d.columns {
			marked := c.worst() && n == 1
			s := style{size: 13, fill: ink, at: 0.5, bold: marked}
			words := row.cell(c)
			if marked {
				s.fill = alert
				wide := textWidth(words, 13, true) + 12
				d.rect(box{c.x + c.w/2 - wide/2, d.y - ledgerRow + 2, wide, ledgerRow - 4}, alertGround, fmt.Sprintf(`rx="3" stroke="%s"`, alert))
			}
			d.text(c.x+c.w/2, d.y-7, s, words)
		}
	}
	d.line(rightMargin, d.y, d.end, d.y, hair, "")
	d.y += 12
}

// lossCell is what a column loses: mV, and of the load its volts.
func lossCell(c *column, of pass) string {
	l := c.level(of)
	if c.load() && !l.Missing {
		return volts(l.Lost)
	}
	return Millivolts(l)
}

// ohmsCell is a column's resistance; the load's own is not in question.
func ohmsCell(c *column, of pass) string {
	if c.load() {
		return ""
	}
	return Milliohms(c.level(of))
}

// magnified draws the volts lost on each side of the load, so that 20 mV shows.
func (d *drawing) magnified() {
	plot := d.plot("Magnified: volts lost so far on each side, without the load's and the battery's own steps", magnifiedHeight)
	most := 0.025
	for _, sd := range sides(d.columns) {
		most = max(most, sd.lost(lostOf(loadPass)), sd.lost(lostOf(lightPass)), (1+tolerance)*sd.lost((*column).sound))
	}
	sc := scale{plot, -0.04 * most, 1.15 * most}
	for _, c := range d.columns {
		if c.load() || c.omit {
			d.rect(box{c.x, plot.y, c.w, plot.h}, panel, "")
			d.rect(box{c.x, plot.y, c.w, plot.h}, "url(#hatch)", "")
		}
		d.line(c.x+c.w, plot.y, c.x+c.w, plot.y+plot.h, hair, `stroke-opacity="0.5"`)
	}
	d.grid(sc, func(v float64) string { return figures(math.Round(1e5*v)/100, 0) + "\u00a0mV" })
	var traces, bands [][]spot
	for _, sd := range sides(d.columns) {
		for _, around := range lostBand(sd, sc) {
			if len(around) > 2 {
				d.polygon(around, band, fmt.Sprintf(`stroke="%s"`, bandEdge))
				bands = append(bands, around)
			}
		}
	}
	for _, sd := range sides(d.columns) {
		traces = append(traces, d.traces(lostTrace(sd, lostOf(loadPass), sc), loadLine)...)
		traces = append(traces, d.traces(lostTrace(sd, lostOf(lightPass), sc), lightLine)...)
	}
	keepOff := []box{}
	for _, c := range d.columns {
		if c.load() || c.omit {
			d.omitted(c, plot)
			keepOff = append(keepOff, box{c.x, plot.y, c.w, plot.h})
		}
	}
	if worst := worstOf(d.columns); worst != nil && !worst.omit {
		before := d.lostBefore(worst)
		d.cliff(worst, sc.y(before), sc.y(before+worst.level(loadPass).Lost), ground{plot, traces, bands, keepOff})
	}
	d.y += 6
	d.sums()
}

// lostBefore is what a column's side has lost when the column begins.
func (d *drawing) lostBefore(at *column) float64 {
	for _, sd := range sides(d.columns) {
		sum := 0.0
		for _, c := range sd.columns {
			if c == at {
				return sum
			}
			if !c.omit {
				sum += c.level(loadPass).Lost
			}
		}
	}
	return 0
}

// omitted says what stands in a column that the magnified scale leaves out.
func (d *drawing) omitted(c *column, plot box) {
	fill, why := ink2, c.steps[0].Place
	switch {
	case c.load():
		why = "the load"
	case c.worst():
		fill = alert
	case c.battery:
		why = "inside"
	}
	y := plot.y + plot.h/2 - 12
	lines := []string{volts(c.level(loadPass).Lost), shorten(why, 12, false, c.w-10), "left out"}
	wide := 0.0
	for _, line := range lines {
		wide = max(wide, textWidth(line, 13, true))
	}
	d.rect(box{c.x + c.w/2 - wide/2 - 3, y - 16, min(wide+6, c.w), 56}, panel, "")
	d.text(c.x+c.w/2, y, style{size: 13, bold: true, fill: fill, at: 0.5}, lines[0])
	d.text(c.x+c.w/2, y+17, style{size: 12, fill: ink2, at: 0.5}, lines[1])
	d.text(c.x+c.w/2, y+33, style{size: 12, fill: ink2, at: 0.5}, lines[2])
}

// sums tells under each side what it loses in all, and what practice allows.
func (d *drawing) sums() {
	d.y += 4
	for _, sd := range sides(d.columns) {
		lost := 0.0
		for _, c := range sd.columns {
			if !c.battery { // what it loses inside is not the side's
				lost += c.level(loadPass).Lost
			}
		}
		mark, fill, bold := "within", ink2, false
		if lost > catalog.SideLimitVolts {
			mark, fill, bold = "over", alert, true
		}
		d.paragraph(fmt.Sprintf("%s: %s, %s the %s that practice allows a side.", sd.name, lostInAll(lost), mark, volts(catalog.SideLimitVolts)),
			style{size: 13, bold: bold, fill: fill}, 19)
	}
}

// lostInAll tells what a side loses; less than a millivolt is not worth a figure.
func lostInAll(lost float64) string {
	if math.Abs(lost) < 0.001 {
		return "under 1\u00a0mV lost outside the battery"
	}
	return volts(lost) + " lost outside the battery"
}

func (d *drawing) foot() {
	d.y += 6
	note := "Computed from the circuit file, not measured on the vehicle. In the magnified plot the healthy band is told for the current that flows under load. The vehicle maker's procedure, local law and licensed practice come first."
	d.paragraph(note, style{size: 12, fill: ink2}, 17)
	d.y += 16
}
