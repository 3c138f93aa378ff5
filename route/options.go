package route

// Options sets how a file becomes a Profile. The zero value means the
// defaults of DefaultOptions.
type Options struct {
	// Track selects a track or route by name or 1-based number; "" takes
	// the longest and reports the others.
	Track string
	// SpacingM is the nominal grid step, metres. 0 means 5 m.
	SpacingM float64
}
