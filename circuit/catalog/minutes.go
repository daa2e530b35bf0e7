// How long the acts of a diagnosis take. Common practice, no source.

package catalog

import "slices"

// Act is something done at the vehicle and the minutes it takes.
type Act struct {
	Name               string
	Low, Central, High float64
}

// The acts whose minutes the program reckons with by itself.
const (
	FuseTop         = "leads on a fuse top"
	BackProbeNear   = "back-probe, near"
	BackProbeSealed = "back-probe, sealed"
	BackProbeTrim   = "back-probe, behind trim"
	UnplugNear      = "unplug and replug, near"
	OpenLoom        = "open the loom, find a splice, wrap it again"

	RollCall   = "roll call and codes"
	QuickLook  = "quick look along the loom"
	ClampOn    = "clamp on a wire"
	DragTest   = "drag test, a plug"
	LoadLampOn = "load lamp at an open point"
	ReadMeter  = "read a meter or a small lamp, leads in place"
	InLine     = "an ammeter or a fused lead in line"
)

var acts = []Act{
	{"hear the complaint, ride along", 5, 10, 30},
	{"battery volts, clamps, cranking volts", 2, 4, 8},
	{QuickLook, 3, 6, 15},
	{RollCall, 3, 8, 20},
	{"find and trace the diagram", 5, 12, 30},
	{FuseTop, 0.2, 0.5, 1},
	{"millivolts over all fuses of a box", 5, 10, 15},
	{"leads on a battery or stud", 0.3, 0.5, 1},
	{ReadMeter, 0.2, 0.5, 1},
	{InLine, 0.5, 1, 2},
	{BackProbeNear, 1, 2, 4},
	{BackProbeSealed, 3, 5, 8},
	{BackProbeTrim, 3, 5, 10},
	{"ohms of the bus pair, battery off", 3, 5, 8},
	{"replace a fuse", 0.5, 1, 2},
	{"replace a relay", 1, 2, 10},
	{UnplugNear, 1, 2, 4},
	{"unplug and replug, behind trim", 4, 8, 20},
	{"remove a trim panel", 5, 10, 20},
	{"remove a seat", 10, 20, 40},
	{"remove a dash part", 20, 45, 120},
	{"under the vehicle, on stands", 8, 15, 25},
	{LoadLampOn, 1, 2, 4},
	{"load lamp at a back-probe", 3, 5, 8},
	{"drop test, both ends near", 2, 3, 6},
	{"drop test, long lead", 4, 7, 12},
	{ClampOn, 1, 2, 5},
	{"scope, two channels", 5, 10, 20},
	{DragTest, 3, 5, 10},
	{"drag test, a further pin", 0.3, 0.5, 1},
	{OpenLoom, 15, 30, 90},
	{"wiggle test, one section", 3, 6, 15},
	{"heat, cold or mist test", 5, 10, 25},
	{"wait for sleep", 5, 20, 60},
	{"replace a terminal", 8, 15, 30},
	{"clean a ground stud", 8, 15, 30},
	{"new crimp splice", 8, 12, 25},
	{"overlay wire, short", 20, 35, 60},
	{"overlay wire, through the bulkhead", 45, 90, 180},
	{"new battery lug or cable", 15, 30, 60},
	{"clean battery posts", 8, 12, 18},
	{"change a starter", 35, 60, 150},
	{"fit a module", 10, 30, 90},
	{"program a module", 15, 45, 120},
	{"new fuse-box cavity or in-line holder", 15, 30, 60},
	{"road test", 8, 15, 30},
	{"report with numbers", 10, 20, 40},
}

// Minutes is what an act usually takes. An act that is not in the table is the caller's mistake.
func Minutes(act string) float64 {
	i := slices.IndexFunc(acts, func(a Act) bool { return a.Name == act })
	if i < 0 {
		panic("catalog: there is no act " + act)
	}
	return acts[i].Central
}
