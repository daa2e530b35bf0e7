package view

// This file is the panel at the foot: its tabs, and which of them is open.

import (
	"fmt"
	"math"

	"underload/ui/drawing"
)

// The tabs.
const (
	tabStairs = "staircase"
	tabLog    = "log"
	tabFeeds  = "feeds"
	tabScope  = "scope"
)

var tabs = []string{tabStairs, tabScope, tabLog, tabFeeds}

const tabHeight = 44.0

func (v *View) showTab(tab string) {
	if v.now.tab == tab {
		v.dirty = true
		return
	}
	v.act(func(s *state) error {
		s.tab = tab
		return nil
	})
}

func (v *View) bottomPanel() {
	v.timeBar()
	b, p := v.panelBox(), v.canvas.p
	v.canvas.fill(b, 0, p.panel)
	v.rule(b.x, b.right(), b.y)
	x := v.tabRow(b)
	head := v.drawerButton(box{x + 16, b.y, b.right() - 16 - x - 16, tabHeight})
	body := box{b.x, b.y + tabHeight, b.w, b.h - tabHeight}
	v.columns = nil
	switch v.now.tab {
	case tabStairs:
		v.stairsTab(head, body)
	case tabLog:
		v.logTab(head, body)
	case tabScope:
		v.scopeTab(head, body)
	case tabFeeds:
		v.feedsTab(head, body)
	}
}

// tabRow paints the tabs and gives where they end.
func (v *View) tabRow(b box) float64 {
	p := v.canvas.p
	x := b.x + 8
	for _, tab := range tabs {
		label := v.tabLabel(tab)
		w := math.Ceil(textWidth(label, 14, true)) + 24
		if v.plan.slim {
			w = max(44, w-12)
		}
		c := control{id: "tab:" + tab, label: label, at: box{x, b.y + 1, w, tabHeight - 1}, on: v.now.tab == tab, do: func() { v.showTab(tab) }}
		l := v.control(c)
		ink := p.ink2
		if l.on || l.over {
			ink = p.ink
		}
		v.canvas.text(x+w/2, middle(c.at, 14), style{size: 14, bold: l.on, fill: ink, anchor: drawing.Middle}, label)
		if l.on {
			v.canvas.fill(box{x + 8, b.y + tabHeight - 3, w - 16, 3}, 0, p.accent)
		}
		x += w
	}
	v.rule(b.x, b.right(), b.y+tabHeight-1)
	return x
}

func (v *View) tabLabel(tab string) string {
	short := v.plan.narrow
	switch tab {
	case tabStairs:
		if v.plan.slim {
			return "Drop"
		}
		if short {
			return "Staircase"
		}
		if v.clock != nil {
			return "Staircase now"
		}
		return "Drop staircase"
	case tabScope:
		return "Scope"
	case tabLog:
		words := "Readings"
		if short {
			words = "Log"
		}
		n := 0
		for _, e := range v.now.log {
			if e.Noticed == "" {
				n++
			}
		}
		if n > 0 {
			return fmt.Sprintf("%s %d", words, n)
		}
		return words
	}
	if part := v.feedsPart(); part != "" && !short {
		return "Feeds of " + part
	}
	return "Feeds"
}
