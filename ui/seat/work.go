//go:build !js

package seat

// This file is what the desktop says: where work is kept, and what a person wishes of all programs.

import (
	"os"
	"path/filepath"

	"underload/ui/drawing"
	"underload/ui/screen"
)

// workFolder is in the folder that the system gives programs for what belongs to a person; empty where there is none.
func workFolder() string {
	folder, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(folder, "underload", "work")
}

// wish fits the view to the desktop.
func (s *Seat) wish() {
	w := screen.Ask()
	s.View.ReducedMotion = w.Still
	if w.Dark {
		s.View.Theme = drawing.Dark
	}
}
