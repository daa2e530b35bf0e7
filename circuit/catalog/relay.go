// The small plug-in relay of road vehicles.

package catalog

// Relay holds what a relay does at 20 °C; a copper coil's ohms rise with temperature as WireOhmsPerMetre says.
type Relay struct {
	CoilOhms        float64
	PullInVolts     float64 // surely in at this
	ReleaseVolts    float64 // lets go at this or above
	ContactOhms     float64
	ContactActOhms  float64
	OperateSeconds  float64
	ReleaseSeconds  float64
	SuppressionOhms float64 // resistor across the coil, where there is one
	Source          Source
}

// PlugInRelay: coil 85 Ω ± 10 % and 15 mV typical at 10 A from one maker's
// sheet; pull-in at most 7.2 V, release at least 1.6 V, 7 ms and 2 ms from
// another's (both read); contact: above the typical 1.5 mΩ, since contacts age;
// act-at ohms and the 680 Ω are common practice, no source.
var PlugInRelay = Relay{85, 7.2, 1.6, 0.003, 0.020, 0.007, 0.002, 680, relaySource}
