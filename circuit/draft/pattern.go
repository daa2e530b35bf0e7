package draft

// This file holds the patterns: circuits to start from, each with marks where a vehicle differs.

import (
	"embed"
	"fmt"
	"strings"

	"underload/circuit"
	"underload/circuit/spelling"
)

//go:embed patterns/*.yaml
var patterns embed.FS

// PatternNames lists the patterns, simple ones first.
func PatternNames() []string {
	return []string{"fused-feed", "relay-fed-load", "shared-ground", "module-with-two-feeds", "starter", "network"}
}

// Pattern gives the text of a pattern. Blanks may stand in the name for dashes.
func Pattern(name string) ([]byte, error) {
	data, err := patterns.ReadFile("patterns/" + strings.ReplaceAll(name, " ", "-") + ".yaml")
	if err == nil {
		return data, nil
	}
	if near, ok := spelling.Nearest(name, PatternNames()); ok {
		return nil, fmt.Errorf("there is no pattern %q: did you mean %s?", name, near)
	}
	return nil, fmt.Errorf("there is no pattern %q: it is one of %s", name, strings.Join(PatternNames(), ", "))
}

// PatternTitle says what a pattern holds.
func PatternTitle(name string) string {
	data, err := Pattern(name)
	if err != nil {
		return ""
	}
	c, _ := circuit.Read(name, data)
	if c == nil {
		return ""
	}
	return c.Title
}
