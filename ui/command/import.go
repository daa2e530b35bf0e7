package command

// This file is import: a circuit file out of a wire list.

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/circuit/wirelist"
)

func importCommand(p *page) *cobra.Command {
	var file string
	cmd := &cobra.Command{
		Use: "import CSV [--out FILE]", Short: "Make a circuit file of a wire list",
		Long: paragraphs(
			"Makes a circuit file of a wire list: CSV with commas, semicolons or tabs, whose first line names the columns. It needs from and to, and takes wire, colour, size, length, metal, resistance, path, from pin and to pin, by these or other usual names, in any order, with the unit in the head, as in size (mm2), or behind each value. Other columns become comments beside their wires. A CSV of - is read from the input.",
			"An end is a thing and its pin: F7.out, C14:1, K2-30. Names in common use tell what a thing is: F7 a fuse, K2 a relay, S3 or SP3 a splice, G1 or GND1 a ground, B1 or BATT a battery, C14 or X14 a connector whose cavities have wires on both sides. Of other things, and of what a list of wires never says, such as a fuse's amps, the circuit file asks in comments that begin with say; what is left to fill in is told beside it.",
			"A list that export has written gives the same circuit back."),
		Args: exactly("CSV"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"csv", "tsv", "txt"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			data, called, err := readList(cmd, args[0])
			if err != nil {
				return err
			}
			text, err := wirelist.Import(called, data)
			if err != nil {
				fmt.Fprintln(cmd.ErrOrStderr(), err)
				return errFaulty
			}
			if file != "" {
				err = keep(p, file, text)
			} else {
				p.Write(text)
				file = strings.TrimSuffix(filepath.Base(called), filepath.Ext(called)) + ".yaml"
			}
			if err == nil {
				sayLeft(cmd.ErrOrStderr(), file, text)
			}
			return err
		},
	}
	cmd.Flags().VarP(word{&file, "FILE"}, "out", "o", "the circuit file to write; it must not be there yet")
	return cmd
}

// sayLeft tells what is left to fill in, as check will tell it of the file.
func sayLeft(to io.Writer, file string, text []byte) {
	_, problems := circuit.Read(file, text)
	if len(problems) == 0 {
		return
	}
	fmt.Fprintf(to, "%s to fill in or look at:\n", counted(len(problems), "thing"))
	for _, problem := range problems {
		fmt.Fprintln(to, problem)
	}
}
