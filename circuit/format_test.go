package circuit

// The page circuits/FORMAT.md and the program say the same: every kind, key, choice and default stands there, and its
// example reads.

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
)

func formatPage(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("../circuits/FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// plain is a quantity with ordinary spaces.
func plain(value float64, d quantity.Dimension) string {
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(quantity.Format(value, d, 0))
}

// keyCell is what the page says of a key: its name, bold where it must be given, and what stands where it is left out.
func keyCell(key Key) string {
	cell := "`" + key.Name + "`"
	switch {
	case key.Required:
		return "**" + cell + "**"
	case key.Form == Choice && key.DefaultText != "":
		return cell + " " + key.DefaultText + " (" + strings.Join(key.Choices, ", ") + ")"
	case key.Form == Choice:
		return cell + " (" + strings.Join(key.Choices, ", ") + ")"
	case key.DefaultText != "":
		return cell + " " + key.DefaultText
	case key.Default != 0:
		return cell + " " + plain(key.Default, key.Dimension)
	}
	return cell
}

// kindRow is the row of a kind in the page's table.
func kindRow(kind Kind) string {
	cells := make([]string, len(kind.Keys))
	for i, key := range kind.Keys {
		cells[i] = keyCell(key)
	}
	terminals := strings.Join(kind.Terminals, " ")
	if terminals == "" {
		terminals = "as listed"
	}
	return fmt.Sprintf("| `%s` | %s | %s | %s |", kind.Name, kind.Says, terminals, strings.Join(cells, ", "))
}

func TestFormatPageHasEveryKindAndKey(t *testing.T) {
	page := formatPage(t)
	if len(Kinds) < 15 {
		t.Fatalf("%d kinds", len(Kinds))
	}
	for _, kind := range Kinds {
		if row := kindRow(kind); !strings.Contains(page, row+"\n") {
			t.Errorf("the page lacks the row\n%s", row)
		}
	}
	for _, key := range CommonKeys {
		if cell := keyCell(key); key.Name != "reach" && !strings.Contains(page, cell) {
			t.Errorf("the page lacks %s", cell)
		}
	}
	for _, section := range sections {
		if !strings.Contains(page, "`"+section+"`") {
			t.Errorf("the page lacks the section %s", section)
		}
	}
	for _, rule := range Rules {
		if row := fmt.Sprintf("| `%s` | %s |", rule.Name, rule.Says); !strings.Contains(page, row+"\n") {
			t.Errorf("the page lacks the row\n%s", row)
		}
	}
	for _, caution := range catalog.Cautions() {
		if row := fmt.Sprintf("| `%s` | %s |", caution.Tag, caution.On); !strings.Contains(page, row+"\n") {
			t.Errorf("the page lacks the row\n%s", row)
		}
	}
	for _, reach := range reachNames() {
		if !strings.Contains(page, "`"+reach+"`") {
			t.Errorf("the page lacks the reach %s", reach)
		}
	}
	for _, colour := range catalog.Colours() {
		if !strings.Contains(page, colour.Code+" "+colour.Name) {
			t.Errorf("the page lacks the colour %s %s", colour.Code, colour.Name)
		}
	}
}

func TestFormatPageHasEveryDefault(t *testing.T) {
	page := formatPage(t)
	named := func(name string) catalog.TerminalSize {
		size, err := catalog.TerminalNamed(name)
		if err != nil {
			t.Fatal(err)
		}
		return size
	}
	joint := func(what string, size catalog.TerminalSize) string {
		return fmt.Sprintf("| %s | crimp %s, contact %s |", what, plain(size.CrimpOhms, quantity.Ohms), plain(size.PairOhms, quantity.Ohms))
	}
	rows := []string{
		"| `ambient` | " + plain(ambientCelsius, quantity.Celsius) + " |",
		fmt.Sprintf("| a wire | %s, %s, %s, no colour |", plain(wireAreaMM2, quantity.SquareMillimetres), plain(wireMetres, quantity.Metres), wireMetal),
		"| `stud` of a ground, ring to metal | " + plain(studOhms, quantity.Ohms) + " |",
		"| `by` of a ground, its metal on to where it goes | " + plain(bodyOhms, quantity.Ohms) + " |",
		"| `leg` of a splice, each wire | " + plain(spliceOhms, quantity.Ohms) + " |",
		"| `through` of a module's output | " + plain(outputOhms, quantity.Ohms) + " |",
		fmt.Sprintf("| `terminal size` of modules, sensors, terminators and sockets | %s |", plain(smallTerminalMM, quantity.Millimetres)),
		fmt.Sprintf("| `terminal size` of everything else | %s |", plain(mediumTerminalMM, quantity.Millimetres)),
		"| `plating` | " + platingTold + " |",
		"| `behind`, a pin's own metal | " + plain(behindOhms, quantity.Ohms) + " |",
		joint("a fuse slot, each side", named("fuse slot")),
		joint("a battery clamp", named("battery post")),
		fmt.Sprintf("| `reach` of batteries, fuses and grounds | `%s` |", batteryReach),
		fmt.Sprintf("| `reach` of splices and fusible links | `%s` |", spliceReach),
		fmt.Sprintf("| `reach` of everything else | `%s` |", partReach),
	}
	for _, name := range []string{"0.64 mm", "1.5 mm", "2.8 mm", "4.8 mm", "6.3 mm", "9.5 mm"} {
		rows = append(rows, joint("a terminal of "+name, named(name)))
	}
	for _, reach := range append(reachNames(), "") {
		for r := range reaches {
			if reaches[r].name == reach {
				rows = append(rows, fmt.Sprintf("| `%s` | %s | %g |", reach, reaches[r].says, Reach(r).Minutes()))
			}
		}
	}
	if fuseReach != batteryReach || studReach != batteryReach || fusibleReach != spliceReach || cavityReach != partReach {
		t.Error("the rows about reach no longer hold")
	}
	for _, row := range rows {
		if !strings.Contains(page, row+"\n") {
			t.Errorf("the page lacks the row\n%s", row)
		}
	}
}

// The page names where each table of the catalogue is from.
func TestFormatPageHasEverySource(t *testing.T) {
	page := formatPage(t)
	for _, table := range catalog.Tables() {
		var from []string
		for _, source := range table.Sources {
			from = append(from, source.String())
		}
		if row := fmt.Sprintf("| %s | %s |", table.Name, strings.Join(from, "; ")); !strings.Contains(page, row+"\n") {
			t.Errorf("the page lacks the row\n%s", row)
		}
	}
}

// The page's example reads without an error or a warning, and shows every section.
func TestFormatPageExample(t *testing.T) {
	blocks := strings.Split(formatPage(t), "```")
	read := 0
	for i := 1; i < len(blocks); i += 2 {
		text, isYAML := strings.CutPrefix(blocks[i], "yaml\n")
		if !isYAML || !strings.Contains(text, "underload: 1") {
			continue
		}
		read++
		c, problems := Read("FORMAT.md", []byte(text))
		if c == nil || len(problems) > 0 {
			t.Errorf("the example does not read:\n%v", problems)
		}
		for _, section := range sections {
			if !strings.Contains(text, "\n"+section+":") && !strings.HasPrefix(text, section+":") {
				t.Errorf("the example does not show %s", section)
			}
		}
	}
	if read != 1 {
		t.Errorf("%d examples were read", read)
	}
}
