package report

// This file holds the picture to its rules: every step named, no word over another or on a line, readable colours, and
// no meaning in hue alone.

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"underload/sim/meter"
	"underload/ui/stairs"
)

var update = flag.Bool("update", false, "write the picture of the front page anew")

const frontPage = "testdata/orchard-sprayer-load-lamp.svg"

func TestFrontPage(t *testing.T) {
	page := sprayer(t, lampAtController, "PC1", "C14.4 spread 1.8 ohm")
	page.Setting = "load-lamp, red on PC1.1, black on PC1.8; KEY=run; PC1 apart; laid over it: C14.4 spread 1.8 ohm"
	var got bytes.Buffer
	if err := Draw(&got, page); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(frontPage, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(frontPage)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("the picture is no longer %s; look at both, and renew it with go test ./ui/report -update", frontPage)
	}
	if files, _ := filepath.Glob("testdata/*.svg"); len(files) != 1 {
		t.Errorf("testdata holds %d pictures; one is used", len(files))
	}
}

// A part at rest is no light test, and is not called one.
func TestAtRestIsNoLightTest(t *testing.T) {
	for name, c := range map[string]struct {
		page      Page
		want, not string
	}{
		"lamp": {sprayer(t, lampAtController, "PC1", "C14.4 spread 1.8 ohm"), "light test: ", "at rest"},
		"part": {sprayer(t, meter.StairsRequest{Part: "PC1"}, "", "C14.4 spread 1.8 ohm"), "with PC1 at rest: ", "light test"},
	} {
		var got bytes.Buffer
		if err := Draw(&got, c.page); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(got.String(), c.want); n != 2 || strings.Contains(got.String(), c.not) { // legend and bracket
			t.Errorf("%s: %q stands there %d times, want it in the legend and at the bracket, and no %q", name, c.want, n, c.not)
		}
	}
}

// An open joint is called open; what a resistance loses is told with its ohms.
func TestWordsAtTheCliff(t *testing.T) {
	for fault, want := range map[string][]string{
		"C14.4 open":           {"C14.4 is open", "stand across it,", "no current passes"},
		"C14.4 spread 1.8 ohm": {"C14.4 loses", "mΩ at", "healthy: "},
	} {
		var got bytes.Buffer
		if err := Draw(&got, sprayer(t, lampAtController, "PC1", fault)); err != nil {
			t.Fatal(err)
		}
		for _, words := range want {
			if !strings.Contains(got.String(), words) {
				t.Errorf("%s: no %q in the picture", fault, words)
			}
		}
	}
}

// What no voltmeter shows is not told in figures.
func TestLightLoss(t *testing.T) {
	for lost, want := range map[string]string{"1.1e-13": "nothing shows", "-9e-5": "nothing shows", "5.4e-4": "540\u00a0µV", "0.45": "450\u00a0mV", "3": "3.0\u00a0V"} {
		volts, err := strconv.ParseFloat(lost, 64)
		if err != nil {
			t.Fatal(err)
		}
		if got := lightLoss(volts); got != want {
			t.Errorf("%s V: %q, want %q", lost, got, want)
		}
	}
}

// eachPage visits the example in its states and every made-up shape.
func eachPage(t *testing.T, visit func(t *testing.T, p Page)) {
	t.Helper()
	own := meter.StairsRequest{Part: "PC1"}
	pages := map[string]Page{
		"sprayer-lamp":    sprayer(t, lampAtController, "PC1", "C14.4 spread 1.8 ohm"),
		"sprayer-part":    sprayer(t, own, "", "C14.4 spread 1.8 ohm"),
		"sprayer-cycling": sprayer(t, own, "", "C14.4 spread 6 ohm"),
		"sprayer-open":    sprayer(t, own, "", "W7 open"),
		"sprayer-sound":   sprayer(t, own, "", ""),
	}
	for _, sh := range shapes {
		pages[sh.name] = sh.page()
	}
	for name, p := range pages {
		t.Run(name, func(t *testing.T) { visit(t, p) })
	}
}

func TestWordsStandFree(t *testing.T) {
	eachPage(t, func(t *testing.T, p Page) {
		d := draw(p)
		if len(d.labels) < 20 {
			t.Fatalf("only %d labels", len(d.labels))
		}
		for i, a := range d.labels {
			if a.X < 0 || a.Y < 0 || a.X+a.W > d.w || a.Y+a.H > d.h {
				t.Errorf("%q stands outside the page: %v of %g × %g", a.text, a.Box, d.w, d.h)
			}
			for _, b := range d.labels[i+1:] {
				if a.Overlaps(b.Box) {
					t.Errorf("%q %v and %q %v overlap", a.text, a.Box, b.text, b.Box)
				}
			}
		}
	})
}

func TestEveryStepIsNamed(t *testing.T) {
	eachPage(t, func(t *testing.T, p Page) {
		d := draw(p)
		var steps []meter.Step
		for _, c := range d.columns {
			steps = append(steps, c.Steps...)
			for _, name := range names(c) {
				name = shorten(name, nameSize, true, c.W-8)
				if !slices.ContainsFunc(d.labels, func(l label) bool {
					return l.text == name && math.Abs(l.X+l.W/2-(c.X+c.W/2)) < 0.1
				}) {
					t.Errorf("%q does not stand at its column", name)
				}
			}
		}
		if !slices.Equal(steps, p.Stairs.Steps) {
			t.Error("the columns are not the steps of the path in their order")
		}
	})
}

func TestFolding(t *testing.T) {
	eachPage(t, func(t *testing.T, p Page) {
		columns, width := setColumns(p.Stairs)
		end := leftMargin
		for _, c := range columns {
			if math.Abs(c.X-end) > 1e-6 || c.W < narrowest-1e-6 {
				t.Errorf("the column at %g is %g wide, the last one ends at %g", c.X, c.W, end)
			}
			end = c.X + c.W
			if !c.Folded() {
				continue
			}
			for _, s := range c.Steps {
				if s.Load || s.Worst || s.UnderLoad.Lost >= stairs.FoldBelowVolts || s.Light.Lost >= stairs.FoldBelowVolts {
					t.Errorf("%s is folded away", s.Place)
				}
			}
		}
		if math.Abs(end+rightMargin-width) > 1e-6 {
			t.Errorf("the columns end at %g of %g", end, width)
		}
		if width > widePage && stairs.CanFold(columns) {
			t.Errorf("the page is %g wide, and more could be folded", width)
		}
		if len(columns) == len(p.Stairs.Steps) && len(columns) < 12 && width > widePage {
			t.Errorf("%d columns take %g", len(columns), width)
		}
	})
}

// element is what the tests read back out of a picture.
type element struct {
	name string
	at   map[string]string
}

func parsed(t *testing.T, svg string) []element {
	t.Helper()
	var all []element
	decoder := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			return all
		}
		if err != nil {
			t.Fatalf("this is no XML: %v", err)
		}
		if start, ok := token.(xml.StartElement); ok {
			e := element{start.Name.Local, map[string]string{}}
			for _, a := range start.Attr {
				e.at[a.Name.Local] = a.Value
			}
			all = append(all, e)
		}
	}
}

// lines are the polylines of one colour.
func lines(t *testing.T, all []element, stroke string) (found [][]stairs.Spot, how []map[string]string) {
	t.Helper()
	for _, e := range all {
		if e.name != "polyline" || e.at["stroke"] != stroke {
			continue
		}
		var spots []stairs.Spot
		for pair := range strings.FieldsSeq(e.at["points"]) {
			x, y, _ := strings.Cut(pair, ",")
			px, err1 := strconv.ParseFloat(x, 64)
			py, err2 := strconv.ParseFloat(y, 64)
			if err1 != nil || err2 != nil {
				t.Fatalf("%q is no place", pair)
			}
			spots = append(spots, stairs.At(px, py))
		}
		found, how = append(found, spots), append(how, e.at)
	}
	return found, how
}

// The words at the cliff stand on no trace, and the light test is told from the load by its dashes.
func TestTraces(t *testing.T) {
	eachPage(t, func(t *testing.T, p Page) {
		d := draw(p)
		all := parsed(t, d.String())
		load, loadHow := lines(t, all, loadInk)
		light, lightHow := lines(t, all, lightInk)
		if len(load) < 2 || len(light) < 2 {
			t.Fatalf("%d pieces of the load trace, %d of the light trace", len(load), len(light))
		}
		for _, at := range loadHow {
			if at["stroke-dasharray"] != "" {
				t.Error("the load trace is dashed")
			}
		}
		for _, at := range lightHow {
			if at["stroke-dasharray"] == "" {
				t.Error("the light trace is not dashed")
			}
		}
		if p.Stairs.Worst() == nil {
			return
		}
		marked := false
		for _, l := range d.labels {
			if l.text == strings.TrimSpace(l.text) && (strings.HasPrefix(l.text, p.Stairs.Worst().Place+" loses") || strings.HasPrefix(l.text, p.Stairs.Worst().Place+" is open")) {
				marked = true
				if n := piecesIn(l.Box, append(slices.Clone(load), light...)); n > 0 {
					t.Errorf("%q stands on %d pieces of the traces", l.text, n)
				}
			}
		}
		if !marked {
			t.Error("the worst step has no words of its own")
		}
	})
}

// The trace's height is the step's volts: read back from the picture with the scale of its own axis.
func TestTraceReadsBack(t *testing.T) {
	p := sprayer(t, lampAtController, "PC1", "C14.4 spread 1.8 ohm")
	d := draw(p)
	var zero, twelve float64
	for _, l := range d.labels {
		switch l.text {
		case "0\u00a0V":
			zero = l.Y + l.H/2
		case "12\u00a0V":
			twelve = l.Y + l.H/2
		}
	}
	load, _ := lines(t, parsed(t, d.String()), loadInk)
	whole := load[0]
	last := whole[len(whole)-1]
	perVolt := (zero - twelve) / 12
	read := func(y float64) float64 { return (zero-y)/perVolt + (last.Y-zero)/perVolt } // the path ends at 0 V
	for _, c := range d.columns {
		want := c.Level(stairs.LoadPass).Volts
		i := len(whole) - 1
		for whole[i].X > c.X+c.W+0.06 {
			i--
		}
		if got := read(whole[i].Y); math.Abs(got-want) > 0.02 {
			t.Errorf("behind %s the trace reads %.3f V, the step has %.3f V", c.Steps[0].Place, got, want)
		}
	}
}

// luminance is the relative luminance of WCAG 2.2 (W3C), from which its contrast ratio is made.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	linear := func(c uint64) float64 {
		s := float64(c) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(v>>16&255) + 0.7152*linear(v>>8&255) + 0.0722*linear(v&255)
}

// Words are readable on whatever they stand on: 4.5:1 is level AA of WCAG 2.2, success criterion 1.4.3; lines that
// carry meaning want 3:1, criterion 1.4.11.
func TestContrast(t *testing.T) {
	ratio := func(a, b string) float64 {
		x, y := luminance(t, a), luminance(t, b)
		return (max(x, y) + 0.05) / (min(x, y) + 0.05)
	}
	if r := ratio("#FFFFFF", "#000000"); math.Abs(r-21) > 1e-9 { // the standard's own example
		t.Fatalf("black on white is %g:1", r)
	}
	for _, words := range []string{ink, ink2, alert, loadInk, lightInk} {
		for _, under := range []string{paper, panel, alertGround} {
			if r := ratio(words, under); r < 4.5 {
				t.Errorf("words %s on %s: %.2f:1", words, under, r)
			}
		}
	}
	for _, line := range []string{loadInk, lightInk, alert} {
		for _, under := range []string{panel, loadGround, band} {
			if r := ratio(line, under); r < 3 {
				t.Errorf("a line %s on %s: %.2f:1", line, under, r)
			}
		}
	}
}

func TestFigures(t *testing.T) {
	level := func(lost, amps, ohms float64) meter.Level { return meter.Level{Lost: lost, Amps: amps, Ohms: ohms} }
	for _, row := range []struct {
		level     meter.Level
		mV, mOhms string
	}{
		{level(5.551, 3.08, 1.801), "5\u202f551", "1\u202f801"},
		{level(0.0092, 3.08, 0.003), "9", "3.0"},
		{level(0.0004, 3.08, 0.00013), "<1", "0.13"},
		{level(-0.0124, 3.08, 0.015), "−12", "15"},
		{level(0, 0, 0), "0", NotTaken},
		{level(12.6, 0, 0), "12\u202f600", "open"},
		{meter.Level{Missing: true}, NotTaken, NotTaken},
	} {
		if got := Millivolts(row.level); got != row.mV {
			t.Errorf("%+v: %q mV, want %q", row.level, got, row.mV)
		}
		if got := Milliohms(row.level); got != row.mOhms {
			t.Errorf("%+v: %q mΩ, want %q", row.level, got, row.mOhms)
		}
	}
}

func TestBars(t *testing.T) {
	p := shape{name: "thirty", steps: 30, load: 15, bad: 22, badOhms: 1.8, jointOhms: 0.001}.page()
	bars := Bars(p.Stairs, 9, 16)
	if len(bars) != 9 {
		t.Fatalf("%d lines", len(bars))
	}
	worst, load, last := 0, 0, 17
	for _, b := range bars {
		if b.Worst {
			worst++
		}
		if b.Load {
			load++
		}
		if n := len([]rune(b.LoadBar)); n > last {
			t.Errorf("the stairs rise at %s", b.Name)
		} else {
			last = n
		}
	}
	if worst != 1 || load != 1 {
		t.Errorf("%d worst steps, %d loads", worst, load)
	}
	for _, row := range []struct {
		volts float64
		want  string
	}{{12.6, "████"}, {6.3, "██"}, {0, ""}, {-1, ""}, {99, "████"}, {12.6 / 32, "▏"}, {12.6 * 31 / 32, "███▉"}, {12.6 / 8, "▌"}} {
		if got := bar(row.volts, 12.6, 4); got != row.want {
			t.Errorf("%g of 12.6 V: %q, want %q", row.volts, got, row.want)
		}
	}
}

// Axis figures are round, few, and within the axis.
func TestTicks(t *testing.T) {
	for _, row := range []struct {
		from, to float64
		want     string
	}{
		{0, 13.4, "[0 3 6 9 12]"},
		{-0.3, 13.4, "[0 3 6 9 12]"},
		{-0.01, 0.42, "[0 0.1 0.2 0.3 0.4]"},
		{0, 26, "[0 10 20]"},
		{-1, 5, "[0 2 4]"},
	} {
		if got := fmt.Sprintf("%.3g", stairs.Ticks(row.from, row.to)); got != row.want {
			t.Errorf("%g to %g: %s, want %s", row.from, row.to, got, row.want)
		}
	}
}

// What a circuit file may call itself stays words, and cannot become markup.
func TestWordsAreEscaped(t *testing.T) {
	p := shapes[0].page()
	p.Title = `<script>&"'` + "\x01"
	p.Stairs.Steps[2].Place = "]]><b>"
	for _, e := range parsed(t, draw(p).String()) {
		if e.name == "script" || e.name == "b" {
			t.Errorf("<%s> got into the picture", e.name)
		}
	}
}

func FuzzDraw(f *testing.F) {
	f.Add("C14.4", "terminal", 5.5, 3.1, 0.01, 7)
	f.Add("", "", -3.0, 0.0, 1e9, 0)
	f.Fuzz(func(t *testing.T, place, says string, lost, amps, ohms float64, at int) {
		for _, v := range []float64{lost, amps, ohms} {
			if math.IsNaN(v) || math.Abs(v) > 1e9 {
				return
			}
		}
		p := shapes[1].page()
		st := &p.Stairs.Steps[(at%30+30)%30]
		st.Place, st.Says = place, says
		st.UnderLoad = meter.Level{Volts: lost, Lost: lost, Amps: amps, Ohms: ohms}
		svg := draw(p).String()
		parsed(t, svg)
		if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
			t.Error("a place is no number")
		}
	})
}
