package view

// This file hands over what the scope has recorded as a picture, as trace --svg draws it.

import (
	"bytes"
	"fmt"
	"strings"

	"underload/sim/record"
	"underload/ui/plot"
)

func (v *View) hasTrace() bool {
	return v.scopeNow().has()
}

// saveTrace is of the screen that is shown; what was done stands beside what was noticed.
func (v *View) saveTrace() {
	shown, ok := v.scopeNow().shown()
	if !ok {
		v.tell("The scope still waits for its trigger.")
		return
	}
	first, last := shown.Span()
	part := shown.Recording.Part(max(first, shown.From), min(last, shown.To))
	seen := v.now.at
	for i := len(v.past); i >= 0; i-- { // what was done, the latest first
		s := v.now
		if i < len(v.past) {
			s = v.past[i]
		}
		if len(s.did) > 0 && s.at >= 0 && (i == len(v.past) || s.at <= seen) {
			part.Mark(record.Mark{Seconds: s.at, Words: strings.Join(s.did, ", "), Done: true})
			seen = s.at
		}
	}
	var out bytes.Buffer
	err := plot.DrawSVG(&out, plot.Page{Title: v.title(), Setting: v.settingWords(), Recording: part, Notes: []string{"A model, a help to thinking."}})
	if err != nil {
		v.tell(spoken(err))
		return
	}
	v.want(Want{Kind: SaveFile, Name: v.fileName() + "-trace.svg", Data: out.Bytes()})
}

// settingWords is what is set, as far as everybody may know it.
func (v *View) settingWords() string {
	words := v.now.setup
	const most = 12
	more := ""
	if len(words) > most {
		more = fmt.Sprintf(", and %d things before", len(words)-most)
		words = words[len(words)-most:]
	}
	return strings.Join(words, ", ") + more
}
