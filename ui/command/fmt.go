package command

// This file is fmt: circuit files in one form.

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/circuit/spelling"
	"underload/circuit/tidy"
	"underload/circuits"
)

// mostRead is more than the largest file that a reader takes, so that the reader says what is too large.
const mostRead = 2_000_001

func fmtCommand(p *page) *cobra.Command {
	var onlyCheck bool
	cmd := &cobra.Command{
		Use: "fmt FILE... [--check]", Short: "Bring circuit files into one form, comments kept",
		Long: paragraphs(
			"Writes each circuit file anew in one form: sections and keys in one order, each unit in one spelling, a part on one line where it fits, a path step by step. Every comment stays beside or above what it speaks of. The circuit is the same before and after, or the file is left as it is. The files that were changed are listed.",
			"A FILE of - is read from the input, and its form goes to the output. A file with an error is refused with its errors and not changed.",
			"The exit status is 1 where a file has an error, or with --check where one would change."),
		Args: func(cmd *cobra.Command, args []string) error {
			return between(1, slices.Repeat([]string{"FILE"}, max(1, len(args)))...)(cmd, args)
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			var ended error
			for _, name := range args {
				if name == "-" && len(args) > 1 {
					return errors.New("- is the input, and its form the only thing on the output: give it alone")
				}
			}
			for _, name := range args {
				if err := tidyOne(p, cmd, name, onlyCheck); errors.Is(err, errFaulty) {
					ended = err
				} else if err != nil {
					return err
				}
			}
			return ended
		},
	}
	cmd.Flags().BoolVar(&onlyCheck, "check", false, "change nothing: list the files that would change")
	return cmd
}

// tidyOne tidies one file. What is wrong with it goes to the errors, so that the output is forms or names alone.
func tidyOne(p *page, cmd *cobra.Command, name string, onlyCheck bool) error {
	data, called, err := readList(cmd, name)
	if err != nil {
		return err
	}
	laid, err := tidy.File(called, data)
	if err != nil {
		fmt.Fprintln(cmd.ErrOrStderr(), err)
		return errFaulty
	}
	same := bytes.Equal(laid, data)
	switch {
	case onlyCheck && same:
		return nil
	case onlyCheck:
		p.say("%s", called)
		return errFaulty
	case name == "-":
		p.Write(laid)
		return nil
	case same:
		return nil
	}
	if err := rewrite(name, laid); err != nil {
		return err
	}
	p.say("%s", name)
	return nil
}

// rewrite puts text in the place of a file that is there, with the mode it has. A link goes on leading to its file; a
// file that may not be written is refused, though its folder would allow it.
func rewrite(name string, text []byte) error {
	refuse := func(err error) error {
		var trouble *fs.PathError
		if errors.As(err, &trouble) {
			err = trouble.Err
		}
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	target, err := filepath.EvalSymlinks(name)
	if err != nil {
		return refuse(err)
	}
	f, err := os.OpenFile(target, os.O_WRONLY, 0)
	if err != nil {
		return refuse(err)
	}
	info, err := f.Stat()
	f.Close()
	if err == nil {
		err = replace(target, text, info.Mode().Perm())
	}
	if err != nil {
		return refuse(err)
	}
	return nil
}

// readList reads a file, or the input where its name is -. Called is its name for messages.
func readList(cmd *cobra.Command, name string) (data []byte, called string, err error) {
	if name == "-" {
		data, err = io.ReadAll(io.LimitReader(cmd.InOrStdin(), mostRead))
		if err != nil {
			return nil, "", fmt.Errorf("the input cannot be read: %w", err)
		}
		return data, "input", nil
	}
	data, err = readWhole(name)
	return data, name, err
}

// readWhole reads a file, or as much of one as is needed to see that it is too large.
func readWhole(name string) (data []byte, err error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, circuit.Problem{File: name, Text: "there is no such file", Hint: nearestBeside(name)}
	case err == nil && !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s: is not a file", name)
	}
	f, err := os.Open(name)
	if err == nil {
		defer f.Close()
		data, err = io.ReadAll(io.LimitReader(f, mostRead))
	}
	var trouble *fs.PathError
	if errors.As(err, &trouble) {
		err = trouble.Err
	}
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", name, err)
	}
	return data, nil
}

// nearestBeside names the file that was probably meant. An example is none: it stays as it is.
func nearestBeside(name string) string {
	if slices.Contains(circuits.Names(), name) {
		return fmt.Sprintf("It is an example; take a copy: underload example %s > my.yaml", name)
	}
	var known []string
	entries, _ := os.ReadDir(filepath.Dir(name)) // a folder that cannot be listed has nothing to offer
	for _, e := range entries {
		known = append(known, filepath.Join(filepath.Dir(name), e.Name()))
	}
	if near, ok := spelling.Nearest(filepath.Clean(name), known); ok {
		return "Did you mean " + near + "?"
	}
	return ""
}
