package draft

// Whatever is answered, and whichever pattern is taken, a circuit comes out that is read without a word of complaint,
// is tidy and sane, says what to change, and on the bench wakes every module with the key in run.

import (
	"bytes"
	"flag"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"underload/circuit"
	"underload/circuit/tidy"
	"underload/sim"
	"underload/sim/part"
	"underload/sim/sanity"
)

var update = flag.Bool("update", false, "lay the patterns out anew")

// sound checks the text of a circuit and brings it up.
func sound(t *testing.T, name string, text []byte) *sim.Bench {
	t.Helper()
	c, problems := circuit.Read(name, text)
	if c == nil || len(problems) > 0 {
		t.Fatalf("%v\n%s", problems, text)
	}
	laid, err := tidy.File(name, text)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(laid, text) {
		t.Errorf("%s is not tidy:\n%s", name, laid)
	}
	if !strings.Contains(string(text), "# "+mark) && !strings.Contains(string(text), "where "+mark) {
		t.Errorf("%s does not say what to change", name)
	}
	report, err := sanity.Check(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range report.Warnings() {
		t.Errorf("%v", f)
	}
	b, err := sim.New(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range c.OfKind("switch") {
		state := p.Throws[len(p.Throws)-1].Name
		switch {
		case p.Name == key:
			state = "run"
		case p.Name == "NS": // at rest it is closed
			continue
		}
		if err := b.Set(p.Name + "=" + state); err != nil {
			t.Fatal(err)
		}
	}
	for _, m := range b.Modules() {
		if m.Mode != part.Awake {
			t.Errorf("%s: %s is %v\n%s", name, m.Part.Name, m.Mode, text)
		}
	}
	for _, p := range c.Parts {
		if p.Kind.Load && p.Kind.Name != "module" && p.Kind.Name != "terminator" && name != "starter" && name != "module-with-two-feeds" {
			if volts, _ := b.LoadVolts(p); volts < 9.5 {
				t.Errorf("%s: %s gets %.1f V\n%s", name, p.Name, volts, text)
			}
		}
	}
	return b
}

func TestPatterns(t *testing.T) {
	entries, err := patterns.ReadDir("patterns")
	if err != nil || len(entries) != len(PatternNames()) || len(entries) < 6 {
		t.Fatalf("%d patterns, %d names (%v)", len(entries), len(PatternNames()), err)
	}
	for _, name := range PatternNames() {
		text, err := Pattern(name)
		if err != nil {
			t.Fatal(err)
		}
		if *update {
			laid, err := tidy.File(name, text)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile("patterns/"+name+".yaml", laid, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		sound(t, name, text)
		if PatternTitle(name) == "" {
			t.Errorf("%s has no title", name)
		}
	}
}

// What a switched pattern is for: the starter turns, and the second feed's motor runs when it is asked for.
func TestPatternsWork(t *testing.T) {
	for _, c := range []struct {
		pattern, set, load string
		leastAmps          float64
	}{
		{"starter", "KEY=crank", "ST", 150},
		{"module-with-two-feeds", "M1=on", "M1", 5},
	} {
		text, err := Pattern(c.pattern)
		if err != nil {
			t.Fatal(err)
		}
		b := sound(t, c.pattern, text)
		if err := b.Set(c.set); err != nil {
			t.Fatal(err)
		}
		load := b.Circuit().Part(c.load)
		if amps := b.PartAmps(load); amps < c.leastAmps {
			t.Errorf("%s: %s takes %.1f A", c.pattern, c.load, amps)
		}
		if turns := load.Text("turns"); (turns == "engine") != (c.pattern == "starter") {
			t.Errorf("%s: %s turns as %s", c.pattern, c.load, turns)
		}
	}
}

func TestNoSuchPattern(t *testing.T) {
	for name, want := range map[string]string{"fused-fed": "did you mean fused-feed?", "kitchen": "it is one of fused-feed", "../draft": "it is one of"} {
		if _, err := Pattern(name); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Pattern("shared ground"); err != nil {
		t.Error(err)
	}
}

// run answers every question; answer is asked for each.
func run(t *testing.T, answer func(asks, usual string) string) *Interview {
	t.Helper()
	v := Begin()
	for n := 0; ; n++ {
		asks, usual, ok := v.Next()
		if !ok {
			return v
		}
		if err := v.Answer(answer(asks, usual)); err != nil {
			t.Fatalf("%s %v", asks, err)
		}
		if n > 100 {
			t.Fatal("the questions do not end")
		}
		if seen := len(asks) + len(" [] ") + len(usual); seen > 80 {
			t.Errorf("%d letters: %s [%s]", seen, asks, usual)
		}
	}
}

// Every combination of the answers below, which take every turn the questions have.
func TestEveryWayThroughTheQuestions(t *testing.T) {
	choices := []struct {
		asks    string
		answers []string
	}{
		{"Is it a module", []string{"module", "lamp", "motor", "heater"}},
		{"does the feed go", []string{"none", "C14.1", "C14.1, C2.7"}},
		{"Does a key feed", []string{"yes", "no"}},
		{"turns", []string{"none", "SW7"}},
		{"Which splice", []string{"none", "S3"}},
		{"Who else", []string{"none", "E7, M7 12 A, E8 55 W"}},
		{"draw", []string{"?", "known"}},
	}
	known := map[string]string{"module": "1.2", "lamp": "55", "motor": "4 A", "heater": "90 W"}
	ways := 1
	for _, c := range choices {
		ways *= len(c.answers)
	}
	texts := map[string]bool{}
	for way := range ways {
		kind := ""
		v := run(t, func(asks, usual string) string {
			rest := way
			for _, c := range choices {
				pick := c.answers[rest%len(c.answers)]
				rest /= len(c.answers)
				switch {
				case !strings.Contains(asks, c.asks):
					continue
				case c.asks == "Is it a module":
					kind = pick
				case pick == "known":
					return known[kind]
				}
				return pick
			}
			return usual
		})
		text, err := v.Text()
		if err != nil {
			t.Fatal(err)
		}
		if !texts[string(text)] {
			sound(t, "way", text)
		}
		texts[string(text)] = true
		if len(v.Summary()) < 4 || !strings.HasSuffix(v.FileName(), ".yaml") {
			t.Errorf("%q %q", v.Summary(), v.FileName())
		}
	}
	if len(texts) != 192 { // 48 for a module, and for each of the others
		t.Errorf("%d different circuits", len(texts))
	}
}

// The words of people, with all that YAML makes something of, go in and come out.
func TestWordsSurvive(t *testing.T) {
	for _, words := range []string{"a van: the blue one", "van #4", "it's \"dead\"", "- van", "{van}", "null", "no", "12", "[a, b]", "ein Mähdrescher", "*van", "%van", "van, old; red", "@", "`x`", "true", "a  b"} {
		v := run(t, func(asks, usual string) string {
			switch {
			case strings.HasPrefix(asks, "Which vehicle"), strings.HasPrefix(asks, "What is silent"), strings.HasPrefix(asks, "Where is"):
				return words
			}
			return usual
		})
		text, err := v.Text()
		if err != nil {
			t.Fatalf("%q: %v", words, err)
		}
		c := sound(t, words, text).Circuit()
		clean := strings.Join(strings.Fields(words), " ")
		if c.Studs[0].Place != clean || !strings.Contains(c.Title, clean[1:]) {
			t.Errorf("%q came out as %q and %q", words, c.Title, c.Studs[0].Place)
		}
	}
}

// Bad answers: each is refused in one sentence, and the question stays.
func TestBadAnswers(t *testing.T) {
	for _, c := range []struct{ asks, answer, says string }{
		{"Which vehicle", strings.Repeat("x", 200), "200 letters"},
		{"Which vehicle", "a\x07b", "not text"},
		{"Is it a module", "a pump", "none of module, lamp"},
		{"What is its name", "PC 1", "cannot be a name"},
		{"What is its name", "BATT", "already the battery"},
		{"What is its name", "wire", "the one word"},
		{"Which pin of PC1 is fed", "1.2", "cannot be a pin"},
		{"Which pin of PC1 is fed", "A1, A2", "one pin is asked for here, such as A1: for a module with more than one feed or ground begin with the pattern module-with-two-feeds"},
		{"Which pin of PC1 is its ground", "B1 B2", "one pin is asked for here, such as B1"},
		{"Which fuse feeds", "PC1", "already what is silent"},
		{"How many amps is F1", "ten", "no number"},
		{"How many amps is F1", "0", "not above zero"},
		{"How many amps is F1", "10 V", "makes it a voltage"},
		{"How many amps is F1", "0.2 A", "is not made"},
		{"does the feed go", "C1", "connector and cavity"},
		{"does the feed go", "C1.1, C1.1", "already used"},
		{"does the feed go", "PC1.1", "already what is silent"},
		{"Does a key feed", "perhaps", "neither yes nor no"},
		{"does the key feed wake", "1", "has its purpose already"},
		{"does the ground go", "C1.1", "already used"},
		{"Which splice", "F1", "already the fuse of PC1"},
		{"Which ground stud", "FB", "already the bar"},
		{"Who else", "E1 21", "does not say what E1 draws"},
		{"Who else", "PC1 21 W", "already what is silent"},
		{"Who else", "M1 900 A", "more than this start"},
		{"Who else", "M1 20 A", "than a plain switch carries"},
		{"What does PC1 draw", "12 A", "would blow"},
		{"What does PC1 draw", "5 mA", "asleep"},
		{"What does PC1 draw", "55 W", "makes it a power"},
	} {
		v := Begin()
		for {
			asks, usual, ok := v.Next()
			if !ok {
				t.Errorf("nothing asks %q", c.asks)
				break
			}
			if !strings.Contains(asks, c.asks) {
				if err := v.Answer(usual); err != nil {
					t.Fatal(err)
				}
				continue
			}
			err := v.Answer(c.answer)
			again, _, _ := v.Next()
			if err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") || again != asks {
				t.Errorf("%s %q: %v", asks, c.answer, err)
			}
			break
		}
	}
}

// People go forward and back, change their minds and slip; in the end a sound circuit comes out.
func TestWanderingThroughTheQuestions(t *testing.T) {
	answers := []string{"", "", "", "", "module", "lamp", "heater", "motor", "yes", "no", "none", "PC1", "F1", "F2", "1", "2", "8", "C1.1", "C1.2, C9.4", "S1", "G1", "SW1", "E1 21 W",
		"M1 5 A, E1", "?", "0.9 A", "15 A", "P21W", "x y z"}
	for seed := range uint64(60) {
		random := rand.New(rand.NewPCG(seed, 9))
		v := Begin()
		for n := 0; ; n++ {
			_, usual, ok := v.Next()
			if !ok {
				break
			}
			answer := answers[random.IntN(len(answers))]
			if answer == "" || n > 150 {
				answer = usual
			}
			if n < 150 && random.IntN(4) == 0 {
				v.Back()
				continue
			}
			if err := v.Answer(answer); err != nil && answer == usual {
				t.Fatalf("seed %d: %q is usual, and refused: %v", seed, usual, err)
			}
		}
		text, err := v.Text()
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		sound(t, "wandering", text)
	}
}

// Back is one question at a time, over those that are not asked, and offers what was said there.
func TestBackIsOneStep(t *testing.T) {
	answers := map[string]string{"Is it a module": "motor", "What is its name": "M9", "Which switch": "none"}
	v := Begin()
	var asked, said []string
	for {
		asks, usual, ok := v.Next()
		if !ok {
			break
		}
		answer := usual
		for begin, own := range answers {
			if strings.HasPrefix(asks, begin) {
				answer = own
			}
		}
		if err := v.Answer(answer); err != nil {
			t.Fatal(err)
		}
		asked, said = append(asked, asks), append(said, answer)
	}
	if len(asked) < 10 {
		t.Fatalf("only %q was asked", asked)
	}
	for i := len(asked) - 1; i >= 0; i-- {
		if !v.Back() {
			t.Fatalf("no way back to %s", asked[i])
		}
		if asks, usual, _ := v.Next(); asks != asked[i] || usual != said[i] {
			t.Errorf("back at %s [%s], want %s [%s]", asks, usual, asked[i], said[i])
		}
	}
	if v.Back() {
		t.Error("there is something before the first question")
	}
}
