package schema

// Right circuits with one thing changed at random: what the schema refuses the reader must refuse, and what only the
// reader refuses must be a fault that no schema can find.

import (
	"math/rand/v2"
	"slices"
	"testing"

	"gopkg.in/yaml.v3"

	"underload/circuit"
)

// strays are values that may get anywhere in a file by a slip.
var strays = []string{
	"12", "12 V", "0 V", "-3 V", "3 mohm", "4k7", "3 ohm.", "0.75 mm2", "18 AWG", "2.5 A", "20 W", "15 °C", "30 %", "2.8 mm", "1,500 A", "1.500,0 A",
	"RD", "RD/WH", "rd", "RD 1.0 mm2", "RD 1.0 mm2 2 m", "2 m RD copper 18 AWG", "15 mohm BK", "15 mohm 2 m", "wire", "wire W99", "wire: RD", "B1.pos", "F7", "C14.2", "C14.2.b-a",
	"K2.30-87", "S77", "a-b", "1-2", "near", "tin", "fuse", "module", "ground", "P21W", "p21w", "55 W", "21 W 24 V", "p21w 24v", "21 24 V", "1156", "true", "7.5", "1e3", "on", "a b", "x.y", "é1", "_", "+",
}

// mutate changes one node of a tree and tells whether it did.
func mutate(top *yaml.Node, random *rand.Rand) bool {
	var nodes []*yaml.Node
	var walk func(node *yaml.Node)
	walk = func(node *yaml.Node) {
		nodes = append(nodes, node)
		for _, child := range node.Content {
			walk(child)
		}
	}
	walk(top.Content[0])
	node := nodes[random.IntN(len(nodes))]
	pick := func() yaml.Node {
		text := strays[random.IntN(len(strays))]
		var stray yaml.Node
		if err := yaml.Unmarshal([]byte(text), &stray); err != nil {
			panic(err)
		}
		return *stray.Content[0]
	}
	switch action := random.IntN(6); {
	case node.Kind == yaml.ScalarNode && action < 4:
		*node = pick()
	case node.Kind == yaml.ScalarNode && len(node.Value) > 1: // a letter is lost, as in typing
		i := random.IntN(len(node.Value))
		*node = yaml.Node{Kind: yaml.ScalarNode, Value: node.Value[:i] + node.Value[i+1:]}
	case node.Kind == yaml.SequenceNode && len(node.Content) > 0:
		i := random.IntN(len(node.Content))
		if action < 3 {
			node.Content = slices.Delete(node.Content, i, i+1)
		} else {
			stray := pick()
			node.Content = slices.Insert(node.Content, i, &stray)
		}
	case node.Kind == yaml.MappingNode && len(node.Content) > 0:
		i := random.IntN(len(node.Content)/2) * 2
		if action < 3 {
			node.Content = slices.Delete(node.Content, i, i+2)
		} else {
			key, value := pick(), pick()
			node.Content = slices.Insert(node.Content, i, &key, &value)
		}
	default:
		return false
	}
	return true
}

func TestMutantsAreJudgedAlike(t *testing.T) {
	s := compiled(t)
	random := rand.New(rand.NewPCG(3, 1415))
	texts := right(t)
	var names []string
	for name := range texts {
		names = append(names, name)
	}
	slices.Sort(names)
	both, neither, readerOnly := 0, 0, 0
	for range 500 {
		name := names[random.IntN(len(names))]
		top := parse(t, texts[name])
		if !mutate(top, random) {
			continue
		}
		data, err := yaml.Marshal(top)
		if err != nil {
			continue // a tree that cannot be written
		}
		var again yaml.Node
		if yaml.Unmarshal(data, &again) != nil {
			continue
		}
		c, problems := circuit.Read(name, data)
		wrong := s.Validate(instance(t, &again))
		switch {
		case c == nil && wrong != nil:
			both++
		case c != nil && wrong == nil:
			neither++
		case c != nil:
			t.Errorf("%s: the schema refuses what the reader takes: %v", name, wrong)
		default:
			readerOnly++
			for _, p := range problems.Errors() {
				if len(excused(p)) == 0 {
					t.Errorf("the schema takes what the reader refuses: %v", p)
				}
			}
		}
	}
	t.Logf("refused by both %d, taken by both %d, refused by the reader alone %d", both, neither, readerOnly)
	if both < 200 || neither < 40 {
		t.Errorf("refused by both %d, taken by both %d", both, neither)
	}
}
