package command

// This file words the refusals: wrong commands, wrong flags, too many or too few arguments, each in one sentence.

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"underload/circuit/spelling"
	"underload/circuits"
)

// unknown names the nearest right word, or all of them.
func unknown(what, word string, known []string) error {
	if near, ok := spelling.Nearest(word, known); ok {
		return fmt.Errorf("there is no %s %q: did you mean %s?", what, word, near)
	}
	return fmt.Errorf("there is no %s %q: it is one of %s", what, word, strings.Join(known, ", "))
}

func commandNames(root *cobra.Command) []string {
	var names []string
	for _, c := range root.Commands() {
		if !c.Hidden {
			names = append(names, c.Name())
		}
	}
	return names
}

// noSuchCommand refuses whatever follows the program's name and is no command.
func noSuchCommand(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	if isCircuit(args[0]) {
		return fmt.Errorf("%q is a circuit, and what to do with it is missing: underload view %s opens it on the bench, underload check %s looks for mistakes in it", args[0], args[0], args[0])
	}
	return unknown("command", args[0], commandNames(root))
}

// isCircuit reports whether a word is a circuit file or the name of an example.
func isCircuit(word string) bool {
	ending := strings.ToLower(filepath.Ext(word))
	return ending == ".yaml" || ending == ".yml" || slices.Contains(circuits.Names(), word)
}

// flagError words what is wrong with a flag.
func flagError(cmd *cobra.Command, err error) error {
	if args := cmd.Flags().Args(); cmd == cmd.Root() && len(args) > 0 {
		return noSuchCommand(cmd, args) // the command is wrong before its flags are
	}
	var absent *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var bad *pflag.InvalidValueError
	switch {
	case errors.As(err, &absent):
		name := "--" + absent.GetSpecifiedName()
		if letters := absent.GetSpecifiedShortnames(); letters != "" {
			name = "-" + letters
		}
		return noSuchFlag(cmd, name)
	case errors.As(err, &bare):
		return fmt.Errorf("--%s wants something after it: --%s %s", bare.GetFlag().Name, bare.GetFlag().Name, bare.GetFlag().Value.Type())
	case errors.As(err, &bad):
		return fmt.Errorf("--%s cannot be %q", bad.GetFlag().Name, bad.GetValue())
	}
	return err
}

func noSuchFlag(cmd *cobra.Command, name string) error {
	var known []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, "--"+f.Name) })
	if near, ok := spelling.Nearest(name, known); ok {
		return fmt.Errorf("%s has no flag %s: did you mean %s?", cmd.Name(), name, near)
	}
	return fmt.Errorf("%s has no flag %s: it has %s", cmd.Name(), name, strings.Join(known, ", "))
}

// exactly wants these arguments and no others.
func exactly(names ...string) cobra.PositionalArgs { return between(len(names), names...) }

// between wants at least so many of these arguments, in order.
func between(least int, names ...string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return fmt.Errorf("%s wants %s: underload %s", cmd.Name(), names[len(args)], cmd.Use)
		case len(args) > len(names):
			return fmt.Errorf("%s does not know what to do with %q: underload %s", cmd.Name(), args[len(names)], cmd.Use)
		}
		return nil
	}
}
