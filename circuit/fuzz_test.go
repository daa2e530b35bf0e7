package circuit

// Any bytes whatever give a circuit or errors, each in its place: seeds are every example circuit and every wrong file.

import (
	"os"
	"path/filepath"
	"testing"
)

// exampleFiles gives the text of every example circuit.
func exampleFiles(t testing.TB) map[string][]byte {
	t.Helper()
	names, err := filepath.Glob("../circuits/*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatalf("no example circuits were found (%v)", err)
	}
	files := map[string][]byte{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = data
	}
	return files
}

func FuzzRead(f *testing.F) {
	for _, data := range exampleFiles(f) {
		f.Add(data)
	}
	for _, c := range wrongFiles(f) {
		f.Add([]byte(c[0]))
	}
	f.Add([]byte(head))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, problems := Read("fuzz.yaml", data)
		checkSound(t, c, problems)
		if c != nil && len(c.Parts) < 50 {
			for _, p := range c.Parts {
				checkFeeds(t, c, p)
			}
		}
	})
}

// FuzzPoint asks a good circuit for any point and any nearest name.
func FuzzPoint(f *testing.F) {
	c, problems := Read("plain.yaml", []byte(head))
	if c == nil {
		f.Fatal(problems)
	}
	for _, name := range []string{"F7.in", "F7", "C1.1.a", "G1.frame", "E3.in.pin", "", "\x00", "B1.neg.pin.pin"} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		p, err := c.Point(name)
		if (err == nil) != (p.Name != "") {
			t.Fatalf("Point(%q) = %v, %v", name, p, err)
		}
		if near := c.Nearest(name); near != "" {
			if _, err := c.Point(near); err != nil && c.Part(near) == nil && c.Wire(near) == nil {
				t.Fatalf("Nearest(%q) = %q, which is nothing in the circuit", name, near)
			}
		}
	})
}

// checkFeeds tells what no answer about a feed may be: a way that is torn, or one that ends at nothing.
func checkFeeds(t *testing.T, c *Circuit, p *Part) {
	t.Helper()
	feeds, err := c.Feeds(p.Name)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range feeds {
		if f.When() == "" || f.Terminal.Owner != p.Name || f.End == nil && len(f.Way) > 0 {
			t.Fatalf("feed of %s: %+v", f.Terminal.Name, f)
		}
		for _, l := range f.Way {
			if l.Says(c) == "" {
				t.Fatalf("a link on the way from %s says nothing", f.Terminal.Name)
			}
		}
	}
}
