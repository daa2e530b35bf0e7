package schema

// The committed copy is current; the schema is a schema; it takes every example; its defaults pass it.

import (
	"bytes"
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"

	"underload/circuit"
)

var update = flag.Bool("update", false, "write the schema into its committed copy")

const committed = "../../circuits/underload.schema.json"

func TestCommittedCopyIsCurrent(t *testing.T) {
	if *update {
		if err := os.WriteFile(committed, JSON(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(committed)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, JSON()) {
		t.Error("circuits/underload.schema.json is not what the tables give: go test ./circuit/schema -update")
	}
	for i, c := range string(data) {
		if c > '~' && strings.ContainsRune("\u00a0\u2007\u2009\u200a\u202f\u2028\ufeff", c) {
			t.Fatalf("an invisible character U+%04X at %d", c, i)
		}
	}
}

// compiler holds the schema under the name s.json. Compiling checks it against the draft's own schema.
func compiler(t testing.TB) *jsonschema.Compiler {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(JSON()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("s.json", doc); err != nil {
		t.Fatal(err)
	}
	return c
}

func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	s, err := compiler(t).Compile("s.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// instance is what an editor makes of a YAML node: JSON, with keys as they are written.
func instance(t testing.TB, node *yaml.Node) any {
	t.Helper()
	switch node.Kind {
	case yaml.DocumentNode:
		return instance(t, node.Content[0])
	case yaml.AliasNode:
		return instance(t, node.Alias)
	case yaml.MappingNode:
		members := map[string]any{}
		for i := 0; i+1 < len(node.Content); i += 2 {
			if _, twice := members[node.Content[i].Value]; !twice {
				members[node.Content[i].Value] = instance(t, node.Content[i+1])
			}
		}
		return members
	case yaml.SequenceNode:
		items := []any{}
		for _, item := range node.Content {
			items = append(items, instance(t, item))
		}
		return items
	}
	switch node.ShortTag() {
	case "!!null":
		return nil
	case "!!int", "!!float", "!!bool":
		var value any
		if err := node.Decode(&value); err != nil {
			t.Fatal(err)
		}
		if f, ok := value.(float64); !ok || !math.IsNaN(f) && !math.IsInf(f, 0) {
			return value
		}
	}
	return node.Value
}

func parse(t testing.TB, data []byte) *yaml.Node {
	t.Helper()
	var node yaml.Node
	if err := yaml.Unmarshal(data, &node); err != nil {
		t.Fatal(err)
	}
	return &node
}

// right gives the text of every circuit of the project that is meant to be read.
func right(t testing.TB) map[string][]byte {
	t.Helper()
	texts := map[string][]byte{}
	for _, folder := range []string{"../../circuits", "../draft/patterns"} {
		names, err := filepath.Glob(folder + "/*.yaml")
		if err != nil || len(names) < 6 {
			t.Fatalf("%d circuits in %s (%v)", len(names), folder, err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			texts[name] = data
		}
	}
	for _, page := range []string{"../../circuits/FORMAT.md", "../../README.md"} {
		data, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		for _, block := range strings.Split(string(data), "```yaml\n")[1:] {
			text, _, _ := strings.Cut(block, "```")
			if strings.HasPrefix(text, "underload: 1") {
				texts[page] = []byte(text)
			}
		}
		if texts[page] == nil {
			t.Fatalf("%s has no circuit", page)
		}
	}
	return texts
}

func TestExamplesPass(t *testing.T) {
	s := compiled(t)
	for name, data := range right(t) {
		if c, problems := circuit.Read(name, data); c == nil {
			t.Errorf("%v", problems)
		}
		if err := s.Validate(instance(t, parse(t, data))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What is offered as a default or an example must pass the rule that offers it.
func TestOffersPass(t *testing.T) {
	var top any
	if err := json.Unmarshal(JSON(), &top); err != nil {
		t.Fatal(err)
	}
	c := compiler(t)
	offers := 0
	var walk func(node any, at string)
	walk = func(node any, at string) {
		object, ok := node.(map[string]any)
		if !ok {
			return
		}
		offered, _ := object["examples"].([]any)
		if value, ok := object["default"]; ok {
			offered = append(offered, value)
		}
		for _, value := range offered {
			offers++
			s, err := c.Compile("s.json#" + at)
			if err != nil {
				t.Fatal(err)
			}
			if err := s.Validate(value); err != nil {
				t.Errorf("%s: %v: %v", at, value, err)
			}
		}
		for key, child := range object {
			walk(child, at+"/"+strings.NewReplacer("~", "~0", "/", "~1", " ", "%20").Replace(key))
		}
	}
	walk(top, "")
	if offers < 100 {
		t.Fatalf("only %d offers", offers)
	}
}

// Every kind, key, choice and colour of the tables is in the schema, and says what it means.
func TestTablesAreWhole(t *testing.T) {
	var top struct {
		Defs map[string]struct {
			Properties map[string]struct {
				Description string
				Enum        []any
			}
			Required []string
		} `json:"$defs"`
	}
	if err := json.Unmarshal(JSON(), &top); err != nil {
		t.Fatal(err)
	}
	keys := 0
	for _, k := range circuit.Kinds {
		def, ok := top.Defs["a "+k.Name]
		if !ok {
			t.Errorf("there is no rule for a %s", k.Name)
			continue
		}
		for _, key := range append(k.Keys, circuit.CommonKeys...) {
			p, ok := def.Properties[key.Name]
			if !ok && (key.Name != "pins" || len(k.Terminals) > 0) || ok && p.Description == "" {
				t.Errorf("a %s has no %s, or does not explain it", k.Name, key.Name)
			}
			if key.Form == circuit.Choice && len(p.Enum) != len(key.Choices) {
				t.Errorf("%s of a %s offers %v", key.Name, k.Name, p.Enum)
			}
			keys++
		}
	}
	if keys < 100 {
		t.Fatalf("only %d keys", keys)
	}
}
