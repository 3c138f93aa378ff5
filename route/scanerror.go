package route

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
)

func (s *scanner) fail(what, do string) error { return s.failAt(s.line, what, do) }

func (s *scanner) failAt(line int, what, do string) error {
	return &InputError{File: s.file, Line: line, What: what, Do: do}
}

// sourceError words a failure of the XML reader or of what feeds it.
func (s *scanner) sourceError(err error) error {
	line, _ := s.dec.InputPos()
	var syntax *xml.SyntaxError
	isSyntax := errors.As(err, &syntax)
	switch {
	case errors.Is(err, errTooLarge):
		return s.failAt(line, "the file is larger than "+count(int(s.caps.bytes>>20))+" MiB, the limit", "keep only the track to be judged")
	case errors.Is(err, errTooLong):
		return s.failAt(line, "a single tag or text is longer than "+count(int(s.caps.token>>20))+" MiB, the limit", "export the route again")
	case err == io.EOF && s.where == outside:
		return &InputError{File: s.file, What: "not XML: no tag found", Do: "export the route as GPX"}
	case err == io.EOF, errors.Is(err, io.ErrUnexpectedEOF), isSyntax && syntax.Msg == "unexpected EOF":
		what := "the file is cut short"
		if n := len(s.sections); n > 0 && s.sections[n-1].last > s.sections[n-1].first {
			what += " after point " + count(s.sections[n-1].last-s.sections[n-1].first)
		}
		return s.failAt(line, what, "copy or export it again")
	case isSyntax && strings.HasPrefix(syntax.Msg, "invalid character entity &") && strings.HasSuffix(syntax.Msg, ";"):
		entity := strings.TrimPrefix(syntax.Msg, "invalid character entity ")
		return s.failAt(syntax.Line, "the text uses the entity "+cleanName(entity)+" of its own or of another file; such are not read", "write plain text in its place, or export the route again")
	case isSyntax && strings.HasPrefix(syntax.Msg, "invalid character entity &"):
		return s.failAt(syntax.Line, "not well-formed XML: a bare & in the text", "write &amp; in its place, or export the route again")
	case isSyntax && s.where == outside && s.points == 0:
		return s.failAt(syntax.Line, "not XML, or damaged at its start: "+cleanName(syntax.Msg), "export the route as GPX")
	case isSyntax:
		return s.failAt(syntax.Line, "not well-formed XML: "+cleanName(syntax.Msg), "export the route again")
	}
	return s.failAt(line, "cannot be read: "+cleanName(err.Error()), "copy or export the file again")
}
