//go:build !js

package screen

// This file asks the desktop whether a person wants dark colours and no motion. Each system is asked through the program
// that it brings for that; where there is none, nothing is wished.

import (
	"context"
	"os/exec"
	"runtime"
	"strings"
	"time"
)

// Wishes are what a person has told the desktop for all programs.
type Wishes struct{ Dark, Still bool }

// question is a program to run, and what it answers where the wish is there.
type question struct {
	ask    []string
	answer string
}

// questions are asked by system: of dark colours, and of no motion.
var questions = map[string]struct{ dark, still question }{
	"linux": {question{[]string{"gsettings", "get", "org.gnome.desktop.interface", "color-scheme"}, "prefer-dark"},
		question{[]string{"gsettings", "get", "org.gnome.desktop.interface", "enable-animations"}, "false"}},
	"darwin": {question{[]string{"defaults", "read", "-g", "AppleInterfaceStyle"}, "Dark"},
		question{[]string{"defaults", "read", "com.apple.universalaccess", "reduceMotion"}, "1"}},
	"windows": {question{[]string{"reg", "query", `HKCU\Software\Microsoft\Windows\CurrentVersion\Themes\Personalize`, "/v", "AppsUseLightTheme"}, "0x0"},
		question{[]string{"reg", "query", `HKCU\Control Panel\Desktop\WindowMetrics`, "/v", "MinAnimate"}, "REG_SZ    0"}},
}

// slowest is how long the desktop is waited for.
const slowest = time.Second

// Ask gives what is wished on this desktop.
func Ask() Wishes {
	ctx, cancel := context.WithTimeout(context.Background(), slowest)
	defer cancel()
	q := questions[runtime.GOOS]
	return Wishes{Dark: q.dark.yes(ctx), Still: q.still.yes(ctx)}
}

func (q question) yes(ctx context.Context) bool {
	if len(q.ask) == 0 {
		return false
	}
	said, err := exec.CommandContext(ctx, q.ask[0], q.ask[1:]...).Output()
	return err == nil && strings.Contains(string(said), q.answer)
}
