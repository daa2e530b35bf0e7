package web

// This file makes the program that a browser runs: it is part of a released program, and otherwise built from the
// source with the Go tools of this machine, and kept among the person's cached files.

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// Program is this program for a browser, packed with gzip.
type Program struct {
	Packed  []byte // underload.wasm
	Start   []byte // wasm_exec.js, the piece of the Go tools that starts it
	Size    int    // of underload.wasm unpacked, bytes
	Version string // another for every build
}

// Progress is how far a build is. The zero Progress is a build that has just begun.
type Progress struct {
	Ready   bool   `json:"ready"`
	Version string `json:"version,omitempty"` // when ready
	Bytes   int    `json:"bytes,omitempty"`   // when ready: what is loaded, unpacked
	Failed  string `json:"failed,omitempty"`  // why there is no program, and what to do
	Done    int    `json:"done,omitempty"`    // packages compiled
	Of      int    `json:"of,omitempty"`      // at most so many
	Now     string `json:"now,omitempty"`     // what is being done
}

// The names of the two files of a program.
const (
	packedName = "underload.wasm.gz"
	startName  = "wasm_exec.js.gz"
)

// Build gives the program for a browser, from within this one, from the cache, or from the source.
func Build(ctx context.Context, tell func(Progress)) (*Program, error) {
	if embedded != nil {
		return readProgram(embedded)
	}
	root, err := sourceRoot()
	if err != nil {
		return nil, err
	}
	tell(Progress{Now: "looking at the source"})
	key, err := sourceKey(ctx, root)
	if err != nil {
		return nil, err
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = os.TempDir()
	}
	folder := filepath.Join(cache, "underload", "browser")
	kept := filepath.Join(folder, key)
	if p, err := readProgram(os.DirFS(kept)); err == nil {
		return p, nil
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return nil, err
	}
	fresh, err := os.MkdirTemp(folder, "new-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(fresh)
	if err := Pack(ctx, root, fresh, tell); err != nil {
		return nil, err
	}
	p, err := readProgram(os.DirFS(fresh))
	if err != nil {
		return nil, err
	}
	keepOnly(folder, fresh, kept)
	return p, nil
}

// keepOnly puts a fresh build in its place and throws older ones away. Should it fail, it is only built again next time.
func keepOnly(folder, fresh, kept string) {
	if os.Rename(fresh, kept) != nil {
		return
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		info, err := e.Info()
		path := filepath.Join(folder, e.Name())
		if err != nil || path == kept || strings.HasPrefix(e.Name(), "new-") && time.Since(info.ModTime()) < time.Hour {
			continue // another build may be under way
		}
		os.RemoveAll(path)
	}
}

// readProgram reads what Pack wrote.
func readProgram(from fs.FS) (*Program, error) {
	p := &Program{}
	var err error
	if p.Packed, err = fs.ReadFile(from, packedName); err != nil {
		return nil, err
	}
	if p.Start, err = fs.ReadFile(from, startName); err != nil {
		return nil, err
	}
	zip, err := gzip.NewReader(bytes.NewReader(p.Packed))
	if err != nil {
		return nil, err
	}
	size, err := io.Copy(io.Discard, zip)
	if err != nil {
		return nil, err
	}
	p.Size, p.Version = int(size), version(append(append([]byte{}, p.Packed...), p.Start...))
	return p, nil
}

// Pack builds the program for a browser from the source in a folder and writes its two files into another.
func Pack(ctx context.Context, root, into string, tell func(Progress)) error {
	listed, err := goTool(ctx, root, "list", "-deps", ".")
	if err != nil {
		return err
	}
	of := bytes.Count(listed, []byte("\n"))
	wasm := filepath.Join(into, "underload.wasm")
	if err := compile(ctx, root, wasm, of, tell); err != nil {
		return err
	}
	defer os.Remove(wasm)
	tell(Progress{Done: of, Of: of, Now: "packing"})
	goroot, err := goTool(ctx, root, "env", "GOROOT")
	if err != nil {
		return err
	}
	for from, to := range map[string]string{
		wasm: packedName,
		filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "wasm_exec.js"): startName,
	} {
		text, err := os.ReadFile(from)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(into, to), pack(text, gzip.BestCompression), 0o666); err != nil {
			return err
		}
	}
	return nil
}

// compile runs the compiler and counts the packages that it names as it goes.
func compile(ctx context.Context, root, wasm string, of int, tell func(Progress)) error {
	cmd := goCommand(ctx, root, "build", "-v", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", wasm, ".")
	said, err := cmd.StderrPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return noGo(err)
	}
	var wrong []string
	lines := bufio.NewScanner(said)
	for done := 0; lines.Scan(); {
		line := lines.Text()
		if strings.ContainsAny(line, " :#") { // not the name of a package
			wrong = append(wrong, line)
			continue
		}
		done++
		tell(Progress{Done: min(done, of), Of: of, Now: line})
	}
	if err := cmd.Wait(); err != nil {
		return fmt.Errorf("the program for the browser could not be built (%w): %s", err, strings.Join(wrong[max(0, len(wrong)-10):], "\n"))
	}
	return nil
}

// goCommand is the Go tool, set to build for a browser.
func goCommand(ctx context.Context, root string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, "go", args...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	return cmd
}

func goTool(ctx context.Context, root string, args ...string) ([]byte, error) {
	out, err := goCommand(ctx, root, args...).Output()
	if err != nil {
		return nil, noGo(err)
	}
	return out, nil
}

// noGo explains why the Go tool did not do its work.
func noGo(err error) error {
	if errors.Is(err, exec.ErrNotFound) {
		return errors.New("the program for the browser is built on first use, which needs the Go tools on this machine: install Go, or use a released program, which has it inside")
	}
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return fmt.Errorf("the Go tool stopped (%w): %s", err, bytes.TrimSpace(exit.Stderr))
	}
	return err
}

// sourceRoot finds the folder of this program's source.
func sourceRoot() (string, error) {
	_, here, _, _ := runtime.Caller(0)
	root := filepath.Dir(filepath.Dir(filepath.Dir(here)))
	if text, err := os.ReadFile(filepath.Join(root, "go.mod")); err == nil && bytes.HasPrefix(text, []byte("module underload\n")) {
		return root, nil
	}
	return "", errors.New("this program has no build for the browser inside, and its source is not on this machine: build it with go run ./ui/web/pack and go build -tags packed, or start it with go run in its source folder")
}

// sourceKey is another for every source and every version of the Go tools.
func sourceKey(ctx context.Context, root string) (string, error) {
	tools, err := goTool(ctx, root, "version")
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	sum.Write(tools)
	err = filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() {
			if name := e.Name(); path != root && (strings.HasPrefix(name, ".") || name == "testdata" || name == "web" && filepath.Base(filepath.Dir(path)) == "ui") {
				return fs.SkipDir
			}
			return nil
		}
		name := e.Name()
		if strings.HasSuffix(name, "_test.go") || !e.Type().IsRegular() {
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		relative, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		fmt.Fprintf(sum, "%s %d\n", filepath.ToSlash(relative), len(text))
		sum.Write(text)
		return nil
	})
	return hex.EncodeToString(sum.Sum(nil)[:16]), err
}
