// Command rimheat tells, before the ride, how hot the rims of a rim-braked
// bicycle get on the descents of a planned route: GPX in, rim temperatures
// out.
//
// This package holds the command line and the views; it computes no physics.
// Start reading at run.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"
)

func main() {
	// A reader that goes away (head) shows as an error of the write, so that
	// the exit code stays ours.
	signal.Ignore(syscall.SIGPIPE)
	// A run is short and small: collecting garbage less often saves a tenth
	// of its time. The limit keeps a very large route in bounds all the same.
	debug.SetGCPercent(400)
	debug.SetMemoryLimit(512 << 20)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	ended := make(chan int)
	go func() { ended <- run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr) }()
	select {
	case code := <-ended:
		os.Exit(code)
	case <-ctx.Done():
	}
	// Work that looks at ctx ends by itself, and a file that is just being
	// written is written whole; reading a very large route is cut off.
	select {
	case code := <-ended:
		os.Exit(code)
	case <-time.After(grace):
		os.Exit(report(os.Stderr, context.Canceled))
	}
}

// grace is how long the program goes on after it was interrupted.
const grace = 700 * time.Millisecond
