package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strings"
	"sync"
	"syscall"
	"testing"
)

func TestWantsColour(t *testing.T) {
	for _, c := range []struct {
		toScreen      bool
		noColor, term string
		want          bool
	}{
		{true, "", "xterm", true},
		{true, "1", "xterm", false},
		{true, "0", "xterm", false}, // any value counts
		{true, "", "dumb", false},
		{false, "", "xterm", false},
	} {
		env := map[string]string{"NO_COLOR": c.noColor, "TERM": c.term}
		if got := wantsColour(c.toScreen, func(k string) string { return env[k] }); got != c.want {
			t.Errorf("%+v: got %v", c, got)
		}
	}
}

func TestFilesAndBuffersAreNoTerminal(t *testing.T) {
	f, err := os.CreateTemp(t.TempDir(), "")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, w := range []io.Writer{f, &bytes.Buffer{}} {
		if isTerminal(w) {
			t.Errorf("%T counts as a terminal", w)
		}
	}
}

// Progress shows nothing before its time, its stages after it, and an empty
// line at the end.
func TestProgress(t *testing.T) {
	var b bytes.Buffer
	p := newProgress(&b)
	p.at("first")
	if b.Len() > 0 {
		t.Errorf("too early: %q", b.String())
	}
	p.begin()
	p.at("second")
	p.done()
	p.begin()
	if want := "first\r     \rsecond\r      \r"; b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
}

// Work that is counted by many goroutines shows how far it is, and its end.
func TestProgressCountedOnManyCores(t *testing.T) {
	var b bytes.Buffer
	p := newProgress(&b)
	p.begin()
	told := p.counted("drawing")
	var wg sync.WaitGroup
	const of = 400
	for i := range of {
		wg.Go(func() { told(i+1, of) })
	}
	wg.Wait()
	p.done()
	if n := strings.Count(b.String(), "drawing,"); n != 50 || !strings.Contains(b.String(), "drawing, 400 of 400 ...") {
		t.Errorf("told %d times: %q", n, b.String())
	}
}

// A brokenWriter fails like a pipe whose reader went away, or like a full disk.
type brokenWriter struct{ err error }

func (w brokenWriter) Write([]byte) (int, error) { return 0, w.err }

func TestFailingStdout(t *testing.T) {
	for _, c := range []struct {
		err     error
		code    int
		message string
	}{
		{&os.PathError{Op: "write", Path: "|1", Err: syscall.EPIPE}, exitDone, ""},
		{&os.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.ENOSPC}, exitFailed, "rimheat: standard output: no space left on device\n"},
		{errors.New("gone"), exitFailed, "rimheat: standard output: gone\n"},
	} {
		var errOut bytes.Buffer
		code := run(t.Context(), []string{"parts"}, nil, brokenWriter{c.err}, &errOut)
		if code != c.code || errOut.String() != c.message {
			t.Errorf("%v: got %d %q", c.err, code, errOut.String())
		}
	}
}
