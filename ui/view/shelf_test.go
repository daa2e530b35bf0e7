package view

// This file tries what can be opened, and work that is offered again.

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

func shelfOf(kind string) []Shelved {
	if kind != "circuit" {
		return nil
	}
	all := []Shelved{{Name: "mine.yaml", Title: "My own"}, {Name: "orchard-sprayer", Title: "Orchard sprayer truck", Example: true}}
	for i := range 30 {
		all = append(all, Shelved{Name: fmt.Sprintf("other-%d.yaml", i)})
	}
	return all
}

// The list asks the host for what was chosen; each row of it can be reached, in every size of window.
func TestShelf(t *testing.T) {
	for _, size := range sizes {
		v := open(t, "orchard-sprayer", Options{Shelf: shelfOf})
		v.Resize(size[0], size[1])
		keys(v, "ctrl+o")
		if d := v.Report().Dialog; d != "shelf" {
			t.Fatalf("%v: Ctrl O opens %q", size, d)
		}
		seen := map[string]bool{}
		for range 40 {
			down := ""
			for _, c := range v.Report().Controls {
				if strings.HasPrefix(c.ID, "open:") {
					seen[c.ID] = true
				}
				if c.ID == "down:shelf" && c.Off == "" {
					down = c.ID
				}
			}
			if down == "" {
				break
			}
			clickControl(t, v, down)
		}
		if len(seen) != 32 {
			t.Errorf("%v: %d of 32 can be reached", size, len(seen))
		}
		keys(v, "Escape", "ctrl+o")
		v.Want()
		clickControl(t, v, "open:example:orchard-sprayer")
		want := v.Want()
		i := slices.IndexFunc(want, func(w Want) bool { return w.Kind == OpenShelved })
		if i < 0 || want[i].Name != "orchard-sprayer" || want[i].Text != "example" || v.menu != "" {
			t.Errorf("%v: the host is asked for %v", size, want)
		}
	}
}

// Where there is nothing on the shelf a browser lets the person choose, and a window says how else.
func TestEmptyShelf(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{Shelf: shelfOf, Chooser: true})
	v.Want()
	v.lookFor("log")
	if w := v.Want(); len(w) == 0 || w[0].Kind != OpenFile || w[0].Text != "log" || v.menu != "" {
		t.Errorf("a browser is asked for %v", w)
	}
	v = open(t, "orchard-sprayer", Options{Shelf: shelfOf})
	v.lookFor("log")
	if v.menu != "shelf" || v.find("close") == nil && v.Scene() == nil {
		t.Errorf("a window opens %q", v.menu)
	}
}

// Kept work is offered, taken up on a press, and left by the first act.
func TestOffer(t *testing.T) {
	v := open(t, "orchard-sprayer", Options{})
	work(v)
	kept := v.Session()
	fresh := open(t, "orchard-sprayer", Options{})
	fresh.Offer(kept)
	if !fresh.Offers() || fresh.Report().LeadA != "" {
		t.Error("it is not offered, or brought back unasked")
	}
	for _, words := range []string{"1 reading", "1 fault", "PC1.1 and PC1.8"} {
		if !strings.Contains(fresh.offer, words) {
			t.Errorf("the offer does not speak of %s: %q", words, fresh.offer)
		}
	}
	clickControl(t, fresh, "take-up")
	if r := fresh.Report(); fresh.Offers() || r.LeadA != "PC1.1" || len(r.Log) != 1 {
		t.Errorf("taken up: lead A on %q, %d readings", r.LeadA, len(r.Log))
	}
	fresh = open(t, "orchard-sprayer", Options{})
	fresh.Offer(kept)
	fresh.choose("ohms")
	if fresh.Offers() {
		t.Error("it is still offered after something was done")
	}
	other := open(t, "street-sweeper", Options{})
	for name, data := range map[string][]byte{"of another circuit": kept, "of nothing": []byte("{"), "of a fresh bench": other.Session()} {
		if other.Offer(data); other.Offers() {
			t.Errorf("work %s is offered", name)
		}
	}
	hidden := open(t, "orchard-sprayer", Options{Faults: []string{looseGround}, Hide: true})
	if hidden.Offer(kept); strings.Contains(hidden.offer, "fault") {
		t.Errorf("a hidden case offers %q", hidden.offer)
	}
}
