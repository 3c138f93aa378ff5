package plots

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"rimheat/thermal"
)

// page writes the handout as a page and reads it.
func page(t *testing.T, a *thermal.Assessment, opt ReportOptions) (*html.Node, string) {
	t.Helper()
	var b bytes.Buffer
	if err := SaveReport(&b, "html", a, opt); err != nil {
		t.Fatal(err)
	}
	doc, err := html.Parse(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	return doc, b.String()
}

// each walks over the elements of a page in their order.
func each(n *html.Node, do func(*html.Node)) {
	if n.Type == html.ElementNode {
		do(n)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		each(c, do)
	}
}

// find lists the elements of a name.
func find(n *html.Node, names ...string) []*html.Node {
	var out []*html.Node
	each(n, func(e *html.Node) {
		if slices.Contains(names, e.Data) {
			out = append(out, e)
		}
	})
	return out
}

// words is the text in an element as it is read: blanks run together, pictures by
// their descriptions, ties as blanks.
func words(n *html.Node) string {
	var b strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		switch {
		case n.Type == html.TextNode:
			b.WriteString(n.Data)
		case n.Data == "br":
			b.WriteString(" / ")
		case n.Data == "style":
			return
		case n.Data == "svg":
			for _, d := range find(n, "title", "desc") {
				b.WriteString(" [" + d.FirstChild.Data + "] ")
			}
			return
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(n)
	return strings.Join(strings.Fields(strings.ReplaceAll(b.String(), tie, " ")), " ")
}

func attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// content writes what a page says and how it is built, without how it looks.
func content(doc *html.Node) string {
	var b strings.Builder
	each(doc, func(n *html.Node) {
		switch n.Data {
		case "title", "h1", "h2", "h3", "p", "li", "caption", "figcaption", "dt":
			if n.Parent.Data != "svg" {
				fmt.Fprintf(&b, "%-10s %s\n", n.Data, words(n))
			}
		case "dd":
			fmt.Fprintf(&b, "%-10s     %s\n", n.Data, words(n))
		case "tr":
			var cells []string
			for _, c := range find(n, "th", "td") {
				cells = append(cells, words(c))
			}
			fmt.Fprintf(&b, "%-10s %s\n", n.Data, strings.Join(cells, " | "))
		case "figure":
			fmt.Fprintf(&b, "%-10s %s\n", n.Data, words(find(n, "svg")[0]))
		}
	})
	return b.String()
}

// checkPage holds a page to what every page must be: whole, alone, and readable
// without seeing it.
func checkPage(t *testing.T, name string, doc *html.Node, text string) {
	t.Helper()
	checkBalance(t, name, text)
	for _, no := range []string{"<script", "javascript:", "style=\"", "src=", "href=", "url(", "@import", "NaN", "Inf ", "+Inf", "%!", "{{", "<no value>"} {
		if strings.Contains(strings.ReplaceAll(text, "hanging", ""), no) {
			t.Errorf("%s: the page holds %q", name, no)
		}
	}
	if strings.Contains(text, "http:") || strings.Contains(text, "https:") {
		t.Errorf("%s: the page names an address", name)
	}
	known := strings.Fields("html head meta title style body div header main section article h1 h2 h3 p span b strong bdi br ul li dl dt dd figure figcaption table caption thead tbody tr th td svg desc g path text")
	ids, levels := map[string]int{}, 0
	each(doc, func(n *html.Node) {
		if !slices.Contains(known, n.Data) {
			t.Errorf("%s: an element <%s>", name, n.Data)
		}
		for _, a := range n.Attr {
			if strings.HasPrefix(a.Key, "on") {
				t.Errorf("%s: <%s> has %s", name, n.Data, a.Key)
			}
		}
		if id := attr(n, "id"); id != "" {
			ids[id]++
		}
		if len(n.Data) == 2 && n.Data[0] == 'h' && n.Data[1] >= '1' && n.Data[1] <= '6' {
			level := int(n.Data[1] - '0')
			if level > levels+1 {
				t.Errorf("%s: a heading of level %d after one of %d", name, level, levels)
			}
			levels = level
		}
	})
	for id, n := range ids {
		if n > 1 {
			t.Errorf("%s: the identifier %s stands %d times", name, id, n)
		}
	}
	each(doc, func(n *html.Node) {
		for _, ref := range strings.Fields(attr(n, "aria-labelledby")) {
			if ids[ref] != 1 {
				t.Errorf("%s: <%s> is labelled by %s, which is not there", name, n.Data, ref)
			}
		}
		switch n.Data {
		case "svg":
			if attr(n, "aria-hidden") != "true" && (attr(n, "role") != "img" || attr(n, "aria-labelledby") == "") {
				t.Errorf("%s: a picture without words", name)
			}
		case "section":
			if attr(n, "aria-labelledby") == "" {
				t.Errorf("%s: a section without a name", name)
			}
		case "th":
			if s := attr(n, "scope"); s != "row" && s != "col" {
				t.Errorf("%s: a heading of a table has scope %q", name, s)
			}
		case "table":
			if len(find(n, "caption")) != 1 {
				t.Errorf("%s: a table without caption", name)
			}
		}
	})
	if n := len(find(doc, "h1")); n != 1 {
		t.Errorf("%s: %d main headings", name, n)
	}
	if l := attr(find(doc, "html")[0], "lang"); l != "en" {
		t.Errorf("%s: the language is %q", name, l)
	}
	if !strings.Contains(text, `content="default-src 'none'; style-src 'unsafe-inline'"`) {
		t.Errorf("%s: no policy that keeps the page alone", name)
	}
}

// checkBalance holds every element that is opened to be closed in its turn.
func checkBalance(t *testing.T, name, text string) {
	t.Helper()
	var open []string
	z := html.NewTokenizer(strings.NewReader(text))
	for {
		switch z.Next() {
		case html.ErrorToken:
			if z.Err() != io.EOF {
				t.Errorf("%s: %v", name, z.Err())
			}
			if len(open) > 0 {
				t.Errorf("%s: %v are not closed", name, open)
			}
			return
		case html.StartTagToken:
			if tag := z.Token().Data; tag != "meta" && tag != "br" {
				open = append(open, tag)
			}
		case html.EndTagToken:
			tag := z.Token().Data
			if n := len(open); n == 0 || open[n-1] != tag {
				t.Fatalf("%s: </%s> closes %v", name, tag, open)
			}
			open = open[:len(open)-1]
		}
	}
}
