package plot

// This file draws made-up recordings and holds what is drawn against golden files. Renew them with:
// go test ./ui/plot -update

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"underload/sim/record"
	"underload/ui/drawing"
)

var update = flag.Bool("update", false, "write what is now drawn into the golden files")

func take(r *record.Recording, seconds float64, values ...float64) {
	if err := r.Add(seconds, values...); err != nil {
		panic(err)
	}
}

// crank is a battery and a module's ground through a made-up cranking.
func crank() Page {
	r := record.New([]record.Channel{{Name: "B1.pos", Unit: "V", Resolution: 0.01}, {Name: "PC1.8.pin", Unit: "V", Resolution: 0.001},
		{Name: "mode PC1", Words: []string{"off", "boots", "runs", "locked out"}}}, 0)
	mode := 2.0
	for k := range 3001 {
		at := float64(k) / 1000
		volts, ground := 12.6, 0.03
		switch {
		case at > 0.2 && at < 1.4:
			volts = 11.2 - 2.6*math.Exp(-(at-0.2)/0.03) + 0.4*math.Sin(2*math.Pi*9*at)
			ground = 0.02
		case at >= 1.4:
			volts = 12.55 - 0.4*math.Exp(-(at-1.4)/0.2)
		}
		switch {
		case k == 230:
			take(r, at, volts, ground, mode)
			mode = 3
		case k == 260:
			take(r, at, volts, ground, mode)
			mode = 1
		case k == 1500:
			take(r, at, volts, ground, mode)
			mode = 2
		}
		take(r, at, volts, ground, mode)
	}
	r.Mark(record.Mark{Seconds: 0.2, Words: "KEY=crank", Done: true})
	r.Mark(record.Mark{Seconds: 0.204, Words: "K1 clicks in"})
	r.Mark(record.Mark{Seconds: 0.23, Words: "PC1 loses its supply and resets"})
	r.Mark(record.Mark{Seconds: 1.4, Words: "KEY=run", Done: true})
	r.Mark(record.Mark{Seconds: 1.403, Words: "K1 lets go"})
	r.Mark(record.Mark{Seconds: 1.5, Words: "PC1 runs"})
	return Page{Title: "Orchard sprayer truck", Setting: "KEY=crank at 0.2 s; KEY=run at 1.4 s; laid over it: C14.4 spread 1.8 ohm", Recording: r,
		Levels: []Level{{0, 6.5, "PC1 resets below"}, {0, 9, "PC1 runs above"}}, Notes: []string{"The model is a help to thinking. The vehicle maker's procedure comes first."}}
}

// night is eight hours with a dip of a millisecond, thinned.
func night() Page {
	r := record.New([]record.Channel{{Name: "B1.pos", Unit: "V", Resolution: 0.01}, {Name: "amps W2", Unit: "A"}}, 4000)
	const dip = 17123.4
	take(r, 0, 12.38, 2.2)
	for at := 0.0; at <= 8*3600; at += 0.5 {
		amps := 0.012
		if at < 1800 {
			amps = 1.4
		}
		if math.Mod(at, 3600) < 40 {
			amps += 0.8
		}
		if at < dip && at+0.5 >= dip {
			take(r, dip, 12.5, amps)
			take(r, dip, 7.2, 9)
			take(r, dip+0.001, 7.2, 9)
			take(r, dip+0.001, 12.5, amps)
		}
		take(r, at+0.5, 12.6-0.1*amps-at*1e-6, amps)
	}
	for k := range 60 {
		r.Mark(record.Mark{Seconds: 400 * float64(k), Words: "BCM wakes"})
		r.Mark(record.Mark{Seconds: 400*float64(k) + 40, Words: "BCM falls asleep"})
	}
	r.Mark(record.Mark{Seconds: 60, Words: "KEY=off", Done: true})
	return Page{Title: "A night in the yard", Recording: r}
}

// busy has many marks close together, names and words that are too long, and one channel that does nothing.
func busy() Page {
	r := record.New([]record.Channel{{Name: "PC1.1 against the module's very own and very far away ground terminal PC1.8.pin", Unit: "V"}, {Name: "light E3", Unit: "%"},
		{Name: "mode K2", Words: []string{"out", "in the middle of a rather long travel"}}, {Name: "heat C14.4", Unit: "°C"}, {Name: "amps W3", Unit: "A"}}, 0)
	for k := range 400 {
		at := 0.0125 * float64(k) / 400
		take(r, at, -3+1e-6*float64(k), 50+50*math.Sin(float64(k)), float64(k/200), 31, 2e-4*float64(k%7))
	}
	for k := range 40 {
		r.Mark(record.Mark{Seconds: 0.004 + 1e-6*float64(k), Words: fmt.Sprintf("cue %d & <one> that has a good deal to say about what happens, and goes on saying it", k)})
		r.Mark(record.Mark{Seconds: 0.0124 - 1e-5*float64(k), Words: fmt.Sprintf("break C14.%d spread 1.8 ohm", k), Done: true})
	}
	return Page{Title: "A title that is long enough to be broken into two lines on a page of ordinary width, and into more on a narrow one",
		Recording: r, Levels: []Level{{0, -3.0000001, "somewhere"}, {3, 31.01, "a level with words"}, {4, 0.0005, "another"}}}
}

// little is a recording of a single row, and none is one without any.
func little() Page {
	r := record.New([]record.Channel{{Name: "B1.pos", Unit: "V"}}, 0)
	take(r, 2, 12.6)
	return Page{Recording: r}
}

func none() Page {
	return Page{Title: "Nothing", Recording: record.New([]record.Channel{{Name: "B1.pos", Unit: "V"}}, 0)}
}

// close is a piece of the cranking, looked at closely.
func near() Page {
	p := crank()
	p.From, p.To = 0.195, 0.215
	return p
}

var pages = map[string]func() Page{"crank": crank, "night": night, "busy": busy, "little": little, "none": none, "near": near}

func golden(t *testing.T, file string, got []byte) {
	t.Helper()
	file = filepath.Join("testdata", file)
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is drawn differently now; renew it with go test ./ui/plot -update, then look at it:\n%.3000s", file, got)
	}
}

func TestTextGoldens(t *testing.T) {
	for name, page := range pages {
		var both strings.Builder
		for _, term := range []Terminal{{}, {Braille: true}} {
			both.WriteString(strings.Join(Text(page(), term), "\n") + "\n\n")
		}
		golden(t, name+".txt", []byte(both.String()))
	}
}

// svg is the picture of a page in a width.
func svg(t *testing.T, p Page, width float64) []byte {
	t.Helper()
	p.Width = width
	var b bytes.Buffer
	if err := DrawSVG(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPictureGoldens(t *testing.T) {
	for _, name := range []string{"crank", "night"} {
		golden(t, name+".svg", svg(t, pages[name](), 0))
		golden(t, name+"-small.svg", svg(t, pages[name](), 480))
	}
	files, err := filepath.Glob("testdata/*")
	if err != nil || len(files) != len(pages)+4 {
		t.Errorf("%d files in testdata, and %d are used (%v)", len(files), len(pages)+4, err)
	}
}

func TestPicturesAreWellFormed(t *testing.T) {
	for name, page := range pages {
		d := xml.NewDecoder(bytes.NewReader(svg(t, page(), 0)))
		for {
			_, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
	}
}

// box is where words stand.
type box struct {
	x, y, w, h float64
	words      string
}

func boxes(s *drawing.Scene) []box {
	var all []box
	for _, sh := range s.Shapes {
		if sh.Form != drawing.Text {
			continue
		}
		w := drawing.Wide(sh.Words, sh.Size, sh.Bold)
		x := sh.Spots[0].X - w*map[drawing.Anchor]float64{drawing.Start: 0, drawing.Middle: 0.5, drawing.End: 1}[sh.Anchor]
		all = append(all, box{x, sh.Spots[0].Y - 0.8*sh.Size, w, sh.Size, sh.Words})
	}
	return all
}

// No words are set over others or beyond the page, whatever the width.
func TestWordsStandFree(t *testing.T) {
	for name, page := range pages {
		for _, width := range []float64{0, 420, 640, 1600} {
			p := page()
			p.Width = width
			s := Scene(p)
			all := boxes(s)
			if len(all) < 5 {
				t.Fatalf("%s: only %d words", name, len(all))
			}
			for i, a := range all {
				if a.x < 0 || a.y < 0 || a.x+a.w > s.Width || a.y+a.h > s.Height {
					t.Errorf("%s, %g px: %q stands outside the page at %.0f, %.0f of %.0f x %.0f", name, width, a.words, a.x, a.y, s.Width, s.Height)
				}
				for _, b := range all[i+1:] {
					if a.x < b.x+b.w && b.x < a.x+a.w && a.y < b.y+b.h && b.y < a.y+a.h {
						t.Errorf("%s, %g px: %q and %q overlap", name, width, a.words, b.words)
					}
				}
			}
		}
	}
}

// crossing is three marks of which the middle one, with its words, has to fly over the other two.
func crossing() Page {
	r := record.New([]record.Channel{{Name: "B1.pos", Unit: "V"}}, 0)
	take(r, 0, 12)
	take(r, 3, 12)
	r.Mark(record.Mark{Seconds: 0.47, Words: "K1 clicks in"})
	r.Mark(record.Mark{Seconds: 0.5, Words: "KEY=crank", Done: true})
	r.Mark(record.Mark{Seconds: 0.65, Words: "K1 lets go"})
	return Page{Recording: r}
}

// A flag's stem runs through no other flag's words.
func TestStemsPassWordsBy(t *testing.T) {
	all := maps.Clone(pages)
	all["crossing"] = crossing
	for name, page := range all {
		s := Scene(page())
		stems := 0
		for _, sh := range s.Shapes {
			if sh.Form != drawing.Line || len(sh.Spots) != 2 || sh.Stroke != ink2 || len(sh.Dash) > 0 {
				continue
			}
			stems++
			for _, b := range boxes(s) {
				if x := sh.Spots[0].X; x > b.x && x < b.x+b.w && sh.Spots[0].Y < b.y+b.h && sh.Spots[1].Y > b.y {
					t.Errorf("%s: a stem at %.0f runs through %q", name, x, b.words)
				}
			}
		}
		if name == "crank" && stems != 6 {
			t.Errorf("%d stems, want 6", stems)
		}
	}
}

// Every line fits the terminal, and a plot without braille has plain characters only.
func TestTextFits(t *testing.T) {
	for name, page := range pages {
		for _, columns := range []int{40, 80, 132} {
			for _, braille := range []bool{false, true} {
				for _, line := range Text(page(), Terminal{Columns: columns, Braille: braille}) {
					if n := utf8.RuneCountInString(line); n > columns {
						t.Errorf("%s: %d characters in %d: %s", name, n, columns, line)
					}
					if !braille && strings.ContainsFunc(line, func(r rune) bool { return r > '\u206f' && r != '−' }) {
						t.Errorf("%s: not plain: %s", name, line)
					}
				}
			}
		}
	}
}

// The dip of a millisecond is in the picture of eight hours, in every form.
func TestDipIsSeen(t *testing.T) {
	p := night()
	if p.Recording.Width() == 0 {
		t.Fatal("the night is not thinned")
	}
	for _, n := range []int{70, 140, 860} {
		low := math.Inf(1)
		for _, c := range columns(p.Recording, 0, 0, 8*3600, n) {
			if c.ok {
				low = min(low, c.low)
			}
		}
		if low != 7.2 {
			t.Errorf("in %d columns the lowest is %g V", n, low)
		}
	}
	lines := Text(p, Terminal{})
	head := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "B1.pos") })
	spikes := 0
	for _, line := range lines[head+1 : head+13] {
		_, panel, _ := strings.Cut(line, "|")
		if strings.Contains(panel, "|") {
			spikes++
		}
	}
	if spikes < 8 {
		t.Errorf("the dip is %d lines high:\n%s", spikes, strings.Join(lines, "\n"))
	}
}

// What is left out of a line cannot be seen.
func TestPathKeepsItsShape(t *testing.T) {
	var line path
	curve := func(x float64) float64 { return 100 * math.Exp(-x/150) }
	for x := 0.0; x <= 800; x += 0.5 {
		line.lead(spot(x, curve(x)))
	}
	if len(line.spots) > 400 {
		t.Errorf("%d spots", len(line.spots))
	}
	for i := range len(line.spots) - 1 {
		a, b := line.spots[i], line.spots[i+1]
		for share := 0.0; share < 1; share += 0.1 {
			x := a.X + (b.X-a.X)*share
			if off := math.Abs(a.Y + (b.Y-a.Y)*share - curve(x)); off > 0.1 {
				t.Fatalf("%g px off at %g", off, x)
			}
		}
	}
}

func TestTags(t *testing.T) {
	tagged := Tag(night().Recording.Marks(), 0, 8*3600)
	var told []string
	for _, m := range tagged {
		told = append(told, m.Tag+" "+Words(m, 8*3600))
	}
	want := []string{"a BCM wakes, and 59 times more until 6 h 33 min 20 s", "b BCM falls asleep, and 59 times more until 6 h 34 min 0 s", "A KEY=off"}
	for i := range told {
		told[i] = strings.ReplaceAll(told[i], "\u00a0", " ")
	}
	if !slices.Equal(told, want) {
		t.Errorf("told as %q", told)
	}
	many := Tag(busy().Recording.Marks(), 0, 1)
	last := many[len(many)-1]
	if len(many) != 2*letters+1 || last.Tag != "" || Words(last, 1) != "and 28 more until 0.012\u00a0s" {
		t.Errorf("%d marks are told, the last %q: %q", len(many), last.Tag, last.Words)
	}
	var again []record.Mark // thirty things, each eight times
	for k := range 240 {
		again = append(again, record.Mark{Seconds: float64(k), Words: fmt.Sprint("cue ", k%30)})
	}
	often := Tag(again, 0, 300)
	if last := often[len(often)-1]; len(often) != letters+1 || Words(last, 300) != "and 4 more until 29.0\u00a0s" {
		t.Errorf("%d marks are told, the last %q", len(often), Words(last, 300))
	}
}

func TestTime(t *testing.T) {
	for _, c := range []struct {
		seconds, span float64
		want          string
	}{
		{0.2143, 3, "0.214 s"}, {0.2143, 60, "0.21 s"}, {0.2143, 0.3, "214.3 ms"}, {0.00025, 0.001, "0.250 ms"}, {0.0000404, 0.0000404, "40.4 µs"}, {-0.1, 3, "−0.100 s"},
		{17123.4, 8 * 3600, "4 h 45 min 23 s"}, {750.26, 900, "12 min 30.3 s"}, {3599.6, 7200, "1 h 00 min 0 s"}, {59.96, 900, "1 min 0.0 s"}, {40, 30000, "40 s"},
	} {
		if got := strings.ReplaceAll(Time(c.seconds, c.span), "\u00a0", " "); got != c.want {
			t.Errorf("%g of %g s is written %q, want %q", c.seconds, c.span, got, c.want)
		}
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		from, to float64
		about    int
		want     string
	}{
		{0, 3, 6, "0.0 0.5 1.0 1.5 2.0 2.5 3.0 s"}, {0, 8 * 3600, 8, "0 1 2 3 4 5 6 7 8 h"}, {0, 2400, 5, "0 10 20 30 40 min"},
		{0, 100, 4, "0 30 60 90 s"}, {0.195, 0.215, 4, "195 200 205 210 215 ms"}, {0, 0.001, 5, "0 200 400 600 800 1000 µs"},
	} {
		ticks, unit := timeTicks(c.from, c.to, c.about)
		var words []string
		for _, k := range ticks {
			words = append(words, k.words)
		}
		if got := strings.Join(append(words, unit), " "); got != c.want {
			t.Errorf("from %g to %g s: %s, want %s", c.from, c.to, got, c.want)
		}
	}
}

// An axis shows small volts in the unit that fits, and no digits that were not measured.
func TestScaleOf(t *testing.T) {
	for _, c := range []struct {
		resolution, low, high float64
		unit                  string
		times, least          float64
	}{{0.01, 12, 12.3, "V", 1, 0.3}, {0, 0.002, 0.3, "mV", 1e3, 0.298}, {0, 2e-6, 3e-4, "µV", 1e6, 2.98e-4}, {0.5, 12, 12.3, "V", 1, 2}, {0, 12, 12.0001, "V", 1, 0.048}} {
		r := record.New([]record.Channel{{Name: "B1.pos", Unit: "V", Resolution: c.resolution}}, 0)
		take(r, 0, c.low)
		take(r, 1, c.high)
		s := scaleOf(Page{Recording: r}, 0)
		if s.unit != c.unit || s.times != c.times || s.to-s.from < c.least || s.to-s.from > 1.2*c.least {
			t.Errorf("%g to %g V, known to %g: %g to %g in %s, %g times", c.low, c.high, c.resolution, s.from, s.to, s.unit, s.times)
		}
	}
}

func TestValue(t *testing.T) {
	for _, c := range []struct {
		ch   record.Channel
		v    float64
		want string
	}{
		{record.Channel{Unit: "V", Resolution: 0.01}, 9.6149, "9.61 V"}, {record.Channel{Unit: "V", Resolution: 0.01}, -0.001, "0.00 V"},
		{record.Channel{Unit: "A"}, 123.456, "123.5 A"}, {record.Channel{Unit: "V"}, -0.25, "−0.25 V"}, {record.Channel{Words: []string{"off", "runs"}}, 1, "runs"},
		{record.Channel{Words: []string{"off"}}, 3, "3"}, {record.Channel{Unit: "°C", Resolution: 1}, 81.4, "81 °C"},
	} {
		if got := strings.ReplaceAll(Value(c.ch, c.v), "\u00a0", " "); got != c.want {
			t.Errorf("%g is written %q, want %q", c.v, got, c.want)
		}
	}
}

// FuzzText draws anything.
func FuzzText(f *testing.F) {
	f.Add([]byte{1, 2, 3, 4, 5, 6}, 80, 0.0, 1.0)
	f.Add([]byte{0, 0, 0, 255}, 1, -1e9, 1e9)
	f.Fuzz(func(t *testing.T, steps []byte, wide int, from, to float64) {
		r := record.New([]record.Channel{{Name: "x", Unit: "V"}, {Name: "y", Words: []string{"off", "on"}}}, 0)
		at := from
		for i, b := range steps {
			at += math.Ldexp(float64(b&3), int(b>>2)-30)
			_ = r.Add(at, to*float64(b), float64(b&1)) // what cannot be recorded is not
			if i%5 == 0 {
				r.Mark(record.Mark{Seconds: at, Words: string(steps[:i]), Done: b&8 > 0})
			}
		}
		p := Page{Recording: r, From: from, To: to, Levels: []Level{{0, to, "level"}}}
		if !(math.Abs(from) < 1e100 && math.Abs(to) < 1e100) {
			p.From, p.To = 0, 0
		}
		for _, braille := range []bool{false, true} {
			for _, line := range Text(p, Terminal{Columns: wide % 200, Braille: braille}) {
				if strings.Contains(line, "\n") {
					t.Errorf("a line of two: %q", line)
				}
			}
		}
		svg(t, p, float64(wide%2000))
	})
}
