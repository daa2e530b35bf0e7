package command

// This file is new: it starts a circuit file from a pattern, or by asking plain questions.

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"underload/circuit"
	"underload/circuit/draft"
)

func newCommand(p *page) *cobra.Command {
	var pattern, file string
	cmd := &cobra.Command{
		Use: "new [--pattern NAME] [--out FILE]", Short: "Start a circuit file, by plain questions or from a pattern",
		Long: paragraphs("Asks what is silent, how it is fed and where its ground goes, and writes a circuit file of it: Enter takes what stands in brackets, < goes back a question. Nothing is written before the last answer, and no file is ever written over.",
			"Or starts from a pattern:") + "\n\n" + patternList(),
		Args: exactly(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if cmd.Flags().Changed("pattern") {
				return fromPattern(p, pattern, file)
			}
			d := &dialogue{in: bufio.NewScanner(cmd.InOrStdin()), say: cmd.ErrOrStderr(), echo: !typed(cmd.InOrStdin())}
			return d.hold(p, file)
		},
	}
	cmd.Flags().Var(word{&pattern, "NAME"}, "pattern", "start from a pattern instead of asking: "+strings.Join(draft.PatternNames(), ", "))
	cmd.Flags().VarP(word{&file, "FILE"}, "out", "o", "the file to write; it must not be there yet")
	err := cmd.RegisterFlagCompletionFunc("pattern", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return draft.PatternNames(), cobra.ShellCompDirectiveNoFileComp
	})
	if err != nil {
		panic("command: " + err.Error())
	}
	return cmd
}

func patternList() string {
	rows := &table{}
	for _, name := range draft.PatternNames() {
		_, says, _ := strings.Cut(draft.PatternTitle(name), ", ")
		rows.add("  "+name, says)
	}
	return strings.Join(rows.lines(), "\n")
}

// typed reports whether a person sits at the other end.
func typed(in io.Reader) bool {
	file, ok := in.(*os.File)
	if !ok {
		return false
	}
	info, err := file.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// fromPattern writes a pattern on the page, or into a new file.
func fromPattern(p *page, name, file string) error {
	text, err := draft.Pattern(name)
	if err != nil {
		return err
	}
	if file == "" {
		p.Write(text)
		return nil
	}
	return keep(p, file, text)
}

// keep writes a new file and says what to do with it.
func keep(p *page, file string, text []byte) error {
	if err := create(file, text); err != nil {
		return err
	}
	p.say("%s: %s", file, counted(bytes.Count(text, []byte("\n")), "line"))
	if strings.ContainsAny(file, " '\"$&;()") {
		file = strconv.Quote(file)
	}
	p.say("Next: change what it says to change, then underload check %s", file)
	if c, _ := circuit.Read(file, text); c != nil && len(c.OfKind("module")) > 0 {
		key := ""
		if c.Part("KEY") != nil {
			key = " --set KEY=run"
		}
		p.say("      underload probe %s%s --with roll-call", file, key)
	}
	return nil
}

// create writes a file that is not there yet, or nothing.
func create(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	var trouble *fs.PathError
	switch {
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s is there already and stays as it is: give another name", name)
	case errors.As(err, &trouble):
		return fmt.Errorf("%s cannot be written: %w", name, trouble.Err)
	case err != nil:
		return err
	}
	_, err = f.Write(text)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		os.Remove(name)
		return fmt.Errorf("%s cannot be written: %w", name, err)
	}
	return nil
}

// dialogue is a talk with a person, a line at a time.
type dialogue struct {
	in   *bufio.Scanner
	say  io.Writer
	echo bool // answers come from elsewhere and are shown as if typed
}

// errLeft ends a dialogue that was left before its end.
var errLeft = errors.New("the questions were left before the end: nothing was written")

// ask puts one question; Enter stands for usual.
func (d *dialogue) ask(question, usual string) (string, error) {
	fmt.Fprintf(d.say, "%s [%s] ", question, usual)
	if !d.in.Scan() {
		fmt.Fprintln(d.say)
		if errors.Is(d.in.Err(), bufio.ErrTooLong) {
			return "", fmt.Errorf("an answer is longer than anything a person types: nothing was written")
		}
		return "", errLeft
	}
	answer := strings.TrimSpace(d.in.Text())
	if d.echo {
		fmt.Fprintln(d.say, answer)
	}
	if answer == "" {
		return usual, nil
	}
	return answer, nil
}

// hold asks everything, shows what it comes to, and writes the file.
func (d *dialogue) hold(p *page, file string) error {
	if _, err := os.Lstat(file); file != "" && err == nil {
		return fmt.Errorf("%s is there already and stays as it is: give another name", file)
	}
	fmt.Fprintln(d.say, "Enter takes what stands in brackets, < goes back a question, Ctrl-D leaves.\nNothing is written before the end.")
	v := draft.Begin()
	for {
		if err := d.questions(v); err != nil {
			return err
		}
		text, err := v.Text()
		if err != nil {
			return err
		}
		fmt.Fprintln(d.say)
		for _, sentence := range v.Summary() {
			for _, line := range wrap(sentence, width) {
				fmt.Fprintln(d.say, line)
			}
		}
		fmt.Fprintln(d.say)
		back, err := d.finish(p, v, file, text)
		if !back {
			return err
		}
		v.Back()
	}
}

// questions asks all that are left.
func (d *dialogue) questions(v *draft.Interview) error {
	for {
		question, usual, more := v.Next()
		if !more {
			return nil
		}
		answer, err := d.ask(question, usual)
		if err != nil {
			return err
		}
		if answer == "<" {
			if !v.Back() {
				fmt.Fprintln(d.say, "  This is the first question.")
			}
			continue
		}
		if err := v.Answer(answer); err != nil {
			fmt.Fprintf(d.say, "  %s.\n", err.Error())
		}
	}
}

// finish asks for the file's name until one can be written, or the person goes back.
func (d *dialogue) finish(p *page, v *draft.Interview, file string, text []byte) (back bool, err error) {
	question, usual := "Which file shall it be?", unusedName(v.FileName())
	if file != "" {
		question, usual = "Write it to "+file+"? (yes, or < to go back)", "yes"
	}
	for {
		answer, err := d.ask(question, usual)
		switch {
		case err != nil:
			return false, err
		case answer == "<":
			return true, nil
		case file != "" && answer != "yes" && answer != "y":
			fmt.Fprintln(d.say, "  Enter writes it, < goes back, Ctrl-D leaves.")
			continue
		case file != "":
			answer = file
		case filepath.Ext(answer) == "":
			answer += ".yaml"
		}
		if err := keep(p, answer, text); err != nil {
			fmt.Fprintf(d.say, "  %s.\n", err.Error())
			if file != "" {
				return false, err
			}
			continue
		}
		return false, nil
	}
}

// unusedName is a file name, with a number where it is there already.
func unusedName(name string) string {
	base := strings.TrimSuffix(name, ".yaml")
	for n := 2; ; n++ {
		if _, err := os.Lstat(name); err != nil {
			return name
		}
		name = fmt.Sprintf("%s-%d.yaml", base, n)
	}
}
