package command

// This file is a run while it goes on and is recorded: rows, marks, meters, progress, and Ctrl+C.

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"os/signal"
	"slices"
	"strconv"
	"strings"
	"time"

	"underload/circuit"
	"underload/sim"
	"underload/sim/meter"
	"underload/sim/record"
	"underload/ui/plot"
)

// errStopped ends a trace that was interrupted, after it has told what there was.
var errStopped = errors.New("stopped")

// taken is a run and what is recorded of it.
type taken struct {
	*tracing
	circuit *circuit.Circuit
	bench   *sim.Bench // at rest
	run     *sim.Run
	watched []sim.Channel
	rec     *record.Recording
	feeding []feeding
	meters  [][2]*record.MinMax // by channel: ordinary, peak; only with --min-max, and of volts
	cues    int                 // how many have been noted
	acts    int                 // how many have been done
	fired   int                 // how much has happened in the circuit
	stopped bool
	moving  *meter.Moving // the instrument that is on
}

// fine is how near the recorded lines stay to the curve, as a share.
const fine = 5e-4

// goOn lets time run to its end, or until it is interrupted.
func (k *taken) goOn(to Streams) error {
	ctx, stop := interrupted(to)
	defer stop()
	k.putMeters()
	if err := k.take(); err != nil {
		return err
	}
	shown := progress{to: to, until: k.untilSeconds}
	defer shown.end()
	var wrong error
	each := func() bool {
		if wrong = k.take(); wrong != nil {
			return false
		}
		shown.at(k.run.Seconds())
		k.stopped = ctx.Err() != nil
		return !k.stopped
	}
	for _, p := range k.puts {
		if err := k.run.Advance(p.seconds, each); err != nil || wrong != nil || k.stopped {
			return errors.Join(err, wrong)
		}
		if err := k.put(p); err != nil {
			return err
		}
		if !each() {
			return wrong
		}
	}
	err := k.run.Advance(k.untilSeconds, each)
	return errors.Join(err, wrong)
}

// interrupted is a context that ends with Ctrl+C. A second one ends the program.
func interrupted(to Streams) (context.Context, context.CancelFunc) {
	if to.Interrupt != nil {
		return to.Interrupt, func() {}
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop)
	return ctx, stop
}

func (k *taken) putMeters() {
	if !k.minMax {
		return
	}
	for range k.watched {
		k.meters = append(k.meters, [2]*record.MinMax{record.NewMinMax(record.OrdinaryResponse), record.NewMinMax(record.PeakResponse)})
	}
	k.rec.Listen(func(seconds float64, values []float64) error {
		for c, both := range k.meters {
			for _, m := range both {
				if err := m.Add(seconds, values[c]); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// short is how long a stretch has to be for the bends in it to be worth a look: less than can be seen in the picture.
func (k *taken) short() float64 {
	const places = 4000
	if k.trigger != "" {
		return k.screenTime / places
	}
	return k.untilSeconds / places
}

// take records what lies between the last row and now, what is so now, and what has been noticed.
func (k *taken) take() error {
	now := k.run.Seconds()
	if err := k.overhear(now); err != nil {
		return err
	}
	after := make([]float64, len(k.watched))
	for c, ch := range k.watched {
		after[c] = ch.Read()
	}
	before := after
	if fired := k.run.Stats().Fired; fired != k.fired { // something may jump
		k.fired = fired
		before = make([]float64, len(k.watched))
		k.read(math.Nextafter(now, math.Inf(-1)), before)
	}
	err := k.rec.Follow(now, fine, k.short(), func(seconds float64, values []float64) {
		if seconds == now {
			copy(values, before)
			return
		}
		k.read(seconds, values)
	})
	if err == nil {
		err = k.rec.Add(now, after...)
	}
	if err != nil {
		return fmt.Errorf("the run cannot be recorded: %w; watch something else", err)
	}
	for ; k.acts < len(k.dos) && k.dos[k.acts].seconds <= now; k.acts++ {
		k.rec.Mark(record.Mark{Seconds: k.dos[k.acts].seconds, Words: k.dos[k.acts].act, Done: true})
	}
	for cues := k.run.Cues(); k.cues < len(cues); k.cues++ {
		k.rec.Mark(record.Mark{Seconds: cues[k.cues].Seconds, Words: cues[k.cues].Says})
	}
	return nil
}

// overhear records what is said on a bus between the last row and now, where a channel shows it.
func (k *taken) overhear(now float64) error {
	if k.rec.Rows() == 0 {
		return nil
	}
	last := k.rec.Seconds(k.rec.Rows() - 1)
	var moments []float64
	for _, ch := range k.watched {
		moments = append(moments, ch.Moments(last, now, k.short())...)
	}
	slices.Sort(moments)
	values := make([]float64, len(k.watched))
	for _, at := range slices.Compact(moments) {
		k.read(at, values)
		if err := k.rec.Add(at, values...); err != nil {
			return err
		}
	}
	return nil
}

// read reads every channel at a time inside the last step.
func (k *taken) read(seconds float64, values []float64) {
	for c, ch := range k.watched {
		values[c] = ch.ReadAt(seconds)
	}
}

// progress tells a person at a terminal how far a long run has come.
type progress struct {
	to          Streams
	until       float64
	began, last time.Time
	told        bool
}

// patience is how long a run may take before it tells how far it is, and how often it does then.
const patience, again = time.Second, 200 * time.Millisecond

func (p *progress) at(seconds float64) {
	if p.to.Now == nil || !p.to.ErrTerminal {
		return
	}
	now := p.to.Now()
	if p.began.IsZero() {
		p.began = now
	}
	if now.Sub(p.began) < patience || now.Sub(p.last) < again {
		return
	}
	p.last, p.told = now, true
	fmt.Fprintf(p.to.Err, "\r\x1b[K%s of %s, %.0f %% (Ctrl+C ends it)", plot.Time(seconds, p.until), written(p.until), 100*seconds/p.until)
}

func (p *progress) end() {
	if p.told {
		fmt.Fprint(p.to.Err, "\r\x1b[K")
	}
}

// write writes the files that were asked for.
func (k *taken) write() error {
	if k.csv != "" {
		var table strings.Builder
		if err := writeCSV(&table, k.rec); err != nil {
			return err
		}
		if err := savedCSV(k.csv, table.String()); err != nil {
			return err
		}
	}
	if k.svg != "" {
		return saveSVG(k.svg, func(w io.Writer) error { return k.picture(w) })
	}
	return nil
}

func savedCSV(name, table string) error {
	err := replace(name, []byte(table), 0o644)
	var trouble *fs.PathError
	if errors.As(err, &trouble) {
		err = trouble.Err
	}
	if err != nil {
		return fmt.Errorf("--csv %s: cannot be written: %w", name, err)
	}
	return nil
}

// whatColumn heads the column of what was done and noticed.
const whatColumn = "what happens"

// writeCSV writes a recording as RFC 4180 has it: a line for each row, ended by CR LF, fields quoted where they need it.
// The first column is seconds. Modes are written as their words. What was done or noticed stands in the first row at or
// after its time.
func writeCSV(w io.Writer, r *record.Recording) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	head := []string{"seconds"}
	for _, ch := range r.Channels() {
		name := ch.Name
		if ch.Unit != "" {
			name += " (" + ch.Unit + ")"
		}
		head = append(head, name)
	}
	_ = out.Write(append(head, whatColumn)) // what is wrong comes with Error
	marks := r.Marks()
	for i := range r.Rows() {
		row := []string{seconds(r.Seconds(i))}
		for c, ch := range r.Channels() {
			row = append(row, cell(ch, r.Value(i, c)))
		}
		var what []string
		for len(marks) > 0 && (marks[0].Seconds <= r.Seconds(i) || i == r.Rows()-1) {
			what = append(what, marks[0].Words)
			marks = marks[1:]
		}
		_ = out.Write(append(row, strings.Join(what, "; ")))
	}
	out.Flush()
	return out.Error()
}

// seconds writes a time to a nanosecond, without a power of ten.
func seconds(v float64) string {
	text := strconv.FormatFloat(v, 'f', 9, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// cell writes a value with nine digits, which is more than the computation has.
func cell(ch record.Channel, v float64) string {
	if i := int(math.Round(v)); len(ch.Words) > 0 && i >= 0 && i < len(ch.Words) {
		return ch.Words[i]
	}
	return strconv.FormatFloat(v, 'g', 9, 64)
}
