package solver_test

// This file shows how a network is built, solved and changed.

import (
	"fmt"

	"underload/solver"
	"underload/solver/device"
)

// A lamp behind a sound contact, then behind a bad one, which a small test lamp in
// the same place hardly notices.
func Example() {
	n := solver.NewNetwork()
	supply, socket := n.AddNode(), n.AddNode()
	n.AddSource(solver.Ground, supply, 12.6, 0.02)
	contact := n.AddResistor(supply, socket, 0.005)
	lamp := n.AddDevice(socket, solver.Ground, device.Filament{RatedVolts: 12, RatedWatts: 55})

	var s solver.Solution
	show := func(what string) {
		if err := n.Solve(&s); err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %.2f V, %.2f A\n", what, s.Volts(socket), s.Amps(lamp))
	}
	show("sound contact")
	n.SetOhms(contact, 1.5)
	show("bad contact")
	n.SetLaw(lamp, device.Filament{RatedVolts: 12, RatedWatts: 1.2})
	show("bad contact, test lamp")
	// Output:
	// sound contact: 12.48 V, 4.68 A
	// bad contact: 7.25 V, 3.52 A
	// bad contact, test lamp: 12.45 V, 0.10 A
}
