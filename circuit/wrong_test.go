package circuit

// Every wrong file and every word said about it: testdata/wrong holds a file each, the circuit first and then the
// problems. Renew them with: go test ./circuit -run TestWrongFiles -update

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what is now said into the golden files")

const divider = "=== problems ===\n"

// wrongFiles gives the circuit text and the expected problems of each case.
func wrongFiles(t testing.TB) map[string][2]string {
	t.Helper()
	names, err := filepath.Glob("testdata/wrong/*.txt")
	if err != nil || len(names) < 30 {
		t.Fatalf("testdata/wrong holds %d files (%v)", len(names), err)
	}
	cases := map[string][2]string{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		source, problems, ok := strings.Cut(string(data), divider)
		if !ok {
			t.Fatalf("%s has no line %q", name, divider)
		}
		cases[name] = [2]string{source, problems}
	}
	return cases
}

func TestWrongFiles(t *testing.T) {
	for name, c := range wrongFiles(t) {
		t.Run(filepath.Base(name), func(t *testing.T) {
			file := strings.TrimSuffix(filepath.Base(name), ".txt") + ".yaml"
			got, problems := Read(file, []byte(c[0]))
			if got != nil || len(problems.Errors()) == 0 {
				t.Fatal("the file was read without an error")
			}
			said := problems.Error() + "\n"
			if *update {
				if err := os.WriteFile(name, []byte(c[0]+divider+said), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if said != c[1] {
				t.Errorf("said:\n%s\nwant:\n%s", said, c[1])
			}
		})
	}
}
