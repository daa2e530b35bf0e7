package view

// This file is the log of readings, kept as a file with one reading a line (JSON lines) and read back.

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"

	"underload/sim/meter"
)

// Entry is one reading in the log, with what was set up for it, or something that was noticed.
type Entry struct {
	Number  int           `json:"number"`
	Setup   []string      `json:"setup,omitempty"`   // settings in their order: KEY=run, C14 apart
	Seconds *float64      `json:"seconds,omitempty"` // when, while time ran; nil: at rest
	Noticed string        `json:"noticed,omitempty"` // what happened then, in words, in place of a reading
	Reading meter.Reading `json:"reading,omitzero"`
}

// logHead is the first line of a log: what it is of.
type logHead struct {
	Log     int    `json:"underload_log"` // version of the form: 1
	Circuit string `json:"circuit"`
}

const logVersion = 1

// mostLogLine is the longest line that is read, bytes.
const mostLogLine = 1 << 20

// WriteLog writes a log: a head line, then a line a reading, each a JSON object.
func WriteLog(circuit string, entries []Entry) ([]byte, error) {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(logHead{logVersion, circuit}); err != nil {
		return nil, err
	}
	for _, e := range entries {
		if err := enc.Encode(e); err != nil {
			return nil, err
		}
	}
	return out.Bytes(), nil
}

// ReadLog reads what WriteLog wrote. Errors name the file and the line.
func ReadLog(file string, data []byte) (circuit string, entries []Entry, err error) {
	lines := bufio.NewScanner(bytes.NewReader(data))
	lines.Buffer(nil, mostLogLine)
	n := 0
	for lines.Scan() {
		n++
		line := bytes.TrimSpace(lines.Bytes())
		if n == 1 {
			var head logHead
			if json.Unmarshal(line, &head) != nil || head.Log == 0 {
				return "", nil, fmt.Errorf("%s:1: this is no log of readings: its first line has to be like {\"underload_log\":1,\"circuit\":\"...\"}", file)
			}
			if head.Log != logVersion {
				return "", nil, fmt.Errorf("%s:1: the log is of form %d, and this program reads form %d", file, head.Log, logVersion)
			}
			circuit = head.Circuit
			continue
		}
		if len(line) == 0 {
			continue
		}
		e, err := readEntry(line)
		if err != nil {
			return "", nil, fmt.Errorf("%s:%d: %w", file, n, err)
		}
		entries = append(entries, e)
	}
	if err := lines.Err(); err != nil {
		return "", nil, fmt.Errorf("%s:%d: %w: a line of a log has at most %d bytes", file, n+1, err, mostLogLine)
	}
	if n == 0 {
		return "", nil, fmt.Errorf("%s:1: the log is empty", file)
	}
	return circuit, entries, nil
}

// readEntry reads one line. A key that is not known is refused, so that a slip is not lost in silence.
func readEntry(line []byte) (Entry, error) {
	var e Entry
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&e); err != nil {
		return e, fmt.Errorf("this line is no reading: %w", err)
	}
	if e.Number < 1 || (e.Reading.Instrument == "") == (e.Noticed == "") {
		return e, fmt.Errorf("this line is no reading: it needs a number from 1 on and an instrument, or what was noticed")
	}
	return e, nil
}
