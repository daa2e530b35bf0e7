package view

// This file is the list of what can be opened without leaving the window: files of the folder, and the examples.

// shelf is what stands in the list.
type shelf struct {
	kind  string // circuit, faults, log
	items []Shelved
}

// lookFor offers what there is of a kind, or has the person choose a file where nothing is known.
func (v *View) lookFor(kind string) {
	v.shelf = shelf{kind: kind}
	if v.o.Shelf != nil {
		v.shelf.items = v.o.Shelf(kind)
	}
	if len(v.shelf.items) == 0 && v.o.Chooser {
		v.want(Want{Kind: OpenFile, Text: kind})
		return
	}
	v.scroll["shelf"] = 0
	v.menu, v.openedBy, v.popped, v.dirty = "shelf", v.focus, false, true
}

var shelfHeads = map[string]string{"circuit": "Open a circuit", "faults": "Open faults", "log": "Open a log of readings"}

func (v *View) shelfSheet() {
	p, row := v.canvas.p, v.target()
	const head, foot = 56.0, 60.0
	n := len(v.shelf.items)
	w := min(640, v.plan.width-24)
	most := max(1, int((v.plan.height-32-head-foot)/row))
	shown := min(n, most)
	h := head + max(1, float64(shown))*row + foot
	b := v.menuBox(v.plan.width/2-w/2, (v.plan.height-h)/2, w, h)
	v.canvas.text(b.x+20, b.y+34, style{size: 17, bold: true, fill: p.ink}, shelfHeads[v.shelf.kind])
	from := v.scrolled("shelf", n, most)
	v.pager("shelf", box{b.right() - 64 - 2*v.row() - 4, b.y + 26 - v.row()/2, 2*v.row() + 4, v.row()}, n, most)
	v.closeButton(b)
	if n == 0 {
		v.canvas.text(b.x+20, b.y+head+26, style{size: 14, fill: p.ink2}, "There is none in this folder.")
	}
	for i := range shown {
		v.shelfRow(v.shelf.items[from+i], box{b.x + 12, b.y + head + float64(i)*row, b.w - 24, row})
	}
	at := box{b.x + 16, b.foot() - row - 8, 220, row}
	if v.o.Chooser {
		kind := v.shelf.kind
		v.button(control{id: "choose-file", label: "From this device …", at: at, do: func() {
			v.menu, v.dirty = "", true
			v.want(Want{Kind: OpenFile, Text: kind})
		}}, ordinary)
		return
	}
	v.canvas.text(at.x+4, middle(at, 13), style{size: 13, fill: p.ink2}, shorten("From elsewhere: drop the file onto this window.", 13, false, b.w-40))
}

// shelfRow is one of them: what is in it, and where it is.
func (v *View) shelfRow(s Shelved, at box) {
	p := v.canvas.p
	where, id := s.Name, "open:"+s.Name
	want := Want{Kind: OpenShelved, Name: s.Name}
	if s.Example {
		where, id, want.Text = "example", "open:example:"+s.Name, "example"
	}
	l := v.control(control{id: id, label: orElse(s.Title, s.Name) + ", " + where, at: at, do: func() {
		v.menu, v.dirty = "", true
		v.want(want)
	}})
	in := at.inset(2)
	if l.over {
		v.canvas.frame(in, 6, 1, p.ink, p.panel)
	}
	room := in.w * 0.62
	v.canvas.text(in.x+10, middle(in, 14), style{size: 14, fill: p.ink}, shorten(orElse(s.Title, s.Name), 14, false, room-20))
	v.canvas.text(in.x+room, middle(in, 13), style{size: 13, fill: p.ink2}, shorten(where, 13, false, in.w-room-8))
}
