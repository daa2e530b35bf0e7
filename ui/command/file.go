package command

// This file finds the circuit that FILE names: a file, or an example that comes with the program.

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuit/spelling"
	"underload/circuits"
)

// read reads a circuit from a file or, where there is no such file, from the example of that name.
func read(name string) (*circuit.Circuit, circuit.Problems) {
	_, err := os.Stat(name)
	if !errors.Is(err, fs.ErrNotExist) {
		return circuit.ReadFile(name)
	}
	if slices.Contains(circuits.Names(), name) {
		source, err := circuits.Source(name)
		if err != nil {
			return nil, circuit.Problems{{File: name, Text: err.Error()}}
		}
		return circuit.Read(name+".yaml", source)
	}
	return nil, circuit.Problems{{File: name, Text: "there is no such file", Hint: nearestFile(name)}}
}

// nearestFile names the circuit file or example that was probably meant.
func nearestFile(name string) string {
	known := circuits.Names()
	entries, _ := os.ReadDir(filepath.Dir(name)) // a folder that cannot be listed has nothing to offer
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".yaml") || strings.HasSuffix(e.Name(), ".yml") {
			known = append(known, filepath.Join(filepath.Dir(name), e.Name()))
		}
	}
	if near, ok := spelling.Nearest(filepath.Clean(name), known); ok {
		return "Did you mean " + near + "?"
	}
	return "Examples that come with the program: " + strings.Join(circuits.Names(), ", ")
}

// open reads a circuit for a command that needs a sound one. The error is one sentence.
func open(name string) (*circuit.Circuit, error) {
	c, problems := read(name)
	wrong := problems.Errors()
	switch {
	case len(wrong) == 0:
		return c, nil
	case len(wrong) == 1:
		return nil, wrong[0]
	}
	return nil, fmt.Errorf("%w (and %d more: underload check %s)", wrong[0], len(wrong)-1, name)
}
