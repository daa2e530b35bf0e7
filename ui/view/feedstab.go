package view

// This file is the feeds and grounds of the chosen part in the panel: all the way, and when each is hot.

import (
	"fmt"
	"strings"

	"underload/circuit"
)

// feedsPart is the part whose feeds are shown: the chosen one, else the one whose staircase is shown.
func (v *View) feedsPart() string {
	if owner := v.ownerOf(v.now.picked); v.c.Part(owner) != nil {
		return owner
	}
	return v.subject(&v.now)
}

func (v *View) feedsTab(head, body box) {
	p := v.canvas.p
	name := v.feedsPart()
	feeds, err := v.c.Feeds(name)
	if err != nil || len(feeds) == 0 {
		v.canvas.lines(box{body.x + 24, body.y + 20, body.w - 48, 60}, style{size: 14, fill: p.ink2}, 20, 3,
			orElse(name, "Nothing")+" has no feed or ground of its own. Choose another part in the drawing.")
		return
	}
	const row = 62.0
	y := body.y + 6
	most := max(1, int((body.foot()-y-2)/row))
	from := v.scrolled("feeds", len(feeds), most)
	v.pager("feeds", box{head.right() - 2*v.row() - 4, v.panelBox().y + (tabHeight-v.row())/2, 2*v.row() + 4, v.row()}, len(feeds), most)
	for i := from; i < min(len(feeds), from+most); i++ {
		if i > from {
			v.rule(body.x+16, body.right()-16, y)
		}
		v.feed(feeds[i], box{body.x + 24, y, body.w - 48, row})
		y += row
	}
}

// feed writes one way: the terminal, when it is closed, what lies on it, and where to test.
func (v *View) feed(f circuit.Feed, b box) {
	p := v.canvas.p
	left := min(150, b.w*0.26)
	v.canvas.text(b.x, b.y+22, style{size: 14, bold: true, fill: p.ink}, shorten(f.Terminal.Name, 14, true, left-8))
	sign := "battery −"
	if f.Plus {
		sign = "battery +"
	}
	v.canvas.text(b.x, b.y+41, style{size: 13, fill: p.ink2}, shorten(f.Purpose+", "+sign, 13, false, left-8))
	x, w := b.x+left, b.w-left
	v.canvas.text(x, b.y+22, style{size: 14, fill: p.ink}, shorten(whenWords(f), 14, false, w))
	var way []string
	for _, link := range f.Way {
		if link.Wire != nil && strings.Contains(link.Wire.Name, "~") {
			way = append(way, orElse(link.Wire.Colour, "wire"))
			continue
		}
		way = append(way, spelt(link.Name()))
	}
	if f.End != nil {
		way = append(way, f.End.Name)
	}
	words := strings.Join(way, " – ")
	if len(f.Others) > 0 {
		words += fmt.Sprintf("; %d other ways", len(f.Others))
	}
	lines := wrap(words, 13, false, w, 2)
	if len(lines) == 2 && f.Tested {
		lines = wrap(words, 13, false, w, 1)
	}
	for i, line := range lines {
		v.canvas.text(x, b.y+40+float64(i)*16, style{size: 13, fill: p.ink2}, line)
	}
	if f.Tested && len(lines) == 1 {
		v.canvas.text(x, b.y+56, style{size: 12, fill: p.ok}, shorten(fmt.Sprintf("test at %s: %s", f.Test.Name, f.Test.Reach.Says()), 12, false, w))
	}
}

// whenWords says when a way is closed.
func whenWords(f circuit.Feed) string {
	word := "closed"
	if f.Plus {
		word = "hot"
	}
	switch {
	case f.End == nil && f.Through != nil:
		return "no way of its own: it stands in series with " + f.Through.Name
	case f.End == nil:
		return "no way"
	}
	return word + " " + f.When()
}

// feedPath is everything on the feeds and grounds of the chosen part.
func (v *View) feedPath(s *state) map[string]bool {
	path := map[string]bool{}
	p := s.picked
	name := v.ownerOf(p)
	if v.c.Part(name) == nil {
		name = v.subject(s)
	}
	feeds, err := v.c.Feeds(name)
	if err != nil {
		return path
	}
	path[name] = true
	for _, f := range feeds {
		path[f.Terminal.Name] = true
		for _, link := range f.Way {
			if link.Body == nil {
				path[link.Name()] = true
			}
		}
		if f.End != nil {
			path[f.End.Owner] = true
		}
	}
	return path
}
