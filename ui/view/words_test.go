package view

import (
	"fmt"
	"strings"
	"testing"

	"underload/circuits"
	"underload/ui/drawing"
)

// No words stand on other words, run out of their panel or are smaller than 12 px: every example, every size, both
// themes, with a mouse and with fingers, many states.
func TestNoWordsOverlap(t *testing.T) {
	looked := 0
	for example, name := range append(circuits.Names(), "a vehicle of 151 parts") {
		var v *View
		if strings.Contains(name, " ") {
			var err error
			if v, err = New(vehicle(t, 151), Options{ReducedMotion: true}); err != nil {
				t.Fatal(err)
			}
		} else {
			v = open(t, name, Options{})
		}
		fresh := v.now
		prepareBench(v)
		ready := v.now
		states := []string{"start", "blind", "reading", "fault", "log", "feeds", "magnified", "levers", "instruments", "sheet", "conditions", "time", "scope"}
		if example < 2 { // what is the same for every circuit
			states = append(states, "help", "help signs", "more", "mend", "shelf", "scope-a", "scope-sweep")
		}
		for _, state := range states {
			v.now, v.past, v.menu, v.magnified, v.helpSigns = ready, nil, "", false, false
			if state == "start" {
				v.now = fresh
			}
			prepare(v, state)
			for _, size := range sizes {
				v.Resize(size[0], size[1])
				for i, theme := range []drawing.Theme{drawing.Light, drawing.Dark} {
					v.theme, v.o.Touch = theme, i == 1
					looked += checkWords(t, v, fmt.Sprintf("%s %.0fx%.0f %s", name, size[0], size[1], state))
				}
			}
		}
	}
	if looked < 10000 {
		t.Fatalf("only %d words were looked at", looked)
	}
}

// checkWords paints each panel by itself and looks at its words.
func checkWords(t *testing.T, v *View, where string) (looked int) {
	t.Helper()
	panels := []struct {
		name  string
		room  box
		paint func()
	}{{"strip", v.plan.strip, v.topStrip}, {"panel", v.plan.panel, v.bottomPanel}, {"bench", v.plan.bench, v.benchColumn}}
	if v.menu != "" {
		panels = append(panels[:0], struct {
			name  string
			room  box
			paint func()
		}{"menu", box{0, 0, v.plan.width, v.plan.height}, v.openMenu})
	}
	for _, p := range panels {
		v.canvas = canvas{p: palettes[v.theme]}
		v.controls, v.shields = nil, nil
		p.paint()
		room := p.room
		if len(v.shields) > 0 {
			room = v.shields[0]
		}
		var boxes []box
		var words []string
		for _, s := range v.canvas.shapes {
			if s.Form != drawing.Text {
				continue
			}
			looked++
			b := textBox(s)
			if s.Size < 12 {
				t.Errorf("%s: %q is set in %g px", where, s.Words, s.Size)
			}
			if b.x < room.x-0.5 || b.right() > room.right()+0.5 || b.y < room.y-1 || b.foot() > room.foot()+3 {
				t.Errorf("%s: %q runs out of the %s", where, s.Words, p.name)
			}
			for i, other := range boxes {
				if other.inset(0.5).overlaps(b.inset(0.5)) {
					t.Errorf("%s: %q stands on %q in the %s", where, s.Words, words[i], p.name)
				}
			}
			boxes, words = append(boxes, b), append(words, s.Words)
		}
	}
	return looked
}

// The tag of a lead finds room beside every point it can be put on, and covers no words of the drawing.
func TestLeadTagsCoverNoWords(t *testing.T) {
	looked := 0
	for i, name := range circuits.Names() {
		for _, size := range sizes[1+i%2 : 2+i%2] { // every other example in a small window
			v := open(t, name, Options{})
			v.Resize(size[0], size[1])
			v.compose()
			taken := v.takenRoom()
			var words []drawing.Shape
			for i := range v.strip().Shapes {
				if s, seen := v.placed(&v.strip().Shapes[i]); seen && s.Form == drawing.Text {
					words = append(words, s)
				}
			}
			for _, p := range v.c.Points() {
				spot := v.placeOfPoint(p.Name)
				if spot == nil || v.far(v.now.bench, p.Name) != "" {
					continue
				}
				x, y := v.toWindow(*spot)
				if !v.plan.area.holds(x, y) {
					continue
				}
				looked++
				tag := v.tagPlace(x, y, taken)
				for _, s := range words {
					if textBox(s).overlaps(tag) {
						t.Errorf("%s %.0fx%.0f: the tag of a lead on %s covers %q", name, size[0], size[1], p.Name, s.Words)
					}
				}
			}
		}
	}
	if looked < 300 {
		t.Fatalf("only %d points were looked at", looked)
	}
}
