package command

// These tests hold draw to what it promises: a well-formed picture of the size asked for, and plain refusals.

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// wellFormed reads a picture to its end and gives its width and height.
func wellFormed(t *testing.T, picture string) (width, height string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(picture))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return width, height
		}
		if err != nil {
			t.Fatal(err)
		}
		if start, ok := token.(xml.StartElement); ok && start.Name.Local == "svg" {
			for _, a := range start.Attr {
				switch a.Name.Local {
				case "width":
					width = a.Value
				case "height":
					height = a.Value
				}
			}
		}
	}
}

func TestDraw(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bus.svg")
	for _, c := range []struct {
		args        []string
		wide, high  string
		toFile      bool
		says, holds string
	}{
		{[]string{"draw", "orchard-sprayer"}, "1072", "516", false, "", ">PC1<"},
		{[]string{"draw", "orchard-sprayer", "--dark"}, "1072", "516", false, "", "#12161B"},
		{[]string{"draw", "donor-bus", "--size", "680x400", "--sheet", "2"}, "680", "400", false, "", ">LIFT<"},
		{[]string{"draw", "donor-bus", "--svg", file}, "1072", "516", true, "The drawing is in " + file + ": 1 sheet.\nThere was no room for the words of ", ">ENG<"},
	} {
		out, said, status := run(c.args...)
		picture := out
		if c.toFile {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			picture = string(data)
			if !strings.HasPrefix(out, c.says) || !strings.Contains(out, "~") {
				t.Errorf("%v says %q, want %q and some wires", c.args, out, c.says)
			}
		}
		wide, high := wellFormed(t, picture)
		if status != done || wide != c.wide || high != c.high || !strings.Contains(picture, c.holds) {
			t.Errorf("%v: status %d, %s x %s: %s", c.args, status, wide, high, said)
		}
	}
}

func TestDrawRefuses(t *testing.T) {
	for want, args := range map[string][]string{
		"--sheet 4: the drawing has 1 sheet": {"draw", "orchard-sprayer", "--sheet", "4"},
		"--sheet -1: the drawing has":        {"draw", "orchard-sprayer", "--sheet", "-1"},
		"--size 100x100: a size is":          {"draw", "orchard-sprayer", "--size", "100x100"},
		"--size 680: a size is":              {"draw", "orchard-sprayer", "--size", "680"},
		"has to end in .svg":                 {"draw", "orchard-sprayer", "--svg", "sprayer.yaml"},
		"there is no such file":              {"draw", "nowhere.yaml"},
	} {
		out, said, status := run(args...)
		if status != refused || out != "" || !strings.Contains(said, want) {
			t.Errorf("%v: status %d, %q, want %q", args, status, said, want)
		}
	}
}
