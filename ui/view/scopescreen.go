package view

// This file is the screen of the scope: two traces, each in a band of its own so that none lies on the other, their scales,
// the cursor, and how far each channel went.

import (
	"fmt"
	"math"
	"strings"

	"underload/sim/record"
	"underload/ui/drawing"
	"underload/ui/plot"
)

// scopeScreen draws the traces with what belongs to them.
func (v *View) scopeScreen(b box, shown record.Screen) {
	cv, p := &v.canvas, v.canvas.p
	lines := 20.0
	plotBox := box{b.x + axisRoom, b.y + lines + 6, b.w - axisRoom - 16, b.h - lines - 30}
	if plotBox.h < 30 {
		return
	}
	v.control(control{id: "scope-screen", label: "Screen of the scope: " + v.scopeSaid(), at: plotBox, keys: v.cursorKey, do: func() { v.cursorTo(v.pointer[0]) }})
	bands := bandsOf(plotBox, len(shown.Channels()))
	for _, band := range bands {
		cv.fill(band, 0, p.sunk)
	}
	scales := v.scales(bands, shown)
	v.scopeGrid(plotBox, bands, shown)
	x := func(t float64) float64 { return plotBox.x + plotBox.w*(t-shown.From)/(shown.To-shown.From) }
	for _, m := range shown.Marks() {
		if m.Seconds >= shown.From && m.Seconds <= shown.To {
			cv.dashed(1, p.ink2, []float64{2, 3}, at(math.Round(x(m.Seconds))+0.5, plotBox.y), at(math.Round(x(m.Seconds))+0.5, plotBox.foot()))
		}
	}
	if shown.Triggered {
		tx := x(shown.At)
		cv.area(p.ok, at(tx-5, plotBox.y), at(tx+5, plotBox.y), at(tx, plotBox.y+7))
	}
	heads := b.x + axisRoom
	for c := range shown.Channels() {
		v.scopeTrace(c, shown, bands[c], scales[c])
		heads = v.scopeHead(c, shown, heads, b.y+17, b.x+axisRoom+(b.w-axisRoom-16)*float64(c+1)/float64(len(shown.Channels())))
	}
	v.levelLine(plotBox, bands, shown, scales)
	v.cursorLine(plotBox, bands, shown, scales)
}

// bandsOf divides the screen among the channels, one above the other.
func bandsOf(b box, channels int) []box {
	const gap = 6.0
	n := float64(max(1, channels))
	h := math.Floor((b.h - (n-1)*gap) / n)
	var all []box
	for i := range channels {
		all = append(all, box{b.x, b.y + float64(i)*(h+gap), b.w, h})
	}
	return all
}

// levelLine is the trigger's level, with a handle at the side of its channel; while the scope waits, it says for what.
func (v *View) levelLine(b box, bands []box, shown record.Screen, scales []valueScale) {
	s, p := v.scopeNow(), v.canvas.p
	if sweeps[s.sweep].how == record.Roll {
		return
	}
	if s.waits() {
		words := "Waiting: " + v.triggerWords()
		w := textWidth(words, 13, false) + 16
		at := box{b.right() - w - 6, b.foot() - 28, w, 22}
		v.canvas.frame(at, 4, 1, p.ok, p.okSoft)
		v.canvas.text(at.midX(), middle(at, 13), style{size: 13, fill: p.ink, anchor: drawing.Middle}, words)
	}
	if s.on >= len(scales) {
		return
	}
	scale, band := scales[s.on], bands[s.on]
	y := scale.y(band, s.level)
	v.canvas.dashed(1.2, p.ok, []float64{8, 4}, at(band.x, y), at(band.right(), y))
	v.canvas.area(p.ok, at(band.x-12, y-7), at(band.x-12, y+7), at(band.x, y))
	v.control(control{id: "scope-level", label: "Level of the trigger: " + v.levelWords(), at: box{band.x - 46, band.y, 46, band.h},
		pull: func(share float64) {
			value := scale.from + share*(scale.to-scale.from)
			v.setTrigger(func(s *scope) { s.level = round(value, s.levelStep()/10) })
		},
		keys: func(k Key) bool {
			by := map[string]float64{"Up": 1, "Down": -1}[k.Name]
			if by != 0 {
				v.setTrigger(func(s *scope) { s.level += by * s.levelStep() / 10 })
			}
			return by != 0
		}})
}

// scale is the values at the foot and at the head of the screen.
type valueScale struct{ from, to float64 }

func (s valueScale) y(b box, value float64) float64 {
	return b.foot() - b.h*min(1, max(0, (value-s.from)/(s.to-s.from)))
}

// scales fits each channel into its band.
func (v *View) scales(bands []box, shown record.Screen) []valueScale {
	var all []valueScale
	for c := range shown.Channels() {
		m, ok := shown.Measure(c, shown.From, shown.To)
		s := valueScale{0, 1}
		if ok {
			s = valueScale{m.Min, m.Max}
		}
		if set := v.scopeNow(); sweeps[set.sweep].how != record.Roll && set.on == c { // the level is in sight
			s.from, s.to = min(s.from, set.level), max(s.to, set.level)
		}
		least := max(0.02, 0.01*max(math.Abs(s.from), math.Abs(s.to))) // what is flat is not blown up
		if s.to-s.from < least {
			mid := (s.from + s.to) / 2
			s.from, s.to = mid-least/2, mid+least/2
		}
		pad := 0.08 * (s.to - s.from)
		s.from, s.to = s.from-pad, s.to+pad
		v.scaleWords(bands[c], s, shown.Channels()[c], v.inkOf(c))
		all = append(all, s)
	}
	return all
}

// inkOf is the colour of a channel.
func (v *View) inkOf(channel int) colour {
	if channel == 0 {
		return v.canvas.p.accent
	}
	return v.canvas.p.light
}

// scaleWords writes round values at the side of a channel's band.
func (v *View) scaleWords(b box, s valueScale, ch record.Channel, ink colour) {
	step := plot.RoundGap((s.to - s.from) / max(2, b.h/34))
	digits := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	free := math.Inf(1)
	for value := math.Ceil(s.from/step) * step; value < s.to; value += step {
		words := strings.Replace(fmt.Sprintf("%.*f", digits, value+step*1e-9), "-", "−", 1)
		if len(ch.Words) > 0 {
			i := int(math.Round(value))
			if math.Abs(value-float64(i)) > 1e-6 || i < 0 || i >= len(ch.Words) {
				continue
			}
			words = ch.Words[i]
		} else if value+step >= s.to { // the topmost says in what
			words += "\u00a0" + ch.Unit
		}
		y := math.Round(s.y(b, value))
		v.canvas.line(1, v.canvas.p.hair, at(b.x, y+0.5), at(b.right(), y+0.5))
		base := max(y+4, b.y+10) // none reaches into the band above
		if base > free {
			continue
		}
		free = base - 12
		v.canvas.text(b.x-8, base, style{size: 12, fill: ink, anchor: drawing.End}, shorten(words, 12, false, axisRoom-24))
	}
}

// scopeGrid writes the times below the screen.
func (v *View) scopeGrid(b box, bands []box, shown record.Screen) {
	p := v.canvas.p
	span := shown.To - shown.From
	step := plot.TimeGap(span, int(b.w/110))
	free := 0.0
	for t := math.Ceil(shown.From/step-1e-9) * step; t <= shown.To+step*1e-9; t += step {
		x := math.Round(b.x + b.w*(t-shown.From)/span)
		for _, band := range bands {
			v.canvas.line(1, p.hair, at(x+0.5, band.y), at(x+0.5, band.foot()))
		}
		words := plot.Time(t, span)
		half := textWidth(words, 12, false) / 2
		if x-half < free || x+half > v.panelBox().right()-4 {
			continue
		}
		v.canvas.text(x, b.foot()+15, style{size: 12, fill: p.ink2, anchor: drawing.Middle}, words)
		free = x + half + 8
	}
}

// scopeTrace draws one channel. Of more rows than there are px each px shows the extremes.
func (v *View) scopeTrace(c int, shown record.Screen, b box, s valueScale) {
	first, last := shown.Span()
	from, to := max(shown.From, first), min(shown.To, last)
	if !(to >= from) {
		return
	}
	x := func(t float64) float64 { return b.x + b.w*(t-shown.From)/(shown.To-shown.From) }
	spots := []drawing.Spot{at(x(from), s.y(b, shown.Recording.At(from, c)))}
	if rows := rowsWithin(shown.Recording, from, to); len(rows) <= int(2*b.w) {
		for _, i := range rows {
			spots = append(spots, at(x(shown.Seconds(i)), s.y(b, shown.Value(i, c))))
		}
	} else {
		n := int(b.w)
		for k := range n {
			a := from + (to-from)*float64(k)/float64(n)
			if m, ok := shown.Measure(c, a, a+(to-from)/float64(n)); ok {
				px := x(a)
				spots = append(spots, at(px, s.y(b, m.Start)), at(px, s.y(b, m.Min)), at(px, s.y(b, m.Max)), at(px, s.y(b, m.End)))
			}
		}
	}
	spots = append(spots, at(x(to), s.y(b, shown.Recording.At(to, c))))
	v.traceLine(c, spots...)
	v.canvas.text(b.x-axisRoom+6, middle(b, 14), style{size: 14, bold: true, fill: v.inkOf(c)}, v.scopeNow().letter(c))
}

// traceLine is drawn through for the first channel and dashed for the second.
func (v *View) traceLine(c int, spots ...drawing.Spot) {
	if c == 0 {
		v.canvas.line(2, v.inkOf(c), spots...)
		return
	}
	v.canvas.dashed(2, v.inkOf(c), []float64{6, 4}, spots...)
}

// rowsWithin are the rows between two times.
func rowsWithin(r *record.Recording, from, to float64) (rows []int) {
	low, high := 0, r.Rows()
	for low < high {
		if mid := (low + high) / 2; r.Seconds(mid) < from {
			low = mid + 1
		} else {
			high = mid
		}
	}
	for i := low; i < r.Rows() && r.Seconds(i) <= to; i++ {
		rows = append(rows, i)
	}
	return rows
}

// scopeHead writes a channel's name, its value and how far it went.
func (v *View) scopeHead(c int, shown record.Screen, x, y, right float64) float64 {
	p := v.canvas.p
	ch := shown.Channels()[c]
	v.traceLine(c, at(x, y-4), at(x+22, y-4))
	words := v.scopeNow().letter(c) + ", " + ch.Name
	if m, ok := shown.Measure(c, shown.From, shown.To); ok {
		words += fmt.Sprintf(": %s, least %s, most %s", plot.Value(ch, m.End), plot.Value(ch, m.Min), plot.Value(ch, m.Max))
	}
	v.canvas.text(x+28, y, style{size: 13, fill: p.ink}, shorten(words, 13, false, right-x-40))
	return right
}

// scopeSaid is what the screen shows, in words.
func (v *View) scopeSaid() string {
	shown, ok := v.scopeNow().shown()
	if !ok {
		return "nothing yet"
	}
	var words []string
	for c, ch := range shown.Channels() {
		if m, ok := shown.Measure(c, shown.From, shown.To); ok {
			words = append(words, fmt.Sprintf("%s %s, least %s, most %s", ch.Name, plot.Value(ch, m.End), plot.Value(ch, m.Min), plot.Value(ch, m.Max)))
		}
	}
	return strings.Join(words, "; ")
}

// cursorTo puts the cursor at a place of the window, or takes it away where it stands already.
func (v *View) cursorTo(x float64) {
	c := v.find("scope-screen")
	if c == nil {
		return
	}
	share := min(1, max(0, (x-c.at.x)/c.at.w))
	if s := v.scopeNow(); math.Abs(s.cursor-share) < 0.01 {
		s.cursor = -1
	} else {
		s.cursor = share
	}
	v.dirty = true
}

// cursorKey moves the cursor.
func (v *View) cursorKey(k Key) bool {
	s := v.scopeNow()
	switch k.Name {
	case "Left":
		s.cursor = max(0, s.cursor-0.01)
	case "Right":
		s.cursor = min(1, max(0, s.cursor)+0.01)
	case "Home":
		s.cursor = 0
	case "End":
		s.cursor = 1
	case "Enter", "Space":
		s.cursor = -1
	default:
		return false
	}
	v.dirty = true
	return true
}

// cursorLine reads both channels where the cursor stands, or the pointer.
func (v *View) cursorLine(b box, bands []box, shown record.Screen, scales []valueScale) {
	share := v.scopeNow().cursor
	if b.holds(v.pointer[0], v.pointer[1]) && v.menu == "" {
		share = (v.pointer[0] - b.x) / b.w
	}
	first, last := shown.Span()
	t := shown.From + share*(shown.To-shown.From)
	if share < 0 || t < first || t > last {
		return
	}
	cv, p := &v.canvas, v.canvas.p
	x := math.Round(b.x + share*b.w)
	cv.line(1, p.ink, at(x+0.5, b.y), at(x+0.5, b.foot()))
	words := plot.Time(t, shown.To-shown.From)
	for c, ch := range shown.Channels() {
		value := shown.Recording.At(t, c)
		cv.circle(x+0.5, scales[c].y(bands[c], value), 3.5, 1.5, p.ink, p.panel)
		words += fmt.Sprintf("  %s %s", shorten(ch.Name, 13, false, 90), plot.Value(ch, value))
	}
	w := textWidth(words, 13, false) + 16
	tag := box{math.Round(min(max(x-w/2, b.x), b.right()-w)), b.y + 4, w, 22}
	cv.frame(tag, 4, 1, p.ink, p.panel)
	cv.text(tag.midX(), middle(tag, 13), style{size: 13, fill: p.ink, anchor: drawing.Middle}, words)
}
