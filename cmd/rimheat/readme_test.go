package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The sample in README.md is what the program prints; -update renews it.
func TestReadmeSample(t *testing.T) {
	path := filepath.Join("..", "..", "README.md")
	readme, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const open, shut = "<!-- sample: checked by the tests against what the program prints -->\n```\n", "\n```\n"
	head, rest, ok := strings.Cut(string(readme), open)
	if !ok {
		t.Fatal("README.md has lost its sample")
	}
	sample, tail, _ := strings.Cut(rest, shut)

	// The command is the first one that README.md tells people to run.
	_, after, _ := strings.Cut(head, "go run ./cmd/rimheat ")
	line, _, _ := strings.Cut(after, "\n")
	line, _, _ = strings.Cut(line, " --plot ")
	args := strings.Fields(line)
	for i, a := range args {
		if strings.HasPrefix(a, "testdata/") {
			args[i] = filepath.Join("..", "..", a)
		}
	}
	var out, errs bytes.Buffer
	if code := run(t.Context(), args, strings.NewReader(""), &out, &errs); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	got := strings.TrimRight(out.String(), "\n")
	if got == sample {
		return
	}
	if !*update {
		t.Fatal("the sample in README.md is not what the program prints; go test ./cmd/rimheat -update renews it")
	}
	if err := os.WriteFile(path, []byte(head+open+got+shut+tail), 0o644); err != nil {
		t.Fatal(err)
	}
}
