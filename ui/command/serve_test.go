//go:build unix

package command

// This file tries the command that stays open.

import (
	"bufio"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
)

// serve answers on this machine only, gives the file that was opened as it is now and the faults that lie on it, and ends with Ctrl+C. No command does
// the same for a person at a terminal.
func TestServe(t *testing.T) {
	t.Setenv("PATH", "") // no Go tools: nothing is built meanwhile
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	path := filepath.Join(t.TempDir(), "my.yaml")
	source, err := os.ReadFile("testdata/small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, source, 0o666); err != nil {
		t.Fatal(err)
	}
	faults := filepath.Join(t.TempDir(), "my.faults")
	if err := os.WriteFile(faults, []byte("F1 blown\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	read, write := io.Pipe()
	ended := make(chan int)
	go func() {
		ended <- Run([]string{"serve", path, "--faults", faults, "--hide", "--listen", "localhost:0"}, Streams{Out: write, Err: write})
		write.Close()
	}()
	line, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	address := regexp.MustCompile(`^my\.yaml is served at (http://localhost:\d+/) \(Ctrl\+C ends it\)\n$`).FindStringSubmatch(line)
	if address == nil {
		t.Fatalf("it says %q", line)
	}
	go io.Copy(io.Discard, read)
	answer, err := http.Get(address[1] + "circuit")
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(answer.Body)
	if err != nil || !strings.Contains(string(text), `"name":"my.yaml"`) || !strings.Contains(string(text), "underload: 1") ||
		!strings.Contains(string(text), `"faults":["F1 blown"],"hide":true`) {
		t.Errorf("it gives %s (%v)", text, err)
	}
	if err := syscall.Kill(os.Getpid(), syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	if status := <-ended; status != done {
		t.Errorf("it ends with %d", status)
	}
}
