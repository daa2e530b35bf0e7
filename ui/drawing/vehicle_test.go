package drawing

// This file reads circuits for the tests: made-up ones and the examples.

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"underload/circuit"
)

func madeUp(t testing.TB, name, text string) *circuit.Circuit {
	t.Helper()
	c, problems := circuit.Read(name, []byte(text))
	if err := problems.Err(); c == nil || err != nil {
		t.Fatalf("%s: %v\n%s", name, err, text)
	}
	return c
}

// example reads one of the circuits that come with the program.
func example(t testing.TB, name string) *circuit.Circuit {
	t.Helper()
	return madeUp(t, name+".yaml", string(source(t, name)))
}

// laid are layouts of examples that several tests look at.
var laid = map[string]*Layout{}

func laidOut(t testing.TB, name string, o Options) *Layout {
	t.Helper()
	key := fmt.Sprint(name, o)
	if laid[key] == nil {
		laid[key] = Lay(example(t, name), o, nil)
	}
	return laid[key]
}

func source(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "circuits", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// examples names the circuits that come with the program.
func examples(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "circuits", "*.yaml"))
	if err != nil || len(files) < 12 {
		t.Fatalf("found %d examples: %v", len(files), err)
	}
	names := make([]string, len(files))
	for i, file := range files {
		names[i] = strings.TrimSuffix(filepath.Base(file), ".yaml")
	}
	return names
}
