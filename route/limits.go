package route

// Limits on what a file may ask of the reader. They bound memory, not
// ambition: a day's ride recorded every second has 86,400 points in about
// 20 MB. All are choices of this program, no source.
const (
	// MaxBytes is the greatest size read, bytes after decompression.
	MaxBytes = 256 << 20
	// MaxTokenBytes is the longest single piece of markup or text, bytes.
	MaxTokenBytes = 4 << 20
	// MaxPoints is the greatest number of track and route points in a file.
	MaxPoints = 1_000_000
	// MaxTracks is the greatest number of tracks and routes in a file.
	MaxTracks = 10_000
	// MaxLengthM is the longest route, metres.
	MaxLengthM = 2_000_000
	// MaxNodes is the greatest number of grid nodes of a Profile.
	MaxNodes = 2_000_000
	// MaxNameRunes is where a name is cut, runes.
	MaxNameRunes = 200
)

const (
	// batchPoints is how many points go to the GPX library at a time.
	batchPoints = 1024
	// maxLeafBytes is where the text of a number or a time is cut; MaxNameRunes
	// of the longest runes and some markup fit into maxNameBytes.
	maxLeafBytes = 256
	maxNameBytes = 4096
)

// caps are the limits of one reading; tests set lower ones.
type caps struct {
	bytes, token   int64
	points, tracks int
}

func defaultCaps() caps {
	return caps{bytes: MaxBytes, token: MaxTokenBytes, points: MaxPoints, tracks: MaxTracks}
}
