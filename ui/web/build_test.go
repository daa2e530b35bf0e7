package web

// This file tries the cache of builds: what is read back, and when it is built anew.

import (
	"compress/gzip"
	"os"
	"path/filepath"
	"testing"
)

// What is kept in the cache is read back as it was, and what is damaged is not taken.
func TestReadProgram(t *testing.T) {
	folder := t.TempDir()
	write := func(name string, text []byte) {
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	packed := pack([]byte("\x00asm and so on"), gzip.BestCompression)
	write(packedName, packed)
	if _, err := readProgram(os.DirFS(folder)); err == nil {
		t.Error("half a program is taken")
	}
	write(startName, pack([]byte("start"), gzip.BestCompression))
	p, err := readProgram(os.DirFS(folder))
	if err != nil || p.Size != len("\x00asm and so on") || p.Version == "" {
		t.Fatalf("%+v %v", p, err)
	}
	write(packedName, packed[:len(packed)-6])
	if _, err := readProgram(os.DirFS(folder)); err == nil {
		t.Error("a damaged program is taken")
	}
}

// The key of the cache is another when the source is, and the same when nothing changed.
func TestSourceKey(t *testing.T) {
	folder := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		key, err := sourceKey(t.Context(), folder)
		if err != nil {
			t.Fatal(err)
		}
		return key
	}
	first := write("main.go", "package main")
	for _, row := range []struct {
		name, text string
		other      bool
	}{{"main.go", "package main", false}, {"main_test.go", "x", false}, {"testdata/a", "x", false}, {".git/a", "x", false}, {"ui/web/a.go", "x", false},
		{"main.go", "package main\n", true}, {"a/b.yaml", "x", true}} {
		now := write(row.name, row.text)
		if (now != first) != row.other {
			t.Errorf("after %s: another key %v, want %v", row.name, now != first, row.other)
		}
		first = now
	}
}
