package route

import (
	"encoding/xml"
	"io"
)

// syntheticTokens are the fixed tokens of the small documents, boxed once.
type syntheticTokens struct {
	open, close                          []xml.Token
	pointEnd                             xml.Token
	eleStart, eleEnd, timeStart, timeEnd xml.Token
}

func newSyntheticTokens() syntheticTokens {
	start := func(s string) xml.Token { return xml.StartElement{Name: xml.Name{Local: s}} }
	end := func(s string) xml.Token { return xml.EndElement{Name: xml.Name{Local: s}} }
	return syntheticTokens{
		open:     []xml.Token{start("gpx"), start("trk"), start("trkseg")},
		close:    []xml.Token{end("trkseg"), end("trk"), end("gpx")},
		pointEnd: end("trkpt"),
		eleStart: start("ele"), eleEnd: end("ele"),
		timeStart: start("time"), timeEnd: end("time"),
	}
}

// startBatch makes the scanner ready to be read as one more small document.
func (s *scanner) startBatch() {
	s.meta = s.meta[:0]
	s.queue = append(s.queue[:0], s.tokens.open...)
	s.head = 0
	s.closed = false
}

// Token gives the next token of the current small document.
func (s *scanner) Token() (xml.Token, error) {
	for s.head == len(s.queue) {
		if s.closed {
			return nil, io.EOF
		}
		s.queue, s.head = s.queue[:0], 0
		more := false
		if len(s.meta) < batchPoints {
			var err error
			if more, err = s.next(); err != nil {
				s.err = err
				return nil, err
			}
		}
		if !more {
			s.queue = append(s.queue, s.tokens.close...)
			s.closed = true
		}
	}
	t := s.queue[s.head]
	s.head++
	return t, nil
}
