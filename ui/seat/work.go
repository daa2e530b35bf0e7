//go:build !js

package seat

// This file says where work is kept.

import (
	"os"
	"path/filepath"
)

// workFolder is in the folder that the system gives programs for what belongs to a person; empty where there is none.
func workFolder() string {
	folder, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(folder, "underload", "work")
}
