package schema

// This file is JSON Schema itself: the few words of draft 2020-12 that describe a circuit file, in the order in which
// a person would read them.

import (
	"bytes"
	"encoding/json"
)

// rule says what one value may be.
type rule struct {
	Dialect     string   `json:"$schema,omitempty"`
	Title       string   `json:"title,omitempty"`
	Ref         string   `json:"$ref,omitempty"`
	Description string   `json:"description,omitempty"`
	Type        any      `json:"type,omitempty"` // a word, or a list of them
	Const       any      `json:"const,omitempty"`
	Enum        []any    `json:"enum,omitempty"`
	Default     any      `json:"default,omitempty"`
	Examples    []string `json:"examples,omitempty"`

	Minimum   *int   `json:"minimum,omitempty"`
	MinLength int    `json:"minLength,omitempty"`
	MaxLength int    `json:"maxLength,omitempty"`
	Pattern   string `json:"pattern,omitempty"`

	MinItems    int     `json:"minItems,omitempty"`
	MaxItems    int     `json:"maxItems,omitempty"`
	UniqueItems bool    `json:"uniqueItems,omitempty"`
	PrefixItems []*rule `json:"prefixItems,omitempty"`
	Items       *rule   `json:"items,omitempty"`

	Required      []string            `json:"required,omitempty"`
	Needs         map[string][]string `json:"dependentRequired,omitempty"`
	MinProperties int                 `json:"minProperties,omitempty"`
	MaxProperties int                 `json:"maxProperties,omitempty"`
	PropertyNames *rule               `json:"propertyNames,omitempty"`
	Properties    entries             `json:"properties,omitempty"`
	Others        any                 `json:"additionalProperties,omitempty"` // a rule, or false

	If    *rule   `json:"if,omitempty"`
	Then  *rule   `json:"then,omitempty"`
	AllOf []*rule `json:"allOf,omitempty"`
	AnyOf []*rule `json:"anyOf,omitempty"`
	Not   *rule   `json:"not,omitempty"`

	// What an editor says in place of a pattern of a thousand letters. These two are no part of the draft; validators
	// that do not know them pass them over.
	PatternMessage string `json:"patternErrorMessage,omitempty"`
	Message        string `json:"errorMessage,omitempty"`

	Defs entries `json:"$defs,omitempty"`
}

// entries are the members of an object, in order.
type entries []entry

type entry struct {
	name string
	rule *rule
}

func (es *entries) add(name string, r *rule) { *es = append(*es, entry{name, r}) }

// MarshalJSON writes the members in their order.
func (es entries) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, e := range es {
		if i > 0 {
			b.WriteByte(',')
		}
		for j, part := range []any{e.name, e.rule} {
			text, err := marshal(part)
			if err != nil {
				return nil, err
			}
			if j > 0 {
				b.WriteByte(':')
			}
			b.Write(text)
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// marshal writes JSON with <, > and & as they are.
func marshal(value any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(value)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}
