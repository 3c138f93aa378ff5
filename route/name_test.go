package route_test

import (
	"testing"

	"rimheat/route"
)

// TestTerminalStringsLeaveNames: titles and links that a terminal would obey
// go with all they hold; one without an end hides no text.
func TestTerminalStringsLeaveNames(t *testing.T) {
	for in, want := range map[string]string{
		"a\x1b]0;title\x07b":   "ab",
		"a\x1b]2;title\x1b\\b": "ab",
		"a\x1b]8;;http://example.invalid/\x1b\\link\x1b]8;;\x1b\\b":   "alinkb",
		"a\x1b]8;id=1;http://example.invalid/\x07link\x1b]8;;\x07b":   "alinkb",
		"a\u009d8;;http://example.invalid/\u009clink\u009d8;;\u009cb": "alinkb",
		"a\x1bPq#0;2;0;0;0\x1b\\b":                                    "ab",
		"a\x1b_x\x1b\\\x1b^y\x1b\\b":                                  "ab",
		"a\u0098x\u009cb":                                             "ab",
		"a\x1b[1;31mred\x1b[0mb":                                      "aredb",
		"a\u009b2Jb":                                                  "ab",
		"a\x1b]0;b":                                                   "a0;b",
		"a\x1b]":                                                      "a",
		"a\x1b":                                                       "a",
		"a\u009d":                                                     "a",
		"aÂb [c] ]d":                                                  "aÂb [c] ]d", // U+00C2 is no control character
		"\x1b]0;\u00c2\x9c\u009crest":                                 "rest",
	} {
		tr := slope(3, 10, 0)
		tr.Name = in
		p, err := route.NewProfile(tr, route.Options{})
		if err != nil || p.Name != want {
			t.Errorf("%q became %q, want %q; %v", in, p.Name, want, err)
		}
	}
}
