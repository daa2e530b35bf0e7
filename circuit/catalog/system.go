package catalog

// This file tells the two systems that road vehicles have: 12 V and 24 V.

const (
	twelveVolts     = 12
	twentyFourVolts = 24
	// MostTwelveVolts is more than anything of a 12 V vehicle has or is rated at.
	MostTwelveVolts = 18
)

// SystemVolts is 12 or 24: the system that volts, or rated volts, belong to.
func SystemVolts(volts float64) float64 {
	if volts > MostTwelveVolts {
		return twentyFourVolts
	}
	return twelveVolts
}
