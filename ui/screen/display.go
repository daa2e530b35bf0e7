package screen

// This file says whether there is a display to open a window on.

import (
	"errors"
	"os"
	"runtime"
)

// ErrNoWindow is the error of a window that could not be opened.
var ErrNoWindow = errors.New("the window could not be opened")

// HasDisplay reports whether a window can probably be opened.
func HasDisplay() bool {
	switch runtime.GOOS {
	case "windows", "darwin":
		return true
	}
	return os.Getenv("DISPLAY") != ""
}
