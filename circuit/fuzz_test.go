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
