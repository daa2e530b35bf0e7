// What an ordinary control module draws. Common practice, no source.

package catalog

// ModuleDraw is what a control module takes and needs where a file does not say.
type ModuleDraw struct {
	BootOhms      float64
	AwakeAmps     float64 // at AtVolts, as constant power
	AsleepAmps    float64
	LockedAmps    float64 // between two attempts to boot
	AtVolts       float64
	RunsAbove     float64 // volts it needs to start
	ResetsBelow   float64
	WakesAbove    float64
	InputOhms     float64
	ReferenceAmps float64 // at which its 5 V output gives way

	BootSeconds        float64 // how long a boot takes
	WaitSeconds        float64 // between a reset and the next attempt to boot
	SleepsAfterSeconds float64 // from when its last wake pin fell
	InputFarads        float64 // behind its supply pins
}

// OrdinaryModule: asleep 0.1 to 2 mA, awake 0.1 to 1.5 A are usual.
var OrdinaryModule = ModuleDraw{18, 0.65, 0.0003, 0.005, 12.5, 9, 6.5, 5, 20e3, 0.080, 0.3, 0.050, 10, 470e-6}

// TerminatorOhms ends each side of a two-wire bus (ISO 11898-2, as stated in two transceiver data sheets, read).
const TerminatorOhms = 120.0
