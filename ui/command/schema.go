package command

// This file is schema: what an editor needs to complete and check circuit files as one types.

import (
	"github.com/spf13/cobra"

	"underload/circuit/schema"
)

func schemaCommand(p *page) *cobra.Command {
	return &cobra.Command{
		Use: "schema", Short: "Write the JSON Schema by which an editor completes and checks circuit files",
		Long: paragraphs("Writes the JSON Schema (draft 2020-12) of circuit files. Save it beside your circuits:",
			"  underload schema > underload.schema.json",
			"and point your editor's YAML support at it, for instance by a first line in each file:",
			"  # yaml-language-server: $schema=underload.schema.json",
			"The editor then completes keys, kinds and values, explains them, and marks what is misspelt. What is wrong with a circuit as a whole, such as a part on no path, only check can tell."),
		Args: exactly(),
		RunE: func(*cobra.Command, []string) error {
			_, err := p.Write(schema.JSON())
			return err
		},
	}
}
