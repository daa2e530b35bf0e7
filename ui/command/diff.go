package command

// This file is diff: what differs between two circuits.

import (
	"github.com/spf13/cobra"

	"underload/circuit/compare"
)

func diffCommand(p *page) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use: "diff A B [--json]", Short: "Say what is different in circuit B",
		Long: paragraphs(
			"Says what differs between two circuits, a line each: F7 now 10 A, was 15 A. Order, comments and spelling are no differences, nor is an ordinary value that only one of the files writes out. A and B may be bare names of examples.",
			"The exit status is 0 where there is no difference, 1 where there is one, and 2 where a file cannot be read."),
		Args: exactly("A", "B"),
		ValidArgsFunction: func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
			return fileOrExample(typed)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			was, err := open(args[0])
			if err != nil {
				return err
			}
			now, err := open(args[1])
			if err != nil {
				return err
			}
			changes := compare.Circuits(was, now)
			switch {
			case asJSON:
				if changes == nil {
					changes = []compare.Change{} // an empty list, not null
				}
				if err := p.json(changes); err != nil {
					return err
				}
			case len(changes) == 0:
				p.say("no difference")
			default:
				for _, change := range changes {
					p.say("%s", change.Text)
				}
			}
			if len(changes) > 0 {
				return errFaulty
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "write the differences as JSON")
	return cmd
}
