package drawing

// These tests ask for parts left and right of others.

import (
	"fmt"
	"testing"

	"underload/circuit"
)

// asked is an example in which a part is wanted left or right of another.
func asked(t *testing.T, name, part string, where circuit.Beside) *circuit.Circuit {
	t.Helper()
	c := madeUp(t, name, string(source(t, name)))
	c.Part(part).Drawn = where
	return c
}

// middle is where a part is across the drawing, on average.
func (l *Layout) middle(t *testing.T, part string) int {
	t.Helper()
	sum, columns := 0, l.net.columnsOfParts()[part]
	if len(columns) == 0 {
		t.Fatalf("%s is not drawn", part)
	}
	for _, c := range columns {
		sum += c.x
	}
	return sum / len(columns)
}

// A part goes to the side of another that the file wants, from nothing and when the file has been edited, and nothing
// else is spoiled.
func TestDrawnBeside(t *testing.T) {
	for _, name := range examples(t) {
		was := laidOut(t, name, page)
		var parts []*circuit.Part // one in each column
		seen := map[*chain]bool{}
		for _, p := range was.Circuit.Parts {
			if columns := was.net.columnsOfParts()[p.Name]; len(columns) == 1 && !seen[columns[0]] {
				seen[columns[0]] = true
				parts = append(parts, p)
			}
		}
		if len(parts) < 2 {
			t.Fatalf("%s has %d columns with a part", name, len(parts))
		}
		for i := 0; i < len(parts); i += 3 {
			a := parts[i]
			b := parts[(i+len(parts)/2)%len(parts)]
			left := was.middle(t, a.Name) > was.middle(t, b.Name) // the side where it is not
			where := circuit.Beside{RightOf: b.Name}
			if left {
				where = circuit.Beside{LeftOf: b.Name}
			}
			c := asked(t, name, a.Name, where)
			for how, before := range map[string]*Layout{"from nothing": nil, "edited": was} {
				now := Lay(c, page, before)
				demand(t, fmt.Sprintf("%s, %s %+v, %s", name, a.Name, where, how), now)
				if (now.middle(t, a.Name) < now.middle(t, b.Name)) != left {
					t.Errorf("%s: %s is not %+v, %s", name, a.Name, where, how)
				}
			}
		}
	}
}

// What is wanted beside another part stands right beside it where nothing is in the way.
func TestDrawnNear(t *testing.T) {
	parts, paths := "", ""
	for i := 1; i <= 6; i++ {
		place := ""
		if i == 6 {
			place = ", place: right of L1"
		}
		parts += fmt.Sprintf("  L%d: {is: lamp, bulb: 5 W%s}\n", i, place)
		paths += fmt.Sprintf("  l%d: [FB, wire, L%d, wire, G1]\n", i, i)
	}
	l := bench(t, parts, paths)
	columns := l.net.columnsOfParts()
	if apart := columns["L6"][0].slot - columns["L1"][0].slot; apart != 1 {
		t.Errorf("L6 is %d columns right of L1", apart)
	}
}
