// Package meter is the instruments: one file each, with how it loads the circuit, what it shows, what a person sees,
// and what a reading like that can and cannot prove.
package meter

// This file is the reading that every instrument gives.

import (
	"math"
	"strconv"
	"strings"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

// Reading is what one test gave. A nil number is one that the instrument does not give, or that is over its range.
type Reading struct {
	Instrument string `json:"instrument"`
	Red        string `json:"red,omitempty"`
	Black      string `json:"black,omitempty"`
	On         string `json:"on,omitempty"` // the wire in a clamp

	BeyondReach []string `json:"beyond_reach,omitempty"` // points that a person could not have touched

	Value       *float64 `json:"value"` // as the circuit has it; a display rounds to Resolution
	Unit        string   `json:"unit"`
	Resolution  *float64 `json:"resolution"`
	Uncertainty *float64 `json:"uncertainty"` // plus or minus, in Unit
	Healthy     *float64 `json:"healthy"`     // the same test on the circuit without faults
	Kick        *float64 `json:"kick,omitempty"`
	State       string   `json:"state,omitempty"` // of a module that is not as in the healthy circuit

	Amps         *float64 `json:"amps,omitempty"`          // through the leads, without a sign, where Unit is not A
	LightPercent *float64 `json:"light_percent,omitempty"` // of the lamp's light at 12 V

	Seen        string   `json:"seen"`
	HealthySeen string   `json:"healthy_seen"`
	Effect      string   `json:"effect"` // what the instrument did to the circuit
	Meaning     string   `json:"meaning"`
	Cautions    []string `json:"cautions,omitempty"`
	Minutes     float64  `json:"minutes"` // to take it, common practice
	Lines       []string `json:"lines,omitempty"`
}

// Request is a test to be made.
type Request struct {
	With       string // an instrument, or a resistance such as "2.4 ohm" as a plain load
	Red, Black string
	On         string // the wire a clamp goes around
	AnyReach   bool   // also points that a person cannot touch

	beyond []string // those of them that are out of reach
	again  bool     // the instrument is on the bench already
}

// units an instrument reads in.
const (
	volt   = "V"
	ampere = "A"
	ohm    = "ohm"
	newton = "N"
)

// NearestText writes the value as a display shows it, with its uncertainty.
func (r Reading) NearestText() string {
	if r.Value == nil {
		return r.Seen
	}
	text := r.Text(*r.Value)
	switch {
	case r.Uncertainty == nil:
	case strings.HasPrefix(text, "0\u00a0"):
		text += " ± " + shown(*r.Uncertainty, r.Unit, nil)
	default:
		text += " ± " + alike(*r.Uncertainty, text)
	}
	return text
}

// Text writes another value of the same test, such as Healthy or Kick, as the display shows it in the range it then
// picks.
func (r Reading) Text(value float64) string {
	resolution := r.Resolution
	if i, err := named(r.Instrument); err == nil {
		_, resolution, _ = i.scale(value)
	}
	return shown(value, r.Unit, resolution)
}

// alike writes a value with the prefix and the decimals that another one was written with: 0.08 V beside 12.12 V, not
// 80 mV. A value that would then be nothing gets one more decimal.
func alike(value float64, beside string) string {
	number, unit, _ := strings.Cut(beside, "\u00a0")
	for prefix, factor := range map[string]float64{"m": 1e3, "µ": 1e6, "k": 1e-3, "M": 1e-6} {
		if strings.HasPrefix(unit, prefix) {
			value *= factor
		}
	}
	_, decimals, _ := strings.Cut(number, ".")
	digits := len(decimals)
	if value < math.Pow10(-digits)/2 {
		digits++
	}
	return strconv.FormatFloat(value, 'f', digits, 64) + "\u00a0" + unit
}

// shown writes a value rounded to a resolution.
func shown(value float64, unit string, resolution *float64) string {
	d := map[string]quantity.Dimension{volt: quantity.Volts, ampere: quantity.Amperes, ohm: quantity.Ohms, newton: quantity.Newtons}[unit]
	step := 0.0
	if resolution != nil {
		step = *resolution
	}
	return round(value, d, step)
}

// mostDigits is what a display has room for.
const mostDigits = 4

// round writes a value to the last digit that a resolution shows. Below one unit the prefix goes down with it.
func round(value float64, d quantity.Dimension, resolution float64) string {
	if resolution > 0 {
		value = math.Round(value/resolution) * resolution
	}
	if value == 0 {
		return quantity.Format(0, d, 1)
	}
	digits := 3
	if resolution > 0 {
		digits = max(1, int(math.Floor(math.Log10(math.Abs(value))+1e-9))-int(math.Floor(math.Log10(resolution)+1e-9))+1)
	}
	return quantity.Format(value, d, min(digits, mostDigits))
}

// accuracy finds the range of a meter that holds a value, and the resolution and uncertainty there. ok is false over
// the largest range.
func accuracy(m catalog.Meter, value float64) (resolution, uncertainty float64, ok bool) {
	for _, r := range m.Ranges {
		if math.Abs(value) <= r.FullScale {
			return r.Resolution, m.Accuracy.Share*math.Abs(value) + m.Accuracy.Counts*r.Resolution + m.Accuracy.Fixed, true
		}
	}
	last := m.Ranges[len(m.Ranges)-1]
	return last.Resolution, m.Accuracy.Share*math.Abs(value) + m.Accuracy.Counts*last.Resolution, false
}

func p(v float64) *float64 { return &v }

// sentence joins clauses into one line for people.
func sentence(parts ...string) string {
	var kept []string
	for _, s := range parts {
		if s != "" {
			kept = append(kept, s)
		}
	}
	return strings.Join(kept, " ")
}
