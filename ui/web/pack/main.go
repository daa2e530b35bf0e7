// Command pack builds the program for a browser into ui/web/packed, from where go build -tags packed puts it into a released
// program. Run it in the source folder: go run ./ui/web/pack
package main

// This file is the whole of it.

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"underload/ui/web"
)

func main() {
	into := filepath.Join("ui", "web", "packed")
	err := os.MkdirAll(into, 0o777)
	if err == nil {
		err = web.Pack(context.Background(), ".", into, func(p web.Progress) { fmt.Printf("%d of %d %s\n", p.Done, p.Of, p.Now) })
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
