package seat

// This file is the shelf: what can be opened by its name, from the folder of the circuit and from the examples.

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"underload/circuit"
	"underload/circuits"
	"underload/ui/view"
)

// endings are what files of a kind end with.
var endings = map[string][]string{"circuit": {".yaml", ".yml"}, "faults": {".faults"}, "log": {".readings"}}

// A shelf shows no more than so many files, and reads no more of one than so many bytes.
const (
	mostShelved = 200
	largest     = 16 << 20
)

// shelf lists the files of a kind beside the circuit, and for circuits the examples too.
func (s *Seat) shelf(kind string) []view.Shelved {
	all := beside(filepath.Dir(s.Path), kind)
	if kind == "circuit" {
		for _, name := range circuits.Names() {
			if c, err := circuits.Read(name); err == nil {
				all = append(all, view.Shelved{Name: name, Title: c.Title, Example: true})
			}
		}
	}
	return all
}

// beside lists the files of a kind in a folder. A YAML file that is no circuit is left out; one with mistakes in it is
// not, so that its mistakes are told when it is opened.
func beside(folder, kind string) (all []view.Shelved) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil
	}
	for _, e := range entries {
		if !e.Type().IsRegular() || !slices.Contains(endings[kind], strings.ToLower(filepath.Ext(e.Name()))) {
			continue
		}
		one := view.Shelved{Name: e.Name()}
		if kind == "circuit" {
			text, err := readFile(filepath.Join(folder, e.Name()))
			if err != nil || !strings.Contains("\n"+string(text), "\nunderload:") {
				continue
			}
			if c, _ := circuit.Read(e.Name(), text); c != nil {
				one.Title = c.Title
			}
		}
		if all = append(all, one); len(all) == mostShelved {
			break
		}
	}
	return all
}

// fetch reads what stands on the shelf.
func fetch(s view.Shelved, besides string) (path string, text []byte, err error) {
	if s.Example {
		text, err = circuits.Source(s.Name)
		return "", text, err
	}
	path = filepath.Join(filepath.Dir(besides), filepath.Base(s.Name))
	text, err = readFile(path)
	return path, text, err
}

func readFile(path string) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, largest))
}
