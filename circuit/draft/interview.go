package draft

// This file asks: the questions in their order, and the way forward and back through them.

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"underload/circuit"
	"underload/circuit/tidy"
)

// question is one thing to ask.
type question struct {
	asks  func(p *plan) string
	usual func(p *plan) string               // what Enter stands for
	skip  func(p *plan) bool                 // nil: it is always asked
	take  func(p *plan, answer string) error // the error is one sentence
}

// Interview is a run through the questions. Nothing outside of it changes until its text is taken at the end.
type Interview struct {
	at   int
	said map[int]string // the last answer to each question
}

// Begin starts an interview.
func Begin() *Interview { return &Interview{said: map[int]string{}} }

// plan plays the answers up to the present question again.
func (v *Interview) plan() *plan {
	p := newPlan()
	for i := range v.at {
		if q := questions[i]; q.skip == nil || !q.skip(p) {
			if err := q.take(p, v.said[i]); err != nil {
				panic("draft: an answer that was taken is refused: " + err.Error())
			}
		}
	}
	return p
}

// Next gives the present question and what Enter stands for; ok is false when all have been answered.
func (v *Interview) Next() (asks, usual string, ok bool) {
	p := v.plan()
	for v.at < len(questions) && questions[v.at].skip != nil && questions[v.at].skip(p) {
		v.at++
	}
	if v.at == len(questions) {
		return "", "", false
	}
	q := questions[v.at]
	usual = q.usual(p)
	if before, given := v.said[v.at]; given && q.take(v.plan(), before) == nil {
		usual = before
	}
	return q.asks(p), usual, true
}

// Answer takes an answer to the question that Next gave. The error is one sentence, and the question stays.
func (v *Interview) Answer(answer string) error {
	answer = strings.Join(strings.Fields(answer), " ")
	if strings.ContainsFunc(answer, func(c rune) bool { return !unicode.IsPrint(c) }) || !utf8.ValidString(answer) {
		return fmt.Errorf("this holds something that is not text")
	}
	if err := questions[v.at].take(v.plan(), answer); err != nil {
		return err
	}
	v.said[v.at] = answer
	v.at++
	return nil
}

// Back returns to the question before; false at the first.
func (v *Interview) Back() bool {
	for i := v.at - 1; i >= 0; i-- {
		v.at = i
		if q := questions[i]; q.skip == nil || !q.skip(v.plan()) {
			return true
		}
	}
	return false
}

// Text is the circuit file that the answers make, in tidy form. It is to be taken when Next has no more questions.
func (v *Interview) Text() ([]byte, error) { return tidy.File("draft", []byte(v.plan().text())) }

// Summary says in a few lines what the answers come to.
func (v *Interview) Summary() []string { return v.plan().summary() }

// FileName is a name for the file, made of the vehicle's words.
func (v *Interview) FileName() string { return v.plan().fileName() }

func always(text string) func(*plan) string { return func(*plan) string { return text } }

func isModule(p *plan) bool  { return p.kind == module }
func notModule(p *plan) bool { return p.kind != module }
func notKeyed(p *plan) bool  { return !p.keyed }

// words takes a short free text.
func words(to func(p *plan) *string) func(*plan, string) error {
	const most = 120
	return func(p *plan, answer string) error {
		if n := utf8.RuneCountInString(answer); n == 0 || n > most {
			return fmt.Errorf("that is %d letters long, and a few words will do (%d letters at most)", n, most)
		}
		*to(p) = answer
		return nil
	}
}

// named takes a name.
func named(to func(p *plan) *string, as func(p *plan) string) func(*plan, string) error {
	return func(p *plan, answer string) error {
		*to(p) = answer
		return p.claim(answer, as(p))
	}
}

// pin takes the name of one of a module's pins.
func pin(to func(p *plan) *string) func(*plan, string) error {
	return func(p *plan, answer string) error {
		if several := strings.FieldsFunc(answer, func(c rune) bool { return c == ',' || c == ' ' || c == '/' }); len(several) > 1 && nameForm.MatchString(several[0]) {
			return fmt.Errorf("one pin is asked for here, such as %s: for a module with more than one feed or ground begin with the pattern module-with-two-feeds, or add its other pins to the file afterwards", several[0])
		}
		if !nameForm.MatchString(answer) {
			return fmt.Errorf("%q cannot be a pin: it has letters, digits, _ and + only, %d at most", answer, circuit.MostNameLetters)
		}
		for _, other := range []string{p.feedPin, p.wakePin, p.groundPin} {
			if other == answer {
				return fmt.Errorf("pin %s has its purpose already: a pin has one", answer)
			}
		}
		*to(p) = answer
		return nil
	}
}

// freePin is a pin that has no purpose yet.
func freePin(usual string) func(*plan) string {
	return func(p *plan) string {
		for i := 0; ; i++ {
			name := usual
			if i > 0 {
				name = fmt.Sprint(i)
			}
			if name != p.feedPin && name != p.wakePin {
				return name
			}
		}
	}
}

func yesNo(to func(p *plan) *bool) func(*plan, string) error {
	return func(p *plan, answer string) error {
		switch strings.ToLower(answer) {
		case "yes", "y":
			*to(p) = true
		case "no", "n":
			*to(p) = false
		default:
			return fmt.Errorf("%q is neither yes nor no", answer)
		}
		return nil
	}
}

func onTheWay(what string) func(*plan) string {
	return always("Through which cavities does " + what + " go? (like C1.4, C2.7; none)")
}

func passes(to func(p *plan) *[]string) func(*plan, string) error {
	return func(p *plan, answer string) error {
		found, err := p.cavities(answer)
		*to(p) = found
		return err
	}
}

func rated(of func(p *plan) *way) func(*plan, string) error {
	return func(p *plan, answer string) error {
		amps, err := rating(answer)
		of(p).amps = amps
		return err
	}
}

var questions = []question{
	{
		asks: always("Which vehicle is it, in a few words?"), usual: always("a vehicle"),
		take: words(func(p *plan) *string { return &p.vehicle }),
	},
	{
		asks: always("What is silent, in a few words?"), usual: always("the control module"),
		take: words(func(p *plan) *string { return &p.silent }),
	},
	{
		asks: always("Is it a module, a lamp, a motor or a heater?"), usual: always(module),
		take: func(p *plan, answer string) error {
			p.kind = strings.ToLower(strings.TrimPrefix(answer, "a "))
			if _, known := unknownLoads[p.kind]; !known {
				return fmt.Errorf("%q is none of module, lamp, motor and heater; for anything else begin with a pattern", answer)
			}
			return nil
		},
	},
	{
		asks: always("What is its name on the diagram?"),
		usual: func(p *plan) string {
			return p.free(map[string]string{module: "PC", lamp: "E", motor: "M", heater: "H"}[p.kind])
		},
		take: named(func(p *plan) *string { return &p.name }, always("what is silent")),
	},
	{
		asks: func(p *plan) string { return "Which pin of " + p.name + " is fed?" }, usual: always("1"), skip: notModule,
		take: pin(func(p *plan) *string { return &p.feedPin }),
	},
	{
		asks: func(p *plan) string { return "Which fuse feeds " + p.name + "?" }, usual: func(p *plan) string { return p.free("F") },
		take: named(func(p *plan) *string { return &p.feed.fuse }, func(p *plan) string { return "the fuse of " + p.name }),
	},
	{
		asks: func(p *plan) string { return "How many amps is " + p.feed.fuse + "?" }, usual: always("10 A"),
		take: rated(func(p *plan) *way { return &p.feed }),
	},
	{
		asks: onTheWay("the feed"), usual: always("C1.1"),
		take: passes(func(p *plan) *[]string { return &p.feed.cavities }),
	},
	{
		asks: func(p *plan) string { return "Which switch turns " + p.name + " on? (none if it is always on)" },
		skip: isModule, usual: func(p *plan) string { return p.free("SW") },
		take: func(p *plan, answer string) error {
			if isNone(answer) {
				return nil
			}
			p.switchName = answer
			return p.claim(answer, "the switch of "+p.name)
		},
	},
	{
		asks: func(p *plan) string {
			return "Does a key feed wake " + p.name + "? (yes or no)"
		},
		skip: notModule, usual: always("yes"), take: yesNo(func(p *plan) *bool { return &p.keyed }),
	},
	{
		asks: func(p *plan) string { return "Which pin of " + p.name + " does the key feed wake?" }, skip: notKeyed, usual: freePin("2"),
		take: pin(func(p *plan) *string { return &p.wakePin }),
	},
	{
		asks: always("Which fuse is the key feed's?"), skip: notKeyed, usual: func(p *plan) string { return p.free("F") },
		take: named(func(p *plan) *string { return &p.wake.fuse }, always("the fuse of the key feed")),
	},
	{
		asks: func(p *plan) string { return "How many amps is " + p.wake.fuse + "?" }, skip: notKeyed, usual: always("5 A"),
		take: rated(func(p *plan) *way { return &p.wake }),
	},
	{
		asks: onTheWay("the key feed"), skip: notKeyed, usual: (*plan).nextCavity,
		take: passes(func(p *plan) *[]string { return &p.wake.cavities }),
	},
	{
		asks: func(p *plan) string { return "Which pin of " + p.name + " is its ground?" }, skip: notModule, usual: freePin("8"),
		take: pin(func(p *plan) *string { return &p.groundPin }),
	},
	{
		asks: onTheWay("the ground"), usual: (*plan).nextCavity,
		take: passes(func(p *plan) *[]string { return &p.ground }),
	},
	{
		asks: always("Which splice does the ground pass? (none if it passes none)"), usual: always("none"),
		take: func(p *plan, answer string) error {
			if isNone(answer) {
				return nil
			}
			p.splice = answer
			return p.claim(answer, "the splice in the ground")
		},
	},
	{
		asks: always("Which ground stud does it end at?"), usual: func(p *plan) string { return p.free("G") },
		take: named(func(p *plan) *string { return &p.stud }, always("the ground stud")),
	},
	{
		asks: func(p *plan) string { return "Where is " + p.stud + ", in a few words?" }, usual: always("frame"),
		take: words(func(p *plan) *string { return &p.place }),
	},
	{
		asks:  always("Who else is grounded there? (like E1 21 W, M1 5 A; none)"),
		usual: always("none"),
		take: func(p *plan, answer string) (err error) {
			p.sharers, err = p.sharersOf(answer)
			return err
		},
	},
	{
		asks: func(p *plan) string {
			return "What does " + p.name + " draw" + map[string]string{
				module: " awake, in amps?", lamp: "? Its watts, or its type like P21W.", motor: ", in amps?", heater: ", in watts?",
			}[p.kind] + " (? if you do not know)"
		},
		usual: always("?"),
		take: func(p *plan, answer string) (err error) {
			p.load = p.ordinary()
			if answer != "?" {
				if p.load, err = loadOf(p.kind, answer); err != nil {
					return err
				}
			}
			return p.fits(p.load)
		},
	},
}
