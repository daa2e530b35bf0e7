package spelling

import (
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	known := []string{"battery", "fuse", "lamp", "spread", "C12.7"}
	for _, c := range []struct {
		word, want string
	}{
		{"batery", "battery"}, {"BATTERY", "battery"}, {"abttery", "battery"}, {"fuze", "fuse"}, {"fsue", "fuse"},
		{"lampp", "lamp"}, {"spraed", "spread"}, {"C12.8", "C12.7"},
		{"", ""}, {"x", ""}, {"motor", ""}, {"fzze", ""}, {strings.Repeat("lamp", 100), ""},
	} {
		got, ok := Nearest(c.word, known)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("Nearest(%.20q) = %q, %v; want %q", c.word, got, ok, c.want)
		}
	}
}

// The optimal string alignment distance of these pairs can be counted by hand.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "abc", 3}, {"kitten", "sitting", 3}, {"ca", "abc", 3}, {"ab", "ba", 1}, {"Ω", "ohm", 3}} {
		if got := slips([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("slips(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
