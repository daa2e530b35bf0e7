package view

// This file is the log of readings in the panel.

import (
	"fmt"
	"strings"
)

const logRow = 30.0

// logColumns are the shares of the room that each figure of a reading has.
var logColumns = []struct {
	name  string
	share float64
	least float64 // px; in a window too narrow for all, those with none go first
}{{"", 0.05, 28}, {"Instrument", 0.13, 84}, {"Where", 0.22, 120}, {"Reading", 0.2, 110}, {"Seen", 0.18, 0}, {"After what, when, healthy", 0.22, 110}}

// logEnd is how many readings there were when the log was last painted, and whether somebody had turned away from the last.
type logEnd struct {
	n    int
	away bool
}

func (v *View) logTab(head, body box) {
	p := v.canvas.p
	if v.plan.slim { // a row of its own
		head = box{body.x + 8, body.y, body.w - 16, tabHeight}
		body.y += tabHeight
		body.h -= tabHeight
	}
	x := head.right()
	for _, act := range []struct {
		id, label, off string
		do             func()
	}{{"open-log", "Open", "", func() { v.lookFor("log") }},
		{"save-log", "Keep as a file", empty(len(v.now.log) == 0, "The log is empty"), v.saveLog}} {
		w := textWidth(act.label, 14, false) + 28
		x -= w
		v.button(control{id: act.id, label: act.label, at: box{x, head.midY() - v.row()/2, w, v.row()}, off: act.off, do: act.do}, ordinary)
		x -= 8
	}
	if len(v.now.log) == 0 {
		v.canvas.lines(box{body.x + 24, body.y + 20, body.w - 48, 60}, style{size: 14, fill: p.ink2}, 20, 3,
			"No reading is logged yet. Log reading, or the key L, writes the present one down here; the log can be kept as a file and opened again.")
		return
	}
	columns := v.logRoom(body)
	y := body.y + 6
	for i, c := range columns {
		v.canvas.text(c.x, y+16, style{size: 12, fill: p.ink2}, shorten(logColumns[v.logShown(body)[i]].name, 12, false, c.w))
	}
	y += 24
	most := max(1, int((body.foot()-y-2)/logRow))
	n := len(v.now.log)
	if n != v.logEnd.n && !v.logEnd.away { // what is new is in sight
		v.scroll["log"] = n
	}
	from := v.scrolled("log", n, most)
	v.logEnd = logEnd{n, from+most < n}
	v.pager("log", box{x - 2*v.row() - 12, head.midY() - v.row()/2, 2*v.row() + 4, v.row()}, len(v.now.log), most)
	for i := from; i < min(len(v.now.log), from+most); i++ {
		v.rule(body.x+16, body.right()-16, y)
		v.logLine(i, columns, v.logShown(body), y)
		y += logRow
	}
}

// logShown lists the columns that there is room for.
func (v *View) logShown(body box) []int {
	var shown []int
	for i, c := range logColumns {
		if c.least > 0 || body.w > 700 {
			shown = append(shown, i)
		}
	}
	return shown
}

func (v *View) logRoom(body box) []box {
	shown, sum := v.logShown(body), 0.0
	for _, i := range shown {
		sum += logColumns[i].share
	}
	x, room := body.x+24, body.w-48
	var columns []box
	for _, i := range shown {
		w := room * logColumns[i].share / sum
		columns = append(columns, box{x, body.y, w - 10, body.h})
		x += w
	}
	return columns
}

// since is what was set and mended between a reading of the log and the one before it.
func (v *View) since(i int) string {
	setup := v.now.log[i].Setup
	for i--; i >= 0; i-- {
		if before := v.now.log[i]; before.Noticed == "" && len(before.Setup) <= len(setup) {
			setup = setup[len(before.Setup):]
			break
		}
	}
	if len(setup) == 0 {
		return ""
	}
	return "after " + strings.Join(setup, ", ")
}

func (v *View) logLine(i int, columns []box, shown []int, y float64) {
	p, e := v.canvas.p, v.now.log[i]
	r := &e.Reading
	value, spread, seen := figureWords(r)
	where := ""
	switch {
	case r.Red != "" && r.Black != "":
		where = r.Red + " to " + r.Black
	case r.Red != "":
		where = r.Red
	case r.On != "":
		where = "around " + r.On
	}
	figure := strings.Join(compact(value, spread), " ")
	cells := []string{number(e.Number), labelOf(r.Instrument), where, figure, seen, healthyWords(r)}
	if figure == "" {
		cells[3] = seen
		cells[4] = ""
	}
	if e.Seconds != nil {
		cells[5] = joined("at "+v.when(*e.Seconds), cells[5])
	}
	cells[5] = joined(v.since(i), cells[5])
	if e.Noticed != "" {
		last := columns[len(columns)-1]
		v.canvas.text(columns[0].x, y+20, style{size: 13, fill: p.ink2}, cells[0])
		v.canvas.text(columns[1].x, y+20, style{size: 13, fill: p.ink}, shorten(e.Noticed, 13, false, last.x-10-columns[1].x))
		v.canvas.text(last.x, y+20, style{size: 13, fill: p.ink2}, shorten(cells[5], 13, false, last.w))
		return
	}
	for k, i := range shown {
		st := style{size: 13, fill: p.ink, bold: i == 3}
		if i == 0 || i == 5 {
			st.fill = p.ink2
		}
		room := columns[k].w
		if i == 3 && cells[4] == "" && k+1 < len(shown) && shown[k+1] == 4 { // words only
			room = columns[k+1].x + columns[k+1].w - columns[k].x
		}
		v.canvas.text(columns[k].x, y+20, st, shorten(cells[i], 13, st.bold, room))
	}
}

func (v *View) saveLog() {
	data, err := WriteLog(v.title(), v.now.log)
	if err != nil {
		v.tell(spoken(err))
		return
	}
	v.want(Want{Kind: SaveFile, Name: v.fileName() + ".readings", Data: data})
}

// Open takes a file that was asked for: a log of readings, or faults, one a line.
func (v *View) Open(name string, data []byte) {
	if strings.HasSuffix(name, ".faults") {
		v.openFaults(name, string(data))
		return
	}
	of, entries, err := ReadLog(name, data)
	if err != nil {
		v.tell(err.Error())
		return
	}
	v.act(func(s *state) error {
		s.log = entries
		s.tab = tabLog
		return nil
	})
	news := fmt.Sprintf("%d readings were read from %s.", len(entries), name)
	if of != v.title() {
		news += fmt.Sprintf(" They were taken on another circuit: %s.", of)
	}
	v.tell(news)
}

// openFaults lays the faults of a file instead of those that are there.
func (v *View) openFaults(name, text string) {
	if v.o.Hide {
		v.tell("The faults of this case are hidden: this is the trainee's seat.")
		return
	}
	var lines []string
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if err := v.fits(line); err != nil {
			v.tell(fmt.Sprintf("%s:%d: %s", name, n+1, spoken(err)))
			return
		}
		lines = append(lines, line)
	}
	v.stopTime()
	v.act(func(s *state) error { return v.relay(s, lines) })
}
