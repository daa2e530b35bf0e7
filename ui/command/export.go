package command

// This file is export: a circuit as a wire list.

import (
	"github.com/spf13/cobra"

	"underload/circuit/wirelist"
)

func exportCommand(p *page) *cobra.Command {
	return &cobra.Command{
		Use: "export FILE", Short: "Write a circuit as a wire list, for a spreadsheet",
		Long: paragraphs(
			"Writes a circuit as CSV: a row for each wire, path by path, and below that a table of what is said of each part, connector, splice, ground and terminal, and of what is accepted. Import makes the same circuit of it again; comments and the order of wires of different paths are not in it. FILE may be the bare name of an example:",
			"  underload export orchard-sprayer > wires.csv"),
		Args: exactly("FILE"), ValidArgsFunction: completeFile(nil),
		RunE: func(_ *cobra.Command, args []string) error {
			c, err := open(args[0])
			if err != nil {
				return err
			}
			list, err := wirelist.Export(c)
			p.Write(list)
			return err
		},
	}
}
