// Package circuits holds the example circuits that come with the program. All vehicles in them are invented.
package circuits

// This file embeds the examples and reads them by name.

import (
	"embed"
	"fmt"
	"strings"

	"underload/circuit"
	"underload/circuit/spelling"
)

//go:embed *.yaml faults/*.yaml
var files embed.FS

// Names lists the examples in alphabetical order, without the ending of the file's name.
func Names() []string {
	entries, err := files.ReadDir(".")
	if err != nil {
		panic("circuits: the embedded files cannot be listed: " + err.Error())
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() {
			names = append(names, strings.TrimSuffix(e.Name(), ".yaml"))
		}
	}
	return names
}

// Faults gives the text of an example's fault sheet (see package fault), and whether there is one.
func Faults(name string) (sheet []byte, ok bool) {
	sheet, err := files.ReadFile("faults/" + name + ".yaml")
	return sheet, err == nil
}

// Source gives the text of an example.
func Source(name string) ([]byte, error) {
	data, err := files.ReadFile(name + ".yaml")
	if err != nil {
		if near, ok := spelling.Nearest(name, Names()); ok {
			return nil, fmt.Errorf("there is no example %q; did you mean %s?", name, near)
		}
		return nil, fmt.Errorf("there is no example %q; the examples are %s", name, strings.Join(Names(), ", "))
	}
	return data, nil
}

// Read reads an example.
func Read(name string) (*circuit.Circuit, error) {
	data, err := Source(name)
	if err != nil {
		return nil, err
	}
	c, problems := circuit.Read(name+".yaml", data)
	return c, problems.Err()
}
