package command

// This file tells of a run: the plot, what happened, the table of extremes, and what the model is worth.

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"underload/circuit/catalog"
	"underload/circuit/quantity"
	"underload/sim/meter"
	"underload/sim/record"
	"underload/ui/plot"
)

// channelLine is what a channel did, as JSON. Nothing is rounded in it.
type channelLine struct {
	Name       string       `json:"name"`
	Unit       string       `json:"unit"`
	Words      []string     `json:"words,omitempty"`
	Resolution float64      `json:"resolution,omitempty"`
	Start      float64      `json:"start"`
	Min        float64      `json:"min"`
	MinSeconds float64      `json:"min_seconds"`
	Max        float64      `json:"max"`
	MaxSeconds float64      `json:"max_seconds"`
	End        float64      `json:"end"`
	Mean       float64      `json:"mean"`
	Hertz      *float64     `json:"hertz,omitempty"`
	Below      []belowLine  `json:"below,omitempty"`
	Meters     []minMaxLine `json:"meters,omitempty"`
}

// belowLine is how long a channel was below a level that matters.
type belowLine struct {
	Level   float64 `json:"level"`
	Says    string  `json:"says"`
	Seconds float64 `json:"seconds"` // while something fed it
	Unfed   float64 `json:"unfed_seconds"`
	Within  float64 `json:"within"`
}

// minMaxLine is what a hand-held meter would have kept, over the whole run.
type minMaxLine struct {
	ResponseSeconds float64 `json:"response_seconds"`
	Min             float64 `json:"min"`
	MinSeconds      float64 `json:"min_seconds"`
	Max             float64 `json:"max"`
	MaxSeconds      float64 `json:"max_seconds"`
}

// markLine is something done or noticed.
type markLine struct {
	Seconds float64  `json:"seconds"`
	Says    string   `json:"says"`
	Done    bool     `json:"done"`
	More    int      `json:"more,omitempty"`
	Through *float64 `json:"through,omitempty"`
}

// traceReport is a run as JSON.
type traceReport struct {
	Title     string         `json:"title"`
	Setting   string         `json:"setting"`
	Seconds   float64        `json:"seconds"` // how far time came
	Stopped   bool           `json:"stopped"` // before its end, by Ctrl+C
	From      float64        `json:"from"`    // what the channels are told of
	To        float64        `json:"to"`
	Triggered *float64       `json:"triggered,omitempty"`
	Seed      uint64         `json:"seed"`
	Rows      int            `json:"rows"`
	ThinnedTo float64        `json:"thinned_to_seconds"`
	Channels  []channelLine  `json:"channels"`
	Happened  []markLine     `json:"happened"`
	Left      *meter.Reading `json:"left_on,omitempty"` // what an instrument that is still on shows at the end
	Notes     []string       `json:"notes"`
	Cautions  []string       `json:"cautions"`
}

// window is the time that is told of: all, or what --screen shows around the trigger.
func (k *taken) window() (from, to, at float64, triggered bool) {
	from, to = k.rec.Span()
	if k.trigger == "" {
		return from, to, 0, false
	}
	if k.hang.channel >= 0 {
		at, triggered = k.rec.FirstEdge(record.Trigger{Channel: k.hang.channel, Level: k.hang.level, Slope: k.hang.slope}, from)
	} else {
		for _, m := range k.rec.Marks() {
			if strings.Contains(strings.ToLower(m.Words), strings.ToLower(k.hang.cue)) {
				at, triggered = m.Seconds, true
				break
			}
		}
	}
	if !triggered {
		return from, to, 0, false
	}
	const before = 0.25
	start := at - before*k.screenTime
	return max(from, start), min(to, start+k.screenTime), at, true
}

// supplyOf begins the name of a channel that shows a part's own volts.
const supplyOf = "supply "

// resetsBelow is said of the level below which a module resets.
const resetsBelow = "resets below"

// levels are those that matter to what is watched: where a module resets and where it runs again.
func (k *taken) levels() []plot.Level {
	var all []plot.Level
	for i, ch := range k.rec.Channels() {
		name, ok := strings.CutPrefix(ch.Name, supplyOf)
		p := k.circuit.Part(name)
		if !ok || p == nil || p.Kind.Name != "module" {
			continue
		}
		all = append(all, plot.Level{Channel: i, Value: p.Value("resets below"), Words: resetsBelow})
		all = append(all, plot.Level{Channel: i, Value: p.Value("runs above"), Words: "runs above"})
	}
	return all
}

// displays sets how finely each channel is shown: a count of the meter that would show it in the range it would pick.
func (k *taken) displays() {
	from, to, _, _ := k.window()
	for i, ch := range k.rec.Channels() {
		m, ok := k.rec.Measure(i, from, to)
		if !ok || len(ch.Words) > 0 {
			continue
		}
		most := max(math.Abs(m.Min), math.Abs(m.Max))
		switch ch.Unit {
		case "V":
			k.rec.Display(i, count(catalog.Voltmeter, most))
			if strings.HasPrefix(ch.Name, supplyOf) { // of what is left on a module that nothing feeds no fraction matters
				k.rec.Display(i, max(leastSupplyCount, count(catalog.Voltmeter, most)))
			}
		case "A":
			k.rec.Display(i, count(catalog.Ammeter, most))
			if most > catalog.Ammeter.Ranges[len(catalog.Ammeter.Ranges)-1].FullScale {
				k.rec.Display(i, count(catalog.Clamp, most))
			}
		default:
			k.rec.Display(i, 1)
		}
	}
}

// leastSupplyCount is how finely a module's supply is shown at most, in volts.
const leastSupplyCount = 0.001

// count is one count of a meter in the range that holds a value.
func count(m catalog.Meter, value float64) float64 {
	for _, r := range m.Ranges {
		if value <= r.FullScale {
			return r.Resolution
		}
	}
	return m.Ranges[len(m.Ranges)-1].Resolution
}

// setting tells in a line what was done.
func (k *taken) setting() string {
	told := stated(k.state)
	for _, d := range k.dos {
		told = append(told, fmt.Sprintf("%s at %s", d.act, d.when))
	}
	if len(told) == 0 {
		told = []string{"nothing is done to it"}
	}
	return strings.Join(told, "; ")
}

// page is what is drawn.
func (k *taken) page() plot.Page {
	k.displays()
	from, to, _, _ := k.window()
	return plot.Page{Title: title(k.circuit), Setting: k.setting(), Recording: k.rec, From: from, To: to, Levels: k.levels(), Notes: k.notes()}
}

func (k *taken) picture(w io.Writer) error { return plot.DrawSVG(w, k.page()) }

// notes say what the run is worth.
func (k *taken) notes() []string {
	var told []string
	from, to, at, triggered := k.window()
	length := k.run.Seconds()
	switch {
	case triggered:
		told = append(told, fmt.Sprintf("Triggered at %s: shown is what lies from %s to %s of %s.", plot.Time(at, to-from), plot.Time(from, to-from), plot.Time(to, to-from), written(k.untilSeconds)))
	case k.trigger != "":
		told = append(told, fmt.Sprintf("Nothing triggered: %q did not happen. The whole run is shown.", k.trigger))
	}
	if k.stopped {
		told = append(told, fmt.Sprintf("Stopped after %s of %s.", plot.Time(length, k.untilSeconds), written(k.untilSeconds)))
	}
	if w := k.rec.Width(); w > 0 {
		told = append(told, fmt.Sprintf("More happened than there is room for: of every %s only the ends and each channel's smallest and largest value are kept.", plot.Time(w, w)))
	}
	return append(told, "This is computed, not measured. In time, parts behave here as ordinary ones of their kind do: a battery's sag, a starter's pull, a fuse's melting, a module's start. Yours may differ. "+
		"What is watched is not loaded by it. It is a help to thinking; the maker's procedure comes first.")
}

// cautions are those of the circuit, of what is watched and done, and of what the circuit does at rest after each act.
func (k *taken) cautions() []string {
	named := k.named()
	tags := meter.TagsAt(k.bench, named)
	if len(k.circuit.OfKind("battery")) > 0 {
		tags = append(tags, catalog.TagBattery)
	}
	b, err := k.bench.Clone()
	for _, d := range k.dos {
		if err == nil && strings.Contains(d.act, "=") && b.Set(d.act) == nil {
			tags = append(tags, meter.TagsAt(b, nil)...)
		}
	}
	return meter.CautionsOf(tags)
}

// named are the parts and connectors that are watched, or that something is done to.
func (k *taken) named() []string {
	words := strings.FieldsFunc(k.setting()+" "+strings.Join(k.watches, " "), func(r rune) bool { return strings.ContainsRune(" =.;,", r) })
	var names []string
	for _, word := range words {
		if k.circuit.Part(word) != nil || k.circuit.Connector(word) != nil {
			names = append(names, word)
		}
	}
	return names
}

// report is the run as JSON.
func (k *taken) report() traceReport {
	k.displays()
	from, to, at, triggered := k.window()
	r := traceReport{Title: title(k.circuit), Setting: k.setting(), Seconds: k.run.Seconds(), Stopped: k.stopped, From: from, To: to, Seed: k.seed,
		Rows: k.rec.Rows(), ThinnedTo: k.rec.Width(), Happened: []markLine{}, Notes: k.notes(), Cautions: k.cautions()}
	if triggered {
		r.Triggered = &at
	}
	if k.moving != nil {
		shown := k.moving.Reading()
		r.Left = &shown
	}
	for i, ch := range k.rec.Channels() {
		m, _ := k.rec.Measure(i, from, to)
		line := channelLine{Name: ch.Name, Unit: ch.Unit, Words: ch.Words, Resolution: ch.Resolution, Start: m.Start, Min: m.Min, MinSeconds: m.MinSeconds,
			Max: m.Max, MaxSeconds: m.MaxSeconds, End: m.End, Mean: m.Mean}
		if b, ok := k.beat(i, from, to); ok {
			hertz := b.Hertz()
			line.Hertz = &hertz
		}
		for _, l := range k.levels() {
			if l.Channel == i {
				below, unfed, within := k.below(l, from, to)
				line.Below = append(line.Below, belowLine{l.Value, l.Words, below, unfed, within})
			}
		}
		line.Meters = k.kept(i)
		r.Channels = append(r.Channels, line)
	}
	for _, m := range k.rec.Marks() {
		line := markLine{Seconds: m.Seconds, Says: m.Words, Done: m.Done, More: m.More}
		if m.More > 0 {
			line.Through = &m.Through
		}
		r.Happened = append(r.Happened, line)
	}
	return r
}

// kept is what the hand-held meters kept of a channel.
func (k *taken) kept(channel int) []minMaxLine {
	if len(k.meters) == 0 || k.rec.Channels()[channel].Unit != "V" {
		return nil
	}
	var lines []minMaxLine
	for _, m := range k.meters[channel] {
		if low, high, _, ok := m.Shows(); ok {
			lines = append(lines, minMaxLine{m.Response(), low.Value, low.Seconds, high.Value, high.Seconds})
		}
	}
	return lines
}

// leastPeriods is how often something has to come back before it is called a beat.
const leastPeriods = 3

// beat is how often a channel comes back, where that is worth telling: several times, and evenly.
func (k *taken) beat(channel int, from, to float64) (record.Beat, bool) {
	ch := k.rec.Channels()[channel]
	m, ok := k.rec.Measure(channel, from, to)
	if !ok || m.PeakToPeak() < 2*ch.Resolution {
		return record.Beat{}, false
	}
	b, ok := k.rec.Beat(channel, from, to)
	return b, ok && b.Periods >= leastPeriods && b.Longest < 1.5*b.Shortest
}

// tell writes the run for people.
func (k *taken) tell(p *page, to Streams) {
	drawn := k.page()
	p.say("%s", p.strong(drawn.Title))
	p.prose(0, drawn.Setting)
	p.say("")
	for _, line := range plot.Text(drawn, plot.Terminal{Columns: width, Braille: to.Braille && !k.plain}) {
		p.say("%s", line)
	}
	p.say("")
	k.tellMarks(p, drawn)
	k.tellTable(p, drawn)
	k.tellMeters(p)
	k.tellBeats(p, drawn)
	if left := k.left(); left != "" {
		p.prose(0, left)
		p.say("")
	}
	k.tellFiles(p)
	for _, note := range drawn.Notes {
		p.prose(0, note)
	}
	for _, caution := range k.cautions() {
		p.say("")
		p.hang("Caution: ", caution)
	}
}

// tellMarks writes what was done and noticed, with its letters of the plot.
func (k *taken) tellMarks(p *page, drawn plot.Page) {
	tagged := plot.Tag(k.rec.Marks(), drawn.From, drawn.To)
	wide := 0
	for _, m := range tagged {
		wide = max(wide, letters(plot.Time(m.Seconds, drawn.To-drawn.From)))
	}
	for _, m := range tagged {
		tag := m.Tag
		if tag == "" {
			tag = " "
		}
		at := plot.Time(m.Seconds, drawn.To-drawn.From)
		p.hang(fmt.Sprintf("  %s  %s%s  ", tag, strings.Repeat(" ", wide-letters(at)), at), plot.Words(m, drawn.To-drawn.From))
	}
	if len(tagged) == 0 {
		p.say("Nothing was done, and nothing that a person would notice happened.")
	}
	p.say("")
}

// tellTable writes what each channel did. Where a line would be too long, the names stand above the figures.
func (k *taken) tellTable(p *page, drawn plot.Page) {
	lines := k.table(drawn, true).lines()
	above := slices.ContainsFunc(lines, func(line string) bool { return letters(line) > width })
	if above {
		lines = k.table(drawn, false).lines()
	}
	for i, line := range lines {
		if above && i > 0 {
			p.say("%s", k.rec.Channels()[i-1].Name)
		}
		p.say("%s", line)
	}
	p.say("")
}

func (k *taken) table(drawn plot.Page, named bool) *table {
	span := drawn.To - drawn.From
	t := &table{right: map[int]bool{1: true, 2: true, 3: true, 4: true, 5: true, 6: true, 7: true}}
	t.add("", "start", "least", "at", "most", "at", "end", "shown to")
	for i, ch := range k.rec.Channels() {
		m, _ := k.rec.Measure(i, drawn.From, drawn.To)
		name, shown := "", ""
		if named {
			name = ch.Name
		}
		if ch.Resolution > 0 {
			shown = plot.Value(record.Channel{Unit: ch.Unit}, ch.Resolution)
		}
		least, most := k.firstShown(i, m, m.Min, m.MinSeconds), k.firstShown(i, m, m.Max, m.MaxSeconds)
		t.add(name, plot.Value(ch, m.Start), plot.Value(ch, m.Min), plot.Time(least, span), plot.Value(ch, m.Max), plot.Time(most, span), plot.Value(ch, m.End), shown)
	}
	return t
}

// firstShown is when a channel first shows the extreme that it reaches at some time: as finely as it is shown, it may have
// been there long before.
func (k *taken) firstShown(channel int, m record.Measured, extreme, seconds float64) float64 {
	counts := func(v float64) float64 { return v }
	if resolution := k.rec.Channels()[channel].Resolution; resolution > 0 {
		counts = func(v float64) float64 { return math.Round(v / resolution) }
	}
	if counts(m.Start) == counts(extreme) {
		return m.FromSeconds
	}
	for row := range k.rec.Rows() {
		if at := k.rec.Seconds(row); at >= m.FromSeconds && at < seconds && counts(k.rec.Value(row, channel)) == counts(extreme) {
			return at
		}
	}
	return seconds
}

// tellMeters writes what hand-held meters would have kept.
func (k *taken) tellMeters(p *page) {
	if len(k.meters) == 0 {
		return
	}
	length := k.run.Seconds()
	t := &table{right: map[int]bool{2: true, 3: true, 4: true, 5: true}}
	t.add("hand-held, min/max", "shows all of a dip of", "min", "at", "max", "at")
	for i, ch := range k.rec.Channels() {
		for _, l := range k.kept(i) {
			t.add(ch.Name, written(l.ResponseSeconds), plot.Value(ch, l.Min), plot.Time(l.MinSeconds, length), plot.Value(ch, l.Max), plot.Time(l.MaxSeconds, length))
		}
	}
	p.table(t)
	p.prose(0, "Of a shorter dip such a meter shows a part, or nothing (common practice, no source).")
	p.say("")
}

// tellBeats writes what comes back regularly, and how modules stood to where they reset.
func (k *taken) tellBeats(p *page, drawn plot.Page) {
	told := k.resetSays(drawn)
	for i, ch := range k.rec.Channels() {
		if b, ok := k.beat(i, drawn.From, drawn.To); ok && len(ch.Words) == 0 {
			told = append(told, fmt.Sprintf("%s comes back every %s (%s in a second, over %s).", ch.Name, plot.Time(b.Seconds, b.Seconds), plain(b.Hertz()), counted(b.Periods, "period")))
		}
	}
	for _, line := range told {
		p.prose(0, line)
	}
	if len(told) > 0 {
		p.say("")
	}
}

// resetSays tells of every module that came below where it resets for how long it did, or by how much the nearest one
// stayed above. A module that gets nothing at all is not called near, and time without any feed is told apart.
func (k *taken) resetSays(drawn plot.Page) []string {
	var told []string
	nearest, name, any := math.Inf(1), "", false
	for _, l := range drawn.Levels {
		if l.Words != resetsBelow {
			continue
		}
		ch := k.rec.Channels()[l.Channel]
		m, _ := k.rec.Measure(l.Channel, drawn.From, drawn.To)
		below, unfed, _ := k.below(l, drawn.From, drawn.To)
		level := plot.Value(record.Channel{Unit: ch.Unit}, l.Value)
		var says []string
		if above := m.Min - l.Value; below == 0 && unfed == 0 && above < nearest {
			nearest, name = above, ch.Name
		}
		any = any || below > 0
		switch {
		case below > 0 && m.Max < l.Value && unfed == 0:
			says = append(says, fmt.Sprintf("was below %s, where it resets, all the time", level))
		case below > 0:
			says = append(says, fmt.Sprintf("was below %s, where it resets, for %s", level, plot.Time(below, below)))
		}
		switch {
		case unfed > 0 && m.Max < l.Value && below == 0:
			says = append(says, fmt.Sprintf("was not fed, and below %s, where it resets, all the time", level))
		case unfed > 0:
			says = append(says, fmt.Sprintf("was below it with no feed at all for %s", plot.Time(unfed, unfed)))
			if below == 0 {
				says = []string{fmt.Sprintf("was below %s, where it resets, only while nothing fed it: for %s", level, plot.Time(unfed, unfed))}
			}
		}
		if len(says) > 0 {
			told = append(told, ch.Name+" "+strings.Join(says, ", and ")+".")
		}
	}
	if !any && name != "" {
		told = append(told, fmt.Sprintf("No module that is watched came below where it resets while it was fed; %s stayed %s above.", name, quantity.Format(nearest, quantity.Volts, 2)))
	}
	return told
}

func (k *taken) tellFiles(p *page) {
	if k.csv != "" {
		p.prose(0, fmt.Sprintf("The table is in %s: %s.", k.csv, counted(k.rec.Rows(), "row")))
	}
	if k.svg != "" {
		p.prose(0, fmt.Sprintf("The picture is in %s.", k.svg))
	}
	if k.csv != "" || k.svg != "" {
		p.say("")
	}
}
