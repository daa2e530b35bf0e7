package part

// This file holds the table of parts against the kinds that a circuit file may name.

import (
	"testing"

	"underload/circuit"
)

// Every kind that a circuit file may name can be built here, and nothing else can.
func TestEveryKindIsBuilt(t *testing.T) {
	for _, kind := range circuit.Kinds {
		if !Known(kind.Name) {
			t.Errorf("a %s has no inside", kind.Name)
		}
	}
	for name := range table {
		if circuit.KindNamed(name) == nil {
			t.Errorf("a circuit file cannot name a %s", name)
		}
	}
}
