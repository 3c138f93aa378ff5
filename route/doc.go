// Package route reads a planned road from a GPX file and turns it into a
// Profile: distance, smoothed height, grade, heading and corner radius on a
// uniform grid, and the descents found in it.
//
// Start with Load, which is Read (file to Track) followed by NewProfile
// (Track to Profile). Both are deterministic: the same bytes and options give
// the same arrays.
//
// Whatever is wrong with a file comes back as an *InputError that names the
// file, the line or the point, and what to do. What could be mended is mended,
// counted and listed in Profile.Repairs; nothing is dropped in silence. Where
// the mending leaves a stretch not to be trusted, Profile.Doubtful has it.
//
// The package knows nothing of brakes, riders or heat, and it does not judge
// whether recorded times are genuine: it only carries them in Track.
package route
