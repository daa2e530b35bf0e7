package sanity

// Circuits that people copy from are free of warnings: those on the pages, and the patterns a file can begin with.

import (
	"os"
	"strings"
	"testing"

	"underload/circuit/draft"
)

func TestPagesAreSane(t *testing.T) {
	found := 0
	for _, page := range []string{"../../circuits/FORMAT.md", "../../README.md"} {
		data, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		for _, block := range strings.Split(string(data), "```yaml\n")[1:] {
			text, _, _ := strings.Cut(block, "```")
			if !strings.HasPrefix(text, "underload: 1") {
				continue
			}
			found++
			for _, f := range checked(t, page, text).Warnings() {
				t.Error(f)
			}
		}
	}
	if found < 2 {
		t.Fatalf("%d circuits stand on the pages", found)
	}
}

func TestPatternsAreSane(t *testing.T) {
	names := draft.PatternNames()
	if len(names) < 3 {
		t.Fatalf("%d patterns", len(names))
	}
	for _, name := range names {
		text, err := draft.Pattern(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range checked(t, name+".yaml", string(text)).Warnings() {
			t.Error(f)
		}
	}
}
