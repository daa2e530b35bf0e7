package main

// This file hands over to the bench in a browser's page, which has no command line.

import (
	"os"

	"underload/ui/seat"
)

func main() {
	os.Exit(seat.Page())
}
