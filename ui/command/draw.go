package command

// This file is draw: a circuit as a wiring diagram.

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"underload/ui/drawing"
)

func drawCommand(p *page) *cobra.Command {
	var picture string
	size := "1072x516"
	var dark bool
	var sheet int
	cmd := &cobra.Command{
		Use: "draw FILE [flags]", Short: "Draw a circuit as a wiring diagram",
		Long: paragraphs(
			"Lays a circuit out as a wiring diagram, by itself, and writes it as SVG. Current runs down: battery plus at the top, the frame at the bottom. A wire is as its insulation is. Where a circuit is too wide for the size asked for, it goes on sheets; flags tell where a line goes on. A part whose place in the file ends in left of F9, or right of it, is moved there. FILE may be the bare name of an example."),
		Example: "  underload draw orchard-sprayer --svg sprayer.svg\n  underload draw donor-bus --size 680x400 --sheet 2 --dark > bus.svg",
		Args:    exactly("FILE"), ValidArgsFunction: completeFile(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := checkPicture(picture); err != nil {
				return err
			}
			width, height, err := sizeOf(size)
			if err != nil {
				return err
			}
			c, err := open(args[0])
			if err != nil {
				return err
			}
			l := drawing.Lay(c, drawing.Options{Width: width, Height: height}, nil)
			if sheet < 0 || sheet > len(l.Sheets) {
				return fmt.Errorf("--sheet %d: the drawing has %s; 0 is all of it on one strip", sheet, counted(len(l.Sheets), "sheet"))
			}
			if !cmd.Flags().Changed("sheet") && len(l.Sheets) == 1 {
				sheet = 1
			}
			show := drawing.Showing{}
			if dark {
				show.Theme = drawing.Dark
			}
			draw := func(w io.Writer) error { return l.WriteSVG(w, show, sheet) }
			if picture == "" {
				return draw(p)
			}
			if err := saveSVG(picture, draw); err != nil {
				return err
			}
			p.say("The drawing is in %s: %s.", picture, counted(len(l.Sheets), "sheet"))
			if bare := l.Unlabelled(); len(bare) > 0 {
				p.say("There was no room for the words of %s: %s.", counted(len(bare), "wire"), strings.Join(bare, ", "))
			}
			return nil
		},
	}
	cmd.Flags().Var(word{&picture, "OUT.svg"}, "svg", "write the drawing into this file")
	cmd.Flags().Var(word{&size, "WxH"}, "size", "px of a sheet")
	cmd.Flags().BoolVar(&dark, "dark", false, "light lines on a dark ground")
	cmd.Flags().IntVar(&sheet, "sheet", 0, "only this sheet, from 1; 0: all on one strip")
	return cmd
}

// Sizes that a drawing can have, px.
const leastSide, mostSide = 320, 8000

// sizeOf reads 1072x516.
func sizeOf(text string) (width, height float64, err error) {
	w, h, _ := strings.Cut(text, "x")
	wide, wrong1 := strconv.Atoi(w)
	high, wrong2 := strconv.Atoi(h)
	if wrong1 != nil || wrong2 != nil || min(wide, high) < leastSide || max(wide, high) > mostSide {
		return 0, 0, fmt.Errorf("--size %s: a size is width x height in px like 1072x516, each from %d to %d", text, leastSide, mostSide)
	}
	return float64(wide), float64(high), nil
}

// saveSVG writes a picture into a file, which is never there by half.
func saveSVG(name string, draw func(io.Writer) error) error {
	var drawn bytes.Buffer
	if err := draw(&drawn); err != nil {
		return err
	}
	return savedAs(name, drawn.Bytes())
}
