package command

// This file is example: the circuits that come with the program, to read and to copy.

import (
	"github.com/spf13/cobra"

	"underload/circuits"
)

func exampleCommand(p *page) *cobra.Command {
	return &cobra.Command{
		Use: "example [NAME]", Short: "Write the text of an example circuit, or list the examples",
		Long: paragraphs("Writes the text of an example circuit, to read or to start your own from:",
			"  underload example orchard-sprayer > my.yaml", "Without a name it lists the examples."),
		Args: between(0, "NAME"),
		ValidArgsFunction: func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return begun(circuits.Names(), typed), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				text, err := circuits.Source(args[0])
				p.Write(text)
				return err
			}
			rows := &table{}
			for _, name := range circuits.Names() {
				c, err := circuits.Read(name)
				if err != nil {
					return err
				}
				rows.add(name, c.Title)
			}
			p.table(rows)
			return nil
		},
	}
}
