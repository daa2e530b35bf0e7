// Package tidy writes a circuit file in one form, so that two files differ where their circuits do, and keeps every
// comment.
package tidy

// This file is the way from the bytes of a file to its tidy form, and the checks that nothing was lost on it.

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"underload/circuit"
	"underload/circuit/compare"
)

// File gives the tidy form of a circuit file; file is its name for messages. A file with errors is refused with all of
// them, a circuit.Problems. So is one of which the tidy form would not hold every comment and the same circuit.
func File(file string, data []byte) ([]byte, error) {
	was, problems := circuit.Read(file, data)
	if err := problems.Err(); err != nil {
		return nil, err
	}
	laid, err := Lay(data)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be laid out: %w", file, err)
	}
	now, problems := circuit.Read(file, laid)
	if err := problems.Err(); err != nil {
		return nil, fmt.Errorf("%s: left as it is, since its tidy form could not be read again: %w", file, err)
	}
	if changes := compare.Circuits(was, now); len(changes) > 0 {
		return nil, fmt.Errorf("%s: left as it is, since its tidy form would change the circuit: %s", file, changes[0].Text)
	}
	if lost := lostComment(data, laid); lost != "" {
		return nil, fmt.Errorf("%s: left as it is, since its tidy form would lose the comment %q. Move it to a line of its own", file, lost)
	}
	return laid, nil
}

// Lay lays out the text of a circuit file that may not be a whole circuit yet. The text must be YAML and within the
// limits of a circuit file; anything in it that no circuit file has stays where it is. Lay checks nothing: see File.
func Lay(data []byte) ([]byte, error) {
	s, root, err := parse(data)
	if err != nil {
		return nil, err
	}
	if root.Kind != yaml.MappingNode {
		return nil, errors.New("it is no keys with values")
	}
	top := s.tree(root)
	s.attach(top)
	return write(top), nil
}

// parse gives the source and its top node.
func parse(data []byte) (*source, *yaml.Node, error) {
	text := strings.TrimPrefix(string(data), "\ufeff")
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n") // YAML takes each for a line end
	decoder := yaml.NewDecoder(bytes.NewReader([]byte(text)))
	var document yaml.Node
	if err := decoder.Decode(&document); err == io.EOF || err == nil && len(document.Content) == 0 {
		return nil, nil, errors.New("the file is empty")
	} else if err != nil {
		return nil, nil, err
	}
	return newSource(text, document.Content[0]), document.Content[0], nil
}

// Comments lists the comments of a YAML text in order, each with its #.
func Comments(data []byte) ([]string, error) {
	s, _, err := parse(data)
	if err != nil {
		return nil, err
	}
	texts := make([]string, len(s.comments))
	for i, c := range s.comments {
		texts[i] = c.text
	}
	return texts, nil
}

// lostComment gives a comment that is not in both texts the same number of times, or "".
func lostComment(was, now []byte) string {
	before, err := Comments(was)
	if err != nil {
		return err.Error()
	}
	after, err := Comments(now)
	if err != nil {
		return err.Error()
	}
	slices.Sort(before)
	slices.Sort(after)
	for i, text := range before {
		if i >= len(after) || after[i] != text {
			return text
		}
	}
	if len(after) > len(before) {
		return after[len(before)]
	}
	return ""
}
