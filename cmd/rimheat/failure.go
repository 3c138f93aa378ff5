package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"rimheat/route"
)

// The exit codes; the help prints them from exitCodes.
const (
	exitDone   = 0
	exitFailed = 1
	exitInput  = 2
	exitOver   = 3
	// exitInterrupted is what shells give for SIGINT.
	exitInterrupted = 130
)

const exitCodes = `  0    done
  1    failed: the assessment could not be made or its output not be written
  2    bad input or usage: a flag, the setup file or the route
  3    with --strict: a candidate rim is over its limit, or its hot tyre over its
       maximum
  130  interrupted
`

// errOver is what --strict ends with; the result itself was printed.
var errOver = errors.New("a candidate rim is over its limit")

// A failure is an error with an exit code and, on lines of their own, hints
// that say what to try.
type failure struct {
	code  int
	what  string
	hints []string
}

func (f *failure) Error() string { return f.what }

// hint adds one line of advice.
func (f *failure) hint(format string, args ...any) *failure {
	f.hints = append(f.hints, fmt.Sprintf(format, args...))
	return f
}

// badInput is a failure that the user can mend: exit code 2.
func badInput(format string, args ...any) *failure {
	return &failure{code: exitInput, what: fmt.Sprintf(format, args...)}
}

// failed is a failure of the program or its surroundings: exit code 1.
func failed(format string, args ...any) *failure {
	return &failure{code: exitFailed, what: fmt.Sprintf(format, args...)}
}

// report prints an error and gives the exit code. Messages go to stderr, start
// with the program's name in lower case and end without a full stop; hints
// follow on lines of their own.
func report(stderr io.Writer, err error) int {
	var (
		f  *failure
		in *route.InputError
	)
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errOver):
		return exitOver
	case errors.Is(err, context.Canceled):
		f = &failure{code: exitInterrupted, what: "interrupted"}
	case errors.As(err, &f):
	case errors.As(err, &in):
		f = routeFailure(in)
	default:
		f = failed("%s", err)
	}
	fmt.Fprintf(stderr, "rimheat: %s\n", clean(f.what))
	for _, h := range f.hints {
		fmt.Fprintf(stderr, "  %s\n", clean(h))
	}
	return f.code
}

// routeFailure puts what to do about a route file on a line of its own.
func routeFailure(in *route.InputError) *failure {
	bare := *in
	bare.Do = ""
	if bare.File == "-" {
		bare.File = "standard input"
	}
	f := badInput("%s", strings.TrimSuffix(bare.Error(), "."))
	if in.Do != "" {
		f.hint("%s", in.Do)
	}
	return f
}
