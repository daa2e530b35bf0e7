// The house rules that hold for the whole tree: which package may import which, and that no file knows a machine.
package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// rooms lists the packages from the top of the house down. An import may only point further down the list.
var rooms = []string{
	"underload",
	"underload/ui/web/pack",
	"underload/ui/command",
	"underload/ui/web",
	"underload/ui/seat",
	"underload/ui/screen",
	"underload/ui/internal/hands", // tests only
	"underload/ui/view",
	"underload/ui/report",
	"underload/ui/stairs",
	"underload/ui/plot",
	"underload/ui/drawing",
	"underload/sim/sanity",
	"underload/sim/meter",
	"underload/sim",
	"underload/sim/record",
	"underload/sim/live",
	"underload/sim/fault",
	"underload/sim/part",
	"underload/circuits",
	"underload/circuit/draft",
	"underload/circuit/invented", // tests only
	"underload/circuit/wirelist",
	"underload/circuit/tidy",
	"underload/circuit/compare",
	"underload/circuit/schema",
	"underload/solver/reference", // tests only: published values against everything below
	"underload/circuit",
	"underload/circuit/catalog",
	"underload/circuit/quantity",
	"underload/circuit/spelling",
	"underload/solver/element",
	"underload/solver/transient",
	"underload/solver",
	"underload/solver/internal/harness", // tests only
	"underload/solver/sparse",
	"underload/solver/device",
}

// strangers are pairs that may not meet although the list alone would let them.
var strangers = [][2]string{
	{"underload/circuit", "underload/solver"}, // what is wired to what knows no number crunching
	{"underload/ui", "underload/solver"},      // what is shown is computed in sim
}

func under(pkg, room string) bool { return pkg == room || strings.HasPrefix(pkg, room+"/") }

func TestArrowsRunDown(t *testing.T) {
	seen := map[string]bool{}
	files := 0
	eachFile(t, ".go", func(path string, _ []byte) {
		pkg := "underload"
		if dir := filepath.ToSlash(filepath.Dir(path)); dir != "." {
			pkg += "/" + dir
		}
		if strings.Contains(pkg, "/testdata") {
			return
		}
		files++
		seen[pkg] = true
		from := slices.Index(rooms, pkg)
		if from < 0 {
			t.Errorf("%s: package %s has no place in the house: add it to rooms", path, pkg)
			return
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		test := strings.HasSuffix(path, "_test.go")
		for _, spec := range parsed.Imports {
			imported := strings.Trim(spec.Path.Value, `"`)
			if !under(imported, "underload") || imported == pkg {
				continue
			}
			to := slices.Index(rooms, imported)
			if to < from && !test {
				t.Errorf("%s imports %s, which lies above it", path, imported)
			}
			for _, pair := range strangers {
				if !test && under(pkg, pair[0]) && under(imported, pair[1]) {
					t.Errorf("%s: %s must not know %s", path, pair[0], imported)
				}
			}
		}
	})
	if files < 50 {
		t.Fatalf("only %d files were looked at", files)
	}
	for _, room := range rooms {
		if !seen[room] {
			t.Errorf("%s is listed and does not exist", room)
		}
	}
}

// A file that names a folder of one machine, or where packages are fetched from, works for one person only.
func TestNoFileKnowsAMachine(t *testing.T) {
	machine := regexp.MustCompile(`(^|[^\w.~-])/(` + strings.Join([]string{"work", "root", "home", "tmp", "Users", "private"}, "|") + `)/\w`)
	host := regexp.MustCompile(`(proxy\.golang|registry\.npm|deb\.` + `debian|pypi\.)`)
	files := 0
	eachFile(t, "", func(path string, data []byte) {
		files++
		if path == "main_test.go" {
			return
		}
		for n, line := range strings.Split(string(data), "\n") {
			if machine.MatchString(line) || host.MatchString(line) {
				t.Errorf("%s:%d names a folder of a machine, or a package host: %s", path, n+1, line)
			}
		}
	})
	if files < 50 {
		t.Fatalf("only %d files were looked at", files)
	}
}

// eachFile visits every file of the project with an ending, text files only.
func eachFile(t *testing.T, ending string, visit func(path string, data []byte)) {
	t.Helper()
	err := filepath.WalkDir(".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if path == ".git" {
				return fs.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(path, ending) {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if !strings.Contains(string(data), "\x00") {
			visit(path, data)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
