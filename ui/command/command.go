// Package command is the command line: one file a subcommand.
package command

// This file is the root of the command tree and the one place where a run begins, writes and ends.

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
)

// What a run ends with.
const (
	done    = 0
	faulty  = 1 // check found something wrong with a file, or diff a difference
	refused = 2 // the run was asked for something that cannot be done

	interruptedStatus = 130 // Ctrl+C ended a trace; what there was by then is told (128 and the signal's number, as shells have it)
)

// Streams are what a run reads and where it writes.
type Streams struct {
	In       io.Reader // what a person types; nil: nothing
	Out, Err io.Writer
	Colour   bool // Out shows colours
	Braille  bool // Out shows patterns of dots
	Terminal bool // Out is a terminal
	Display  bool // a window can be opened

	ErrTerminal bool             // Err is a terminal, so that it can be told how far a long run is
	Now         func() time.Time // the clock; nil: there is none
	Interrupt   context.Context  // ends a run in time before its end; nil: Ctrl+C does
}

// showsColour reports whether a file is a terminal whose user has not asked for plain text (NO_COLOR, TERM=dumb).
func showsColour(f *os.File) bool {
	if os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return false
	}
	return isTerminal(f)
}

// showsBraille reports whether a file is a terminal that has patterns of dots: its letters are Unicode, and it is not the
// bare console, whose font has none.
func showsBraille(f *os.File) bool {
	letters := os.Getenv("LC_ALL")
	for _, name := range []string{"LC_CTYPE", "LANG"} {
		if letters == "" {
			letters = os.Getenv(name)
		}
	}
	letters = strings.ToLower(letters)
	term := os.Getenv("TERM")
	return isTerminal(f) && (strings.Contains(letters, "utf-8") || strings.Contains(letters, "utf8")) && term != "dumb" && term != "linux"
}

func isTerminal(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// errFaulty ends check with its status after it has said what is wrong.
var errFaulty = errors.New("a file is faulty")

// Run runs the program in this process and gives its exit status. What a command writes is held back until it has
// succeeded, so that a refused run leaves nothing on Out.
func Run(args []string, to Streams) int {
	held := &bytes.Buffer{}
	root := tree(&page{held, to.Colour}, to)
	root.SetArgs(append([]string{}, args...)) // never nil, for which cobra would take the process's own
	if to.In == nil {
		to.In = bytes.NewReader(nil)
	}
	root.SetIn(to.In)
	root.SetOut(held)
	root.SetErr(to.Err)
	err := root.Execute()
	if err != nil && !errors.Is(err, errFaulty) && !errors.Is(err, errStopped) {
		fmt.Fprintf(to.Err, "underload: %v\n", err)
		return refused
	}
	switch _, wrong := to.Out.Write(held.Bytes()); {
	case errors.Is(wrong, syscall.EPIPE): // the reader has seen enough
	case wrong != nil:
		fmt.Fprintf(to.Err, "underload: cannot write: %v\n", wrong)
		return refused
	}
	switch {
	case errors.Is(err, errStopped):
		return interruptedStatus
	case err != nil:
		return faulty
	}
	return done
}

var about = paragraphs(
	"underload puts a vehicle circuit on a bench and lets you probe it before you touch the vehicle. It shows the joint that passes a light test and fails under load.",
	"FILE is a circuit file. The bare name of an example that comes with the program (underload example lists them) does as well, where there is no file of that name. Without a command it opens the bench: in a window where there is a display, otherwise in a browser; where its words go into a file or a pipe it tells the story of the orchard sprayer, whose controller is silent though a light test said \"good\".",
	"It is a help to thinking. The vehicle maker's procedure, local law and licensed practice come first.")

// tree builds the commands, all writing on one page; those that stay open write to the surroundings themselves.
func tree(p *page, surroundings Streams) *cobra.Command {
	cobra.MousetrapHelpText = "" // a double click may start it too
	root := &cobra.Command{
		Use: "underload", Short: "Probe a vehicle circuit before you touch the vehicle", Long: about,
		Args: noSuchCommand,
		RunE: func(*cobra.Command, []string) error { return noCommand(p, surroundings) },

		SilenceErrors: true, SilenceUsage: true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
	}
	root.SetFlagErrorFunc(flagError)
	root.AddGroup(&cobra.Group{ID: "bench", Title: "On the bench:"}, &cobra.Group{ID: "file", Title: "About a circuit:"},
		&cobra.Group{ID: "text", Title: "Circuit files:"}, &cobra.Group{ID: "program", Title: "About the program:"})
	add := func(group string, commands ...*cobra.Command) {
		for _, c := range commands {
			c.GroupID = group
			c.DisableFlagsInUseLine = true
			root.AddCommand(c)
		}
	}
	add("bench", viewCommand(surroundings), serveCommand(surroundings), probeCommand(p), staircaseCommand(p),
		traceCommand(p, surroundings))
	add("file", checkCommand(p), drawCommand(p), feedsCommand(p), pointsCommand(p), faultsCommand(p))
	add("text", fmtCommand(p), diffCommand(p), importCommand(p), exportCommand(p))
	add("program", storyCommand(p), exampleCommand(p), newCommand(p), schemaCommand(p), completionCommand(p))
	root.SetHelpCommand(helpCommand())
	root.SetHelpCommandGroupID("program")
	return root
}

// helpCommand explains a command.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use: "help [COMMAND]", Short: "Explain a command",
		ValidArgsFunction: func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return begun(commandNames(cmd.Root()), typed), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			asked, left, err := cmd.Root().Find(args)
			if err != nil || len(left) > 0 {
				return noSuchCommand(cmd.Root(), args)
			}
			return asked.Help()
		},
	}
}

// completionCommand writes what a shell needs to complete names.
func completionCommand(p *page) *cobra.Command {
	shells := []string{"bash", "zsh", "fish", "powershell"}
	return &cobra.Command{
		Use: "completion SHELL", Short: "Write the script that lets a shell complete commands, points and instruments",
		Long: paragraphs("Writes the completion script for bash, zsh, fish or powershell. In bash, for this session:",
			"  source <(underload completion bash)"),
		ValidArgs: shells,
		Args:      exactly("SHELL"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch args[0] {
			case "bash":
				return cmd.Root().GenBashCompletionV2(p, true)
			case "zsh":
				return cmd.Root().GenZshCompletion(p)
			case "fish":
				return cmd.Root().GenFishCompletion(p, true)
			case "powershell":
				return cmd.Root().GenPowerShellCompletionWithDesc(p)
			}
			return unknown("shell", args[0], shells)
		},
	}
}
