package schema

// The schema against the reader, over files that are wrong on purpose: line by line, they must find the same faults.

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"
	"gopkg.in/yaml.v3"

	"underload/circuit"
)

// beyond are the reader's words about faults that a schema cannot find, each with the reason.
var beyond = []struct{ words, reason string }{
	// A schema looks at one value at a time and cannot compare names that stand in different places.
	{`on no path|no path comes to|no path goes through|met only once|met on side|wired (at|on)`, "whether a path comes somewhere"},
	{`is no part, and no connector that is declared`, "names that are made by use"},
	{`neither a ground nor a battery terminal|there is no terminal|there is no part|there is nothing called|cannot be beside itself`, "names of other things"},
	{`is accepted twice`, "two entries of one list"},
	{`is already the name of|is the name of a (ground|connector|wire|splice)`, "one name for two things"},
	{`has no terminal`, "pins of a part elsewhere in the file"},
	{`the name \w+-\w+ holds '-'|no current passes inside|must say by which terminals|does not say by which terminal`, "what the part of a step is"},
	{`was traced at line|is already used|goes on past|one and the same place|joined outside of|begins and ends at`, "what other steps and paths did"},
	{`is a dead end|have no connection to a battery|circle|cannot go to itself`, "the net as a whole"},
	{`listed under .* and under`, "two lists of one part"},
	{`must be less than|cannot give .* for 30 s`, "two values against each other"},
	// An expression reads letters and cannot weigh a number.
	{`a wire's (size|length|resistance) cannot be|is no weather`, "the size of a temperature, a wire or its length"},
	{`is larger than|cannot be over 100 %`, "the size of a value"},
	{`is not made`, "which ratings and blades are made"},
	// Nor can it compare two pieces of one text.
	{`comes in and leaves by the same terminal|joins a terminal with itself`, "two names in one text"},
	{`two wires in a row|ends with a wire`, "a schema knows the first steps of a list, not neighbours and not the last"},
	// YAML itself, which a schema never sees.
	{`is written twice, first at line`, "keys written twice"},
	{`anchors \(&\)|type tags|second document`, "what is gone when YAML has been read"},
}

var beyondWords = func() []*regexp.Regexp {
	var all []*regexp.Regexp
	for _, b := range beyond {
		all = append(all, regexp.MustCompile(b.words))
	}
	return all
}()

// excused gives the reasons why a schema need not find a fault, as places in beyond.
func excused(p circuit.Problem) []int {
	var reasons []int
	for i, words := range beyondWords {
		if words.MatchString(p.Text) {
			reasons = append(reasons, i)
		}
	}
	return reasons
}

// stops are the reader's words after which it looks no further.
var stops = regexp.MustCompile(`anchors \(&\)|type tags|second document|nested deeper|reads version`)

// wrongFiles gives the reader's wrong files and those of this package.
func wrongFiles(t *testing.T) map[string][]byte {
	t.Helper()
	texts := map[string][]byte{}
	for pattern, least := range map[string]int{"../testdata/wrong/*.txt": 30, "testdata/wrong/*.yaml": 6} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) < least {
			t.Fatalf("%s finds %d files (%v)", pattern, len(names), err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			text, _, _ := strings.Cut(string(data), "=== problems ===\n")
			texts[name] = []byte(text)
		}
	}
	return texts
}

// fault is what the validator says, and the lines that it may mean: that of a key, and that of its value.
type fault struct {
	lines []int
	says  string
}

// faults gives what a validator says about a file, innermost causes only.
func faults(t *testing.T, s *jsonschema.Schema, top *yaml.Node) []fault {
	t.Helper()
	err := s.Validate(instance(t, top))
	var refused *jsonschema.ValidationError
	if err == nil {
		return nil
	} else if !errors.As(err, &refused) {
		t.Fatal(err)
	}
	var found []fault
	var walk func(e *jsonschema.ValidationError)
	walk = func(e *jsonschema.ValidationError) {
		switch k := e.ErrorKind.(type) {
		case *kind.AdditionalProperties:
			for _, key := range k.Properties {
				found = append(found, fault{linesOf(top, append(slices.Clone(e.InstanceLocation), key)), fmt.Sprintf("%v has no key %s", e.InstanceLocation, key)})
			}
			return
		case *kind.PropertyNames:
			// Its location is not to be trusted: the library goes on to write into the same slice.
			found = append(found, fault{keyLines(top, k.Property), k.Property + " cannot be a name here"})
			return
		case *kind.MaxProperties: // the reader tells it at the first that is too many
			var lines []int
			for _, key := range nodeAt(top, e.InstanceLocation).Content {
				lines = append(lines, key.Line)
			}
			found = append(found, fault{lines, e.Error()})
			return
		case *kind.AnyOf: // none of the ways fits; why each does not is no fault of its own
		default:
			for _, cause := range e.Causes {
				walk(cause)
			}
			if len(e.Causes) > 0 {
				return
			}
		}
		found = append(found, fault{linesOf(top, e.InstanceLocation), e.Error()})
	}
	walk(refused)
	return found
}

// linesOf gives the lines of a value and of the key before it.
func linesOf(top *yaml.Node, location []string) []int {
	lines := []int{nodeAt(top, location).Line}
	if len(location) > 0 {
		parent := nodeAt(top, location[:len(location)-1])
		for i := 0; i < len(parent.Content) && parent.Kind == yaml.MappingNode; i += 2 {
			if parent.Content[i].Value == location[len(location)-1] {
				return append(lines, parent.Content[i].Line)
			}
		}
	}
	return lines
}

// nodeAt follows a location; of keys written twice it takes the first.
func nodeAt(node *yaml.Node, location []string) *yaml.Node {
	if node.Kind == yaml.DocumentNode {
		node = node.Content[0]
	}
	if len(location) == 0 {
		return node
	}
	for i, child := range node.Content {
		switch {
		case node.Kind == yaml.MappingNode && i%2 == 0 && child.Value == location[0]:
			return nodeAt(node.Content[i+1], location[1:])
		case node.Kind == yaml.SequenceNode && fmt.Sprint(i) == location[0]:
			return nodeAt(child, location[1:])
		}
	}
	panic(fmt.Sprintf("there is no %q", location))
}

// keyLines gives the lines of every key of a name.
func keyLines(node *yaml.Node, name string) []int {
	var lines []int
	for i, child := range node.Content {
		if node.Kind == yaml.MappingNode && i%2 == 0 && child.Value == name {
			lines = append(lines, child.Line)
		}
		lines = append(lines, keyLines(child, name)...)
	}
	return lines
}

func TestSchemaAndReaderFindTheSameFaults(t *testing.T) {
	s := compiled(t)
	used := make([]int, len(beyond))
	agreed := 0
	for name, data := range wrongFiles(t) {
		c, problems := circuit.Read(name, data)
		if c != nil {
			t.Errorf("%s is read", name)
			continue
		}
		var top yaml.Node
		if err := yaml.Unmarshal(data, &top); err != nil {
			continue // an editor refuses it before any schema is asked
		}
		if top.Kind == 0 {
			top = yaml.Node{Kind: yaml.DocumentNode, Content: []*yaml.Node{{Kind: yaml.ScalarNode, Tag: "!!null", Line: 1}}}
		}
		found := faults(t, s, &top)
		told := map[int]bool{}
		for _, p := range problems.Errors() {
			told[p.Pos.Line] = true
			reasons := excused(p)
			for _, i := range reasons {
				used[i]++
			}
			expected := len(reasons) == 0
			seen := slices.ContainsFunc(found, func(f fault) bool { return slices.Contains(f.lines, p.Pos.Line) })
			if expected && !seen {
				t.Errorf("the schema does not find: %v", p)
			}
			if expected && seen {
				agreed++
			}
		}
		for _, f := range found {
			if !stops.MatchString(problems.Error()) && !slices.ContainsFunc(f.lines, func(line int) bool { return told[line] }) {
				t.Errorf("%s:%v: the reader does not find: %s", name, f.lines, f.says)
			}
		}
	}
	for i, b := range beyond {
		if used[i] == 0 {
			t.Errorf("nothing is said any more like %q: take it out", b.words)
		}
	}
	t.Logf("%d faults were found by both", agreed)
	if agreed < 150 {
		t.Errorf("only %d faults were found by both", agreed)
	}
}
