package report

// This file sets the picture: head, legend, the whole staircase, the magnified one, and the ledger between them.

import (
	"fmt"
	"io"
	"math"

	"underload/circuit/catalog"

	scene "underload/ui/drawing"
	"underload/ui/stairs"
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
	columns []*stairs.Column
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
	stairs.MarkOmitted(d.columns)
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

func titleOf(p Page) string { return scene.ForXML(p.Title + ": " + p.Stairs.Verdict) }

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
		}, d.lightLegend()},
		{func(x, y float64) {
			d.rect(stairs.Area(x, y-6, 34, 12), band, fmt.Sprintf(`stroke="%s"`, bandEdge))
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

func (d *drawing) lightLegend() string {
	s := d.page.Stairs
	if name := d.lightName(); name != lightTest {
		return name + ": " + amperes(s.LightAmps)
	}
	return fmt.Sprintf("%s: %s, %s", lightTest, s.LightLoad, amperes(s.LightAmps))
}

// plot opens a plot of some height under a heading and draws its ground.
func (d *drawing) plot(heading string, height float64) stairs.Box {
	d.y += 16
	d.text(rightMargin, d.y, style{size: 15, bold: true, fill: ink}, heading)
	d.y += 10
	b := stairs.Area(leftMargin, d.y, d.end-leftMargin, height)
	d.rect(b, panel, "")
	d.y += height
	return b
}

// grid draws the level lines of a plot, named by says.
func (d *drawing) grid(s stairs.Scale, says func(v float64) string) {
	from, to := min(s.From, s.To), max(s.From, s.To)
	for _, v := range stairs.Ticks(from, to) {
		y := s.Y(v)
		d.line(s.Plot.X, y, s.Plot.X+s.Plot.W, y, hair, `stroke-dasharray="2 4"`)
		d.text(s.Plot.X-10, y+4, style{size: 12, fill: ink2, at: 1}, says(v))
	}
}

// whole draws the volts along the whole path.
func (d *drawing) whole() {
	s := d.page.Stairs
	plot := d.plot("Volts along the path, against battery −", wholeHeight)
	sc := stairs.Scale{Plot: plot, From: 1.06 * stairs.Highest(s), To: min(1.06*stairs.Lowest(s), -0.025*stairs.Highest(s))}
	for _, c := range d.columns {
		if c.Load() {
			d.rect(stairs.Area(c.X, plot.Y, c.W, plot.H), loadGround, "")
		}
	}
	d.grid(sc, func(v float64) string { return figures(math.Round(100*v)/100, 0) + "\u00a0V" })
	around := stairs.WholeBand(d.columns, s.OpenVolts, sc)
	d.polygon(around, band, fmt.Sprintf(`stroke="%s"`, bandEdge))
	var traces [][]stairs.Spot
	traces = append(traces, d.traces(stairs.WholeTrace(d.columns, stairs.LoadPass, sc), loadLine)...)
	traces = append(traces, d.traces(stairs.WholeTrace(d.columns, stairs.LightPass, sc), lightLine)...)
	if worst := stairs.WorstOf(d.columns); worst != nil && worst.Omit {
		l := worst.Level(stairs.LoadPass)
		d.cliff(worst, sc.Y(l.Volts+l.Lost), sc.Y(l.Volts), ground{plot, traces, [][]stairs.Spot{around}, nil})
	}
	d.line(plot.X, sc.Y(0), plot.X+plot.W, sc.Y(0), frame, "")
}

const (
	loadLine  = `stroke-width="3.2"`
	lightLine = `stroke-width="2" stroke-dasharray="7 4"`
)

// traces draws the pieces of a pass and gives them back, so that no word is set over them.
func (d *drawing) traces(pieces [][]stairs.Spot, how string) [][]stairs.Spot {
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
		d.line(c.X+c.W, top-wholeHeight, c.X+c.W, top, hair, `stroke-opacity="0.5"`)
		y := top + 4
		for _, name := range names(c) {
			y += lineHeight
			fill := ink
			if c.Worst() {
				fill = alert
			}
			d.text(c.X+c.W/2, y, style{size: nameSize, bold: true, fill: fill, at: 0.5, full: name},
				shorten(name, nameSize, true, c.W-8))
		}
		says := says(c)
		for _, line := range says {
			y += lineHeight - 1
			d.text(c.X+c.W/2, y, style{size: saysSize, fill: ink2, at: 0.5}, shorten(line, saysSize, false, c.W-8))
		}
		deepest = max(deepest, len(names(c))+len(says))
		d.y = max(d.y, y)
	}
	d.y += 10
}

// ledger writes each column's figures.
func (d *drawing) ledger() {
	rows := []struct {
		name string
		fill string
		cell func(c *stairs.Column) string
	}{
		{"light mV", lightInk, func(c *stairs.Column) string { return lossCell(c, stairs.LightPass) }},
		{"load mV", loadInk, func(c *stairs.Column) string { return lossCell(c, stairs.LoadPass) }},
		{"load mΩ", ink, func(c *stairs.Column) string { return ohmsCell(c, stairs.LoadPass) }},
		{"healthy mΩ", ink2, func(c *stairs.Column) string { return ohmsCell(c, stairs.HealthyPass) }},
	}
	for n, row := range rows {
		d.line(rightMargin, d.y, d.end, d.y, hair, "")
		d.y += ledgerRow
		d.text(leftMargin-10, d.y-7, style{size: 12, bold: true, fill: row.fill, at: 1}, row.name)
		for _, c := range d.columns {
			marked := c.Worst() && n == 1
			s := style{size: 13, fill: ink, at: 0.5, bold: marked}
			words := row.cell(c)
			if marked {
				s.fill = alert
				wide := textWidth(words, 13, true) + 12
				d.rect(stairs.Area(c.X+c.W/2-wide/2, d.y-ledgerRow+2, wide, ledgerRow-4), alertGround, fmt.Sprintf(`rx="3" stroke="%s"`, alert))
			}
			d.text(c.X+c.W/2, d.y-7, s, words)
		}
	}
	d.line(rightMargin, d.y, d.end, d.y, hair, "")
	d.y += 12
}

// lossCell is what a column loses: mV, and of the load its volts.
func lossCell(c *stairs.Column, of stairs.Pass) string {
	l := c.Level(of)
	if c.Load() && !l.Missing {
		return volts(l.Lost)
	}
	return Millivolts(l)
}

// ohmsCell is a column's resistance; the load's own is not in question.
func ohmsCell(c *stairs.Column, of stairs.Pass) string {
	if c.Load() {
		return ""
	}
	return Milliohms(c.Level(of))
}

// magnified draws the volts lost on each side of the load, so that 20 mV shows.
func (d *drawing) magnified() {
	plot := d.plot("Magnified: volts lost so far on each side, without the load's and the battery's own steps", magnifiedHeight)
	most := 0.025
	for _, sd := range stairs.Sides(d.columns) {
		most = max(most, sd.Lost(stairs.LostOf(stairs.LoadPass)), sd.Lost(stairs.LostOf(stairs.LightPass)), (1+stairs.Tolerance)*sd.Lost((*stairs.Column).Sound))
	}
	sc := stairs.Scale{Plot: plot, From: -0.04 * most, To: 1.15 * most}
	for _, c := range d.columns {
		if c.Load() || c.Omit {
			d.rect(stairs.Area(c.X, plot.Y, c.W, plot.H), panel, "")
			d.rect(stairs.Area(c.X, plot.Y, c.W, plot.H), "url(#hatch)", "")
		}
		d.line(c.X+c.W, plot.Y, c.X+c.W, plot.Y+plot.H, hair, `stroke-opacity="0.5"`)
	}
	d.grid(sc, func(v float64) string { return figures(math.Round(1e5*v)/100, 0) + "\u00a0mV" })
	var traces, bands [][]stairs.Spot
	for _, sd := range stairs.Sides(d.columns) {
		for _, around := range stairs.LostBand(sd, sc) {
			if len(around) > 2 {
				d.polygon(around, band, fmt.Sprintf(`stroke="%s"`, bandEdge))
				bands = append(bands, around)
			}
		}
	}
	for _, sd := range stairs.Sides(d.columns) {
		traces = append(traces, d.traces(stairs.LostTrace(sd, stairs.LostOf(stairs.LoadPass), sc), loadLine)...)
		traces = append(traces, d.traces(stairs.LostTrace(sd, stairs.LostOf(stairs.LightPass), sc), lightLine)...)
	}
	keepOff := []stairs.Box{}
	for _, c := range d.columns {
		if c.Load() || c.Omit {
			d.omitted(c, plot)
			keepOff = append(keepOff, stairs.Area(c.X, plot.Y, c.W, plot.H))
		}
	}
	if worst := stairs.WorstOf(d.columns); worst != nil && !worst.Omit {
		before := d.lostBefore(worst)
		d.cliff(worst, sc.Y(before), sc.Y(before+worst.Level(stairs.LoadPass).Lost), ground{plot, traces, bands, keepOff})
	}
	d.y += 6
	d.sums()
}

// lostBefore is what a column's side has lost when the column begins.
func (d *drawing) lostBefore(at *stairs.Column) float64 {
	for _, sd := range stairs.Sides(d.columns) {
		sum := 0.0
		for _, c := range sd.Columns {
			if c == at {
				return sum
			}
			if !c.Omit {
				sum += c.Level(stairs.LoadPass).Lost
			}
		}
	}
	return 0
}

// omitted says what stands in a column that the magnified scale leaves out.
func (d *drawing) omitted(c *stairs.Column, plot stairs.Box) {
	fill, why := ink2, c.Steps[0].Place
	switch {
	case c.Load():
		why = "the load"
	case c.Worst():
		fill = alert
	case c.Battery:
		why = "inside"
	}
	y := plot.Y + plot.H/2 - 12
	lines := []string{volts(c.Level(stairs.LoadPass).Lost), shorten(why, 12, false, c.W-10), "left out"}
	wide := 0.0
	for _, line := range lines {
		wide = max(wide, textWidth(line, 13, true))
	}
	d.rect(stairs.Area(c.X+c.W/2-wide/2-3, y-16, min(wide+6, c.W), 56), panel, "")
	d.text(c.X+c.W/2, y, style{size: 13, bold: true, fill: fill, at: 0.5}, lines[0])
	d.text(c.X+c.W/2, y+17, style{size: 12, fill: ink2, at: 0.5}, lines[1])
	d.text(c.X+c.W/2, y+33, style{size: 12, fill: ink2, at: 0.5}, lines[2])
}

// sums tells under each side what it loses in all, and what practice allows.
func (d *drawing) sums() {
	d.y += 4
	for _, sd := range stairs.Sides(d.columns) {
		lost := 0.0
		for _, c := range sd.Columns {
			if !c.Battery { // what it loses inside is not the side's
				lost += c.Level(stairs.LoadPass).Lost
			}
		}
		mark, fill, bold := "within", ink2, false
		if lost > catalog.SideLimitVolts {
			mark, fill, bold = "over", alert, true
		}
		d.paragraph(fmt.Sprintf("%s: %s, %s the %s that practice allows a side.", sd.Name, lostInAll(lost), mark, volts(catalog.SideLimitVolts)),
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
