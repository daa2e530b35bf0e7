package command

import (
	"fmt"
	"strings"
	"testing"
)

// What else hangs on a bus bar is named, as far as a person reads on.
func TestManySharers(t *testing.T) {
	s := stop{Name: "S1", Says: "splice"}
	for i := range 20 {
		s.Shared = append(s.Shared, fmt.Sprintf("L%d", i))
	}
	if got := stopWords(s); !strings.HasSuffix(got, "shared with L0, L1, L2, L3, L4, L5, L6, L7, L8, L9, L10, L11, L12, L13, L14, L15, L16, L17, L18, L19") {
		t.Errorf("twenty: %s", got)
	}
	s.Shared = append(s.Shared, "L20", "L21")
	if got := stopWords(s); !strings.HasSuffix(got, ", L18, L19, 2 more") || len(s.Shared) != 22 {
		t.Errorf("more: %s", got)
	}
	if got := stopWords(stop{Says: "splice"}); got != "splice" {
		t.Errorf("alone: %s", got)
	}
}
