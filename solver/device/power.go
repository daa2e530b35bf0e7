package device

// This file holds the load that draws constant power.

// kneeShare is half the width of the rounded knee, as a share of KneeVolts.
const kneeShare = 0.015

// ConstantPower draws Watts at any voltage above the knee, as an electronic load
// behind a switching regulator does, so its current falls as the voltage rises.
// Below the knee it is the resistance that draws the same power at the knee. The
// knee is rounded over 1.5 percent to both sides. Reversed, it does the same.
type ConstantPower struct {
	Watts, KneeVolts float64
}

// Check reports the first parameter that makes no load.
func (p ConstantPower) Check() error {
	return first(
		positive("constant power", "Watts", p.Watts),
		positive("constant power", "KneeVolts", p.KneeVolts),
	)
}

// At returns the load's amps and their slope in siemens.
func (p ConstantPower) At(volts float64) (amps, siemens float64) {
	if volts < 0 {
		amps, siemens = p.At(-volts)
		return -amps, siemens
	}
	low, high := p.KneeVolts*(1-kneeShare), p.KneeVolts*(1+kneeShare)
	ohmic := p.Watts / (p.KneeVolts * p.KneeVolts)
	switch {
	case volts <= low:
		return ohmic * volts, ohmic
	case volts >= high:
		amps = p.Watts / volts
		return amps, -amps / volts
	}
	top := p.Watts / high
	return hermite(volts-low, high-low, ohmic*low, ohmic, top, -top/high)
}

// Limit lets every step through: limiting this law makes an iteration hop about
// where there is no upper operating point.
func (p ConstantPower) Limit(_, to float64) float64 { return to }
