// Volts that may be lost under load, as the trade counts them.

package catalog

// DropLimit is the most volts a stretch may lose while its load works.
type DropLimit struct {
	Part   string
	Volts  float64
	Source Source
}

// The limits are practice, not a standard's clause, and sources differ. A long
// thin wire in good order may lose more: amps times its own ohms come first.
const (
	JointLimitVolts  = 0.1 // a ground or a connection
	CableLimitVolts  = 0.2
	SwitchLimitVolts = 0.3
	SideLimitVolts   = 0.5 // a whole feed side, or a whole ground side
)

// DropLimits lists the limits, smallest first.
var DropLimits = []DropLimit{
	{"a ground or a connection", JointLimitVolts, dropLimitSource},
	{"a cable", CableLimitVolts, dropLimitSource},
	{"a switch or relay contact", SwitchLimitVolts, dropLimitSource},
	{"a whole side of a circuit", SideLimitVolts, starterSource},
}
