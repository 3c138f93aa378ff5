package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden holds got against a file of testdata.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name+".golden")
	if *update {
		if err := os.MkdirAll("testdata", 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(got, want) {
		return
	}
	g, w := bytes.Split(got, []byte("\n")), bytes.Split(want, []byte("\n"))
	for i := range max(len(g), len(w)) {
		var a, b []byte
		if i < len(g) {
			a = g[i]
		}
		if i < len(w) {
			b = w[i]
		}
		if !bytes.Equal(a, b) {
			t.Fatalf("%s:%d differs\n got: %s\nwant: %s", path, i+1, a, b)
		}
	}
	t.Fatalf("%s differs", path)
}

// A result is what one run of the program gave.
type result struct {
	code        int
	out, errOut string
}

// runWith runs the program in this process.
func runWith(stdin string, args ...string) result {
	var out, errOut bytes.Buffer
	code := run(context.Background(), args, bytes.NewBufferString(stdin), &out, &errOut)
	return result{code, out.String(), errOut.String()}
}
