package command

// This file holds fmt, diff, import and export to what they say, and to what they leave on disk.

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"underload/circuits"
)

func init() {
	maps.Copy(goldens, map[string][]string{
		"fmt-check":       {"fmt", "--check", "testdata/small.yaml", "testdata/small-changed.yaml", "testdata/broken.yaml"},
		"fmt-example":     {"fmt", "orchard-sprayer"},
		"help-fmt":        {"help", "fmt"},
		"diff":            {"diff", "testdata/small.yaml", "testdata/small-changed.yaml"},
		"diff-none":       {"diff", "orchard-sprayer", "orchard-sprayer"},
		"diff-json":       {"diff", "testdata/small.yaml", "testdata/small-changed.yaml", "--json"},
		"diff-none-json":  {"diff", "orchard-sprayer", "orchard-sprayer", "--json"},
		"diff-broken":     {"diff", "testdata/small.yaml", "testdata/broken.yaml"},
		"import":          {"import", "testdata/list.csv"},
		"import-slips":    {"import", "testdata/slips.csv"},
		"import-none":     {"import", "testdata/lits.csv"},
		"help-import":     {"help", "import"},
		"export":          {"export", "testdata/small-changed.yaml"},
		"export-no-wires": {"export", "testdata"},
	})
}

// runOn is run with something on the input.
func runOn(input string, args ...string) (out, said string, status int) {
	var o, e bytes.Buffer
	status = Run(args, Streams{In: strings.NewReader(input), Out: &o, Err: &e})
	return o.String(), e.String(), status
}

const untidy = "paths:\n  a: [B1.pos, wire: 15mΩ, E1, wire, B1.neg] # there and back\nunderload: 1\nparts: {E1: {bulb: 55 W, is: lamp}, B1: {is: battery}}\n"

func TestFmtInput(t *testing.T) {
	want := "underload: 1\n\nparts:\n  E1: {is: lamp, bulb: 55 W}\n  B1: {is: battery}\n\npaths:\n  a:  # there and back\n    - B1.pos\n    - wire: 15 mohm\n    - E1\n    - wire\n    - B1.neg\n"
	if out, said, status := runOn(untidy, "fmt", "-"); out != want || said != "" || status != done {
		t.Errorf("status %d, said %q, wrote\n%s", status, said, out)
	}
	if out, said, status := runOn(untidy, "fmt", "--check", "-"); out != "input\n" || said != "" || status != faulty {
		t.Errorf("status %d, said %q, wrote %q", status, said, out)
	}
	if out, said, status := runOn("parts: {}", "fmt", "-"); out != "" || !strings.HasPrefix(said, "input:1:1: ") || status != faulty {
		t.Errorf("status %d, said %q, wrote %q", status, said, out)
	}
	if out, said, status := runOn(untidy, "fmt", "-", "-"); out != "" || !strings.Contains(said, "give it alone") || status != refused {
		t.Errorf("status %d, said %q, wrote %q", status, said, out)
	}
}

// Files are changed in their place, keep their mode, and are whole at any time; those with errors stay as they are.
func TestFmtInPlace(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string, mode os.FileMode) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), mode); err != nil {
			t.Fatal(err)
		}
		return path
	}
	a, bad := write("a.yaml", untidy, 0o640), write("bad.yaml", "underload: 2\n", 0o600)
	link := filepath.Join(dir, "link.yaml")
	if err := os.Symlink("linked.yaml", link); err != nil {
		t.Fatal(err)
	}
	linked := write("linked.yaml", untidy, 0o600)
	out, said, status := run("fmt", a, bad, link)
	if out != a+"\n"+link+"\n" || !strings.HasPrefix(said, bad+":1:12: ") || status != faulty {
		t.Errorf("status %d, said %q, wrote %q", status, said, out)
	}
	tidied, _, _ := runOn(untidy, "fmt", "-")
	for path, want := range map[string]string{a: tidied, bad: "underload: 2\n", linked: tidied} {
		if got, err := os.ReadFile(path); err != nil || string(got) != want {
			t.Errorf("%s now holds %q (%v)", path, got, err)
		}
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is no link any more (%v)", err)
	}
	if info, err := os.Stat(a); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the mode is now %v (%v)", info.Mode(), err)
	}
	if out, said, status := run("fmt", a, link); out != "" || said != "" || status != done {
		t.Errorf("the second time: status %d, said %q, wrote %q", status, said, out)
	}
	if out, _, status := run("fmt", "--check", a, link); out != "" || status != done {
		t.Errorf("--check of tidy files: status %d, wrote %q", status, out)
	}
	if left, _ := os.ReadDir(dir); len(left) != 4 {
		t.Errorf("%d files are there, not 4", len(left))
	}
}

// An example goes out as a list, comes back as a file, and is the same.
func TestListThereAndBack(t *testing.T) {
	dir := t.TempDir()
	for _, name := range circuits.Names() {
		list, said, status := run("export", name)
		if status != done {
			t.Fatal(said)
		}
		text, said, status := runOn(list, "import", "-")
		if status != done {
			t.Fatal(said)
		}
		file := filepath.Join(dir, name+".yaml")
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if out, said, status := run("diff", name, file); out != "no difference\n" || status != done {
			t.Errorf("%s: status %d, %s%s", name, status, out, said)
		}
	}
}

func TestFilesRefused(t *testing.T) {
	for _, row := range []struct {
		args []string
		says string
	}{
		{[]string{"fmt"}, "fmt wants FILE: underload fmt FILE... [--check]"},
		{[]string{"fmt", "testdata"}, "testdata: is not a file"},
		{[]string{"fmt", "none.yaml"}, "none.yaml: there is no such file"},
		{[]string{"diff", "orchard-sprayer"}, "diff wants B: underload diff A B [--json]"},
		{[]string{"diff", "orchard-sprayer", "orchard-spraye"}, "Did you mean orchard-sprayer?"},
		{[]string{"import"}, "import wants CSV: underload import CSV [--out FILE]"},
		{[]string{"export", "orchard-sprayer", "x"}, "export does not know what to do with"},
	} {
		if out, said, status := run(row.args...); status != refused || out != "" || !strings.Contains(said, row.says) {
			t.Errorf("%v: status %d, said %q, wrote %q", row.args, status, said, out)
		}
	}
}

func TestImportOut(t *testing.T) {
	file := filepath.Join(t.TempDir(), "horn.yaml")
	out, said, status := run("import", "testdata/list.csv", "--out", file)
	if status != done || !strings.Contains(out, file) || !strings.Contains(said, file+":") {
		t.Errorf("status %d, said %q, wrote %q", status, said, out)
	}
	want, _, _ := run("import", "testdata/list.csv")
	if got, err := os.ReadFile(file); err != nil || string(got) != want {
		t.Errorf("%v: %s", err, got)
	}
	if _, said, status := run("import", "testdata/list.csv", "--out", file); status != refused || !strings.Contains(said, "is there already") {
		t.Errorf("a file was written over: status %d, %q", status, said)
	}
}

func TestDiffJSONKeys(t *testing.T) {
	out, _, _ := run(goldens["diff-json"]...)
	var changes []map[string]string
	if err := json.Unmarshal([]byte(out), &changes); err != nil || len(changes) < 3 {
		t.Fatalf("%v: %s", err, out)
	}
	for _, key := range []string{"of", "what", "now", "was", "text"} {
		if changes[0][key] == "" {
			t.Errorf("a difference has no %s", key)
		}
	}
}
