// Package element holds two-terminal things with memory, to be put between two nodes of a network that is stepped through
// time (see package transient): what charges, turns, warms up, melts, moves or follows a profile. They know nothing of
// vehicles and nothing of networks.
//
// In every element volts is the potential of the first terminal against the second, and amps flow through the element
// from the first to the second. Sources have plus first, so their amps are negative while they deliver. Temperatures are
// in kelvin where they are states, so that no error is measured from an arbitrary zero.
//
// Parameters are exported fields; Check reports the first that makes no such thing, and with bad ones Rates gives no
// number. An element must not be changed while a run uses it. Each file names the source of its figures, or says that a
// figure is from memory, or common practice without a source.
package element
