// Command rimheat tells, before the ride, how hot the rims of a rim-braked
// bicycle get on the descents of a planned route: GPX in, rim temperatures
// out.
//
// This package holds the command line and the views; it computes no physics.
// Start reading at run.
package main

import (
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

func main() {
	// A reader that goes away (head) shows as an error of the write, so that
	// the exit code stays ours.
	signal.Ignore(syscall.SIGPIPE)
	// A run is short and small: collecting garbage less often saves a tenth
	// of its time. The limit keeps a very large route in bounds all the same.
	debug.SetGCPercent(400)
	debug.SetMemoryLimit(512 << 20)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
