// Package thermal answers one question about a planned ride: how hot do the
// rims of a rim-braked bicycle get on its descents, and does each candidate
// rim stay within its limit? Start with Assess.
//
// It is pure computation: it reads no files and no clock.
package thermal

import (
	"errors"

	"rimheat/route"
)

// Assess rides the profile once with the setup and holds every candidate rim
// against its limits.
func Assess(p *route.Profile, s Setup) (*Assessment, error) {
	return nil, errors.New("not yet")
}
