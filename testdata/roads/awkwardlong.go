package roads

import (
	"encoding/xml"
	"io"
	"strconv"
	"time"
)

// AwkwardLong is a file of n points every spacingM metres over gentle passes,
// made while it is read, so that only its reader needs memory. The clock runs
// and every height has three decimals.
func AwkwardLong(n int, spacingM float64) (io.Reader, *Road) {
	length := float64(n-1) * spacingM
	var slopes []Slope
	for m := 0.0; m < length; m += 20_000 {
		slopes = append(slopes, Slope{9_000, 0.05}, Slope{1_000, 0}, Slope{8_000, -0.055}, Slope{2_000, -0.005})
	}
	b := NewBuilder(-0.4, -24, 300, slopes)
	b.Straight(b.road.LengthM())
	r := b.Road()
	return &longFile{road: r, n: n, spacingM: spacingM}, r
}

// A longFile gives the text of a track point by point.
type longFile struct {
	road     *Road
	n, next  int
	spacingM float64
	buf      []byte
	read     int // bytes of buf given already
}

func (f *longFile) Read(p []byte) (int, error) {
	if f.read == len(f.buf) {
		if f.next > f.n {
			return 0, io.EOF
		}
		f.buf, f.read = f.more(f.buf[:0]), 0
	}
	n := copy(p, f.buf[f.read:])
	f.read += n
	return n, nil
}

func (f *longFile) more(b []byte) []byte {
	if f.next == 0 {
		b = append(b, xml.Header+gpxTag+"\n<trk><name>Long (invented)</name><trkseg>\n"...)
	}
	const batch = 256
	for range batch {
		if f.next == f.n {
			f.next++
			return append(b, "</trkseg></trk></gpx>\n"...)
		}
		m := float64(f.next) * f.spacingM
		lat, lon := f.road.PositionAt(m)
		b = append(b, `<trkpt lat="`...)
		b = strconv.AppendFloat(b, lat, 'f', 8, 64)
		b = append(b, `" lon="`...)
		b = strconv.AppendFloat(b, lon, 'f', 8, 64)
		b = append(b, `"><ele>`...)
		b = strconv.AppendFloat(b, f.road.HeightAt(m), 'f', 3, 64)
		b = append(b, `</ele><time>`...)
		b = AwkwardStart.Add(time.Duration(f.next)*time.Second).AppendFormat(b, "2006-01-02T15:04:05Z")
		b = append(b, "</time></trkpt>\n"...)
		f.next++
	}
	return b
}
