package circuits_test

// Every example comes to rest on the bench, in every position of its key, and with the key in run all of its modules
// are awake.

import (
	"testing"

	"underload/circuits"
	"underload/sim"
	"underload/sim/part"
)

func TestEveryExampleRuns(t *testing.T) {
	names := circuits.Names()
	if len(names) < 9 {
		t.Fatalf("only %d examples: %v", len(names), names)
	}
	for _, name := range names {
		c, err := circuits.Read(name)
		if err != nil {
			t.Fatal(err)
		}
		b, err := sim.New(c)
		if err != nil {
			t.Errorf("%s at rest: %v", name, err)
			continue
		}
		key := c.Part("KEY")
		if key == nil {
			t.Errorf("%s has no KEY", name)
			continue
		}
		for _, throw := range key.Throws {
			if err := b.Set("KEY=" + throw.Name); err != nil {
				t.Errorf("%s, KEY=%s: %v", name, throw.Name, err)
			}
		}
		if err := b.Set("KEY=run"); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, m := range b.Modules() {
			if m.Mode != part.Awake {
				t.Errorf("%s: %s is %v with %.2f V", name, m.Part.Name, m.Mode, m.SupplyVolts)
			}
		}
		for _, p := range c.OfKind("fuse") {
			if b.State(p).Blown {
				t.Errorf("%s: %s blows in the healthy circuit", name, p.Name)
			}
		}
	}
}
