package seat

// This file tries the shelf on a folder of its own.

import (
	"os"
	"path/filepath"
	"testing"

	"underload/circuits"
	"underload/ui/view"
)

// Circuits of the folder stand first, by their titles; what is no circuit, or lies deeper, does not stand there; then
// come the examples. Each can be fetched, and no name leads out of the folder.
func TestShelf(t *testing.T) {
	folder := t.TempDir()
	const whole = "underload: 1\ntitle: A lamp\nparts:\n  B1: {is: battery}\n  E1: {is: lamp, bulb: 5 W}\npaths:\n  feed: [B1.pos, wire: RD 1 mm2 1 m, E1, wire: BK 1 mm2 1 m, B1.neg]\n"
	for name, text := range map[string]string{
		"a.yaml": whole, "b.yml": "underload: 1\nparts:\n  B1: {is: batery}\n",
		"other.yaml": "services: {}\n", "notes.txt": "underload: 1\n", "my.faults": "F7 blown\n", "my.readings": "{}\n", "deep/c.yaml": "underload: 1\n",
	} {
		path := filepath.Join(folder, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	s := &Seat{Path: filepath.Join(folder, "a.yaml")}
	got := s.shelf("circuit")
	if len(got) != 2+len(circuits.Names()) || got[0] != (view.Shelved{Name: "a.yaml", Title: "A lamp"}) || got[1].Name != "b.yml" {
		t.Errorf("circuits: %v", got)
	}
	for _, one := range got {
		path, text, err := fetch(one, s.Path)
		if err != nil || len(text) == 0 || one.Example != (path == "") {
			t.Errorf("%v: %d bytes from %q, %v", one, len(text), path, err)
		}
	}
	for kind, name := range map[string]string{"faults": "my.faults", "log": "my.readings"} {
		if got := s.shelf(kind); len(got) != 1 || got[0].Name != name {
			t.Errorf("%s: %v", kind, got)
		}
	}
	if _, _, err := fetch(view.Shelved{Name: "../deep/c.yaml"}, s.Path); err == nil {
		t.Error("a name leads out of the folder")
	}
	if got := (&Seat{Path: filepath.Join(folder, "none", "a.yaml")}).shelf("log"); got != nil {
		t.Errorf("a folder that is not there holds %v", got)
	}
}
