package command

// This file is points: every place where a lead can touch.

import (
	"github.com/spf13/cobra"
)

// pointLine is a point as JSON.
type pointLine struct {
	Name    string  `json:"name"`
	Reach   string  `json:"reach"`
	Minutes float64 `json:"minutes"`
	Says    string  `json:"says"`
}

func pointsCommand(p *page) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use: "points FILE [--json]", Short: "List every place where a lead can touch, and how to get there",
		Long: paragraphs("Lists every point of a circuit: where a lead can touch, the minutes that getting there takes (common practice), and what it is. FILE may be the bare name of an example."),
		Args: exactly("FILE"), ValidArgsFunction: completeFile(nil),
		RunE: func(_ *cobra.Command, args []string) error {
			c, err := open(args[0])
			if err != nil {
				return err
			}
			var lines []pointLine
			rows := &table{right: map[int]bool{2: true}}
			rows.add("point", "reach", "min", "what it is")
			for _, point := range c.Points() {
				lines = append(lines, pointLine{point.Name, point.Reach.String(), point.Minutes, point.Says})
				rows.add(point.Name, point.Reach.String(), plain(point.Minutes), point.Says)
			}
			if asJSON {
				return p.json(lines)
			}
			p.table(rows)
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "write the points as JSON")
	return cmd
}
