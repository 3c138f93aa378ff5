package main

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"
)

// progressAfter is how long work stays silent.
const progressAfter = time.Second

// A progress says on a screen what is being done, once it takes over a second,
// and wipes its line at the end.
type progress struct {
	w     io.Writer
	mu    sync.Mutex
	timer *time.Timer
	stage string
	shown int // length of the line on the screen, 0 while silent
	late  bool
}

// newProgress starts the clock. It stays silent when w is no screen.
func newProgress(w io.Writer) *progress {
	p := &progress{w: w}
	if isTerminal(w) {
		p.timer = time.AfterFunc(progressAfter, p.begin)
	}
	return p
}

func (p *progress) begin() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.late = true
	p.show()
}

// at names the stage that begins.
func (p *progress) at(stage string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.stage = stage
	if p.late {
		p.show()
	}
}

// counted names the stage that begins and says, whenever a part more of it is
// done, how far it is. It may be called by several goroutines.
func (p *progress) counted(stage string) func(done, of int) {
	return func(done, of int) {
		const parts = 50
		if done == of || done*parts/of != (done-1)*parts/of {
			p.at(fmt.Sprintf("%s, %d of %d ...", stage, done, of))
		}
	}
}

// show rewrites the line; the caller holds the lock.
func (p *progress) show() {
	p.wipe()
	if p.stage != "" {
		fmt.Fprint(p.w, p.stage)
		p.shown = len(p.stage)
	}
}

func (p *progress) wipe() {
	if p.shown > 0 {
		fmt.Fprint(p.w, "\r", strings.Repeat(" ", p.shown), "\r")
		p.shown = 0
	}
}

// done wipes the line and ends the progress.
func (p *progress) done() {
	if p.timer != nil {
		p.timer.Stop()
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.late, p.stage = false, ""
	p.wipe()
}
