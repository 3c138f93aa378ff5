package route

import "rimheat/route/terrain"

// Options sets how a file becomes a Profile. The zero value means the
// defaults of DefaultOptions.
type Options struct {
	// Track selects a track or route by name or 1-based number; "" takes
	// the longest and reports the others.
	Track string
	// SpacingM is the nominal grid step, metres. 0 means 5 m.
	SpacingM float64
	// SmoothM is the wavelength of height, metres, that is halved in amplitude;
	// 0 finds from the heights how much they need. MinSmoothM to MaxSmoothM.
	SmoothM float64
	// RawHeights leaves the repaired heights as they are.
	RawHeights bool
	// Replay takes the recorded times: Profile.Ride says when the rider was
	// where. Times that are not a rider's are an error.
	Replay bool
	// Tiles, if not nil, gives all heights in place of the file.
	Tiles *terrain.Tiles
}
