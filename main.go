//go:build !js

// Underload is a vehicle circuit on a bench: it can be probed there before the vehicle is touched, and shows the joint
// that passes a light test and fails under load.
package main

// This file hands over to the command line and does nothing else.

import (
	"os"

	"underload/ui/command"
)

func main() {
	os.Exit(command.Main())
}
