package circuit

// This file reads a circuit file from top to bottom: parts and what is declared, then paths, then the checks that
// need the whole.

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"gopkg.in/yaml.v3"

	"underload/circuit/catalog"
)

// version is the only form of the file there is so far.
const version = "1"

// Limits of a circuit. A whole vehicle has some hundreds of parts and two thousand wires.
const (
	mostParts  = 20_000
	mostWires  = 20_000
	mostPins   = 1_000 // of one part
	mostThrows = 64    // positions of one switch

	mostPathName = 80
)

// ReadFile reads a circuit from a file on disk. See Read.
func ReadFile(path string) (*Circuit, Problems) {
	refuse := func(text string) (*Circuit, Problems) { return nil, Problems{{File: path, Text: text}} }
	info, err := os.Stat(path)
	var trouble *fs.PathError
	switch {
	case errors.As(err, &trouble):
		return refuse("cannot be read: " + trouble.Err.Error())
	case err != nil:
		return refuse("cannot be read: " + err.Error())
	case !info.Mode().IsRegular():
		return refuse("is not a file")
	}
	data, err := readStart(path)
	if errors.As(err, &trouble) {
		return refuse("cannot be read: " + trouble.Err.Error())
	} else if err != nil {
		return refuse("cannot be read: " + err.Error())
	}
	return Read(path, data)
}

// readStart reads no more of a file than is needed to see that it is too big.
func readStart(path string) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, mostBytes+1))
}

// Read reads a circuit from the bytes of a file; file is its name for messages. The circuit is nil when there is any
// error. Whatever the bytes are, Read returns within bounded time and memory and does not panic. What is odd about a
// circuit that can be read, package sanity finds.
func Read(file string, data []byte) (*Circuit, Problems) {
	r := newReader(file)
	if top := r.parse(data); top != nil {
		r.sections(top)
	}
	if !r.bad() {
		r.number()
		r.checkJoins()
		r.checkReturn()
	}
	if r.bad() {
		return nil, r.problems()
	}
	r.circuit.makePoints()
	r.circuit.makeStack()
	return r.circuit, r.problems()
}

// reader holds a circuit while it is being read.
type reader struct {
	report
	source  source
	speller speller
	circuit *Circuit

	claimed  map[string]claim    // what each name stands for
	meant    map[string]bool     // names that a misspelling was taken for: not to be told as unused
	tails    map[*Terminal]*tail // what is joined to each terminal
	joints   joints              // conductors that are joined metal to metal
	splices  map[*Splice]*meeting
	studs    map[*Stud]*meeting
	inline   map[*Connector]*inline
	pairs    map[*Part]map[[2]string]bool // between which terminals current can pass
	overlaid []entry                      // the terminals section
	asked    map[*Stud]entry              // to: of each ground
	twins    map[string]int               // wires without a name between the same two ends
	later    []func()                     // checks that need all parts
	tooMany  bool                         // wires, and it was told
	kindLost bool                         // a part's kind could not be read; it may be the battery
	stepLost bool                         // a step could not be read at all; it may be the use of anything
}

// claim is what a name was first used for.
type claim struct {
	as string
	at Pos
}

func newReader(file string) *reader {
	return &reader{
		report:  report{file: file},
		claimed: map[string]claim{}, meant: map[string]bool{}, tails: map[*Terminal]*tail{}, splices: map[*Splice]*meeting{},
		studs: map[*Stud]*meeting{}, inline: map[*Connector]*inline{}, pairs: map[*Part]map[[2]string]bool{},
		asked: map[*Stud]entry{}, twins: map[string]int{},
		circuit: &Circuit{
			File: file, AmbientCelsius: ambientCelsius,
			parts: map[string]*Part{}, connectors: map[string]*Connector{}, splices: map[string]*Splice{},
			studs: map[string]*Stud{}, wires: map[string]*Wire{}, terminals: map[string]*Terminal{},
		},
	}
}

// sections reads all there is, each section only after those it stands on, whatever their order in the file.
func (r *reader) sections(top *yaml.Node) {
	if top.Kind != yaml.MappingNode {
		r.wrong(position(top), "this is not a circuit file", "It begins with underload: 1")
		return
	}
	found := r.fields(top, "a circuit file", sections...)
	if !r.versioned(found, position(top)) {
		return
	}
	r.heading(found)
	for _, section := range []struct {
		name string
		read func(entry)
	}{
		{"parts", r.readParts}, {"connectors", r.readConnectors}, {"splices", r.readSplices}, {"grounds", r.readGrounds},
		{"terminals", r.readTerminals}, {"paths", r.readPaths},
	} {
		if e, ok := found[section.name]; ok {
			section.read(e)
			if section.name == "parts" {
				r.afterParts()
			}
		} else if section.name == "parts" || section.name == "paths" {
			r.wrong(position(top), "the file has no "+section.name, "Write a section "+section.name+":")
		}
	}
	r.overlay()
	if _, ok := found["paths"]; ok {
		r.checkUse()
	}
	if e, ok := found["accepted"]; ok {
		r.readAccepted(e)
	}
}

// versioned checks the first line, which says what kind of file this is.
func (r *reader) versioned(found map[string]entry, top Pos) bool {
	e, ok := found["underload"]
	switch {
	case !ok:
		r.wrong(top, "the file does not say what it is", "Begin it with underload: "+version)
	case e.value.Value != version:
		r.wrong(position(e.value), "this program reads version "+version+" of the file, not "+clip(e.value.Value), "Write underload: "+version)
		return false
	}
	return true
}

// heading reads what stands above the parts.
func (r *reader) heading(found map[string]entry) {
	for key, to := range map[string]*string{"title": &r.circuit.Title, "complaint": &r.circuit.Complaint, "teaches": &r.circuit.Teaches} {
		if e, ok := found[key]; ok {
			*to, _ = r.text(e)
		}
	}
	if e, ok := found["ambient"]; ok {
		if celsius, ok := r.measure("ambient", e.value.Value, position(e.value), ambientDimension, false); ok {
			if celsius < coldestCelsius || celsius > hottestCelsius {
				r.wrong(position(e.value), fmt.Sprintf("ambient: %s is no weather to work in", clip(e.value.Value)),
					fmt.Sprintf("It can be %d to %d °C", coldestCelsius, hottestCelsius))
			}
			r.circuit.AmbientCelsius = celsius
		}
	}
	if e, ok := found["tags"]; ok {
		r.circuit.Tags = r.tags(e)
	}
}

// tags reads a list of cautions. One that is misspelt would bring no caution at all, so only those there are can stand.
func (r *reader) tags(e entry) []string {
	var tags []string
	known := catalog.Tags()
	for _, word := range r.words(e, "words", "[srs, fuel]") {
		switch {
		case !contains(known, word.key):
			r.wrong(word.at, "the tag "+clip(word.key)+" brings no caution", r.ask(word.key, known, "The tags are "+list(known, "and")))
		case contains(tags, word.key):
			r.wrong(word.at, "the tag "+word.key+" is written twice", "")
		default:
			tags = append(tags, word.key)
		}
	}
	return tags
}

// claim takes a name for one thing. It tells when the name is already taken.
func (r *reader) claim(name, as string, at Pos) bool {
	if before, taken := r.claimed[name]; taken {
		r.wrong(at, fmt.Sprintf("%s is already the name of a %s, at line %d", name, before.as, before.at.Line), "Give this "+as+" a name of its own")
		return false
	}
	r.claimed[name] = claim{as, at}
	return true
}

// afterParts runs the checks that need all parts.
func (r *reader) afterParts() {
	for _, check := range r.later {
		check()
	}
}
