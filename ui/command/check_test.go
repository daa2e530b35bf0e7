package command

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What a circuit is includes what to beware of in it, wherever the file has the tag.
func TestCheckTellsCautions(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bag.yaml")
	text := "underload: 1\ntags: [residue]\nparts:\n  B: {is: battery}\n  F: {is: fuse, rating: 5 A}\n  P: {is: motor, draws: 3 A, tags: [fuel]}\nconnectors:\n  C1: {tags: [srs]}\n" +
		"paths:\n  bag: [B.pos, wire, F, wire, C1.1, wire, P, wire, B.neg]\n"
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	out, said, status := run("check", file)
	for _, want := range []string{"gloves, and wash", "Air bag or belt tensioner", "Fuel vapour"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("status %d, no %q in\n%s%s", status, want, out, said)
		}
	}
}
