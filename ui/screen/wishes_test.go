//go:build linux

package screen

// This file puts a program of its own in the place of the desktop's.

import (
	"os"
	"path/filepath"
	"testing"
)

func TestWishes(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("PATH", folder)
	if got := Ask(); got != (Wishes{}) {
		t.Errorf("a desktop that cannot be asked wishes %v", got)
	}
	for _, row := range []struct {
		colours, moves string
		want           Wishes
	}{{"'prefer-dark'", "true", Wishes{Dark: true}}, {"'default'", "false", Wishes{Still: true}}, {"'prefer-light'", "true", Wishes{}}} {
		script := "#!/bin/sh\ncase \"$3\" in\ncolor-scheme) echo \"" + row.colours + "\";;\n*) echo " + row.moves + ";;\nesac\n"
		if err := os.WriteFile(filepath.Join(folder, "gsettings"), []byte(script), 0o755); err != nil {
			t.Fatal(err)
		}
		if got := Ask(); got != row.want {
			t.Errorf("%s and %s are taken for %v", row.colours, row.moves, got)
		}
	}
}
