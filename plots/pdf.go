package plots

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"strings"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
)

// paintPDF writes the scene as a PDF of one page.
func paintPDF(w io.Writer, sc *scene) error {
	doc := newPDF(sc.w, sc.h)
	doc.AddPage()
	putOnPage(doc, sc, 0, 0)
	return writePDF(w, doc)
}

// newPDF begins a document of pages of the given size, points. The font's
// letters that are used are embedded, and the text can be searched.
func newPDF(w, h float64) *fpdf.Fpdf {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: w, Ht: h}})
	doc.SetCatalogSort(true)
	doc.SetCreationDate(noDate())
	doc.SetModificationDate(noDate())
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.AddUTF8FontFromBytes("figure", "", liberationsansregular.TTF)
	doc.AddUTF8FontFromBytes("figure", "B", liberationsansbold.TTF)
	doc.SetLineJoinStyle("round")
	return doc
}

// putOnPage paints a scene on the document's last page, its upper left corner so
// many points from the page's.
func putOnPage(doc *fpdf.Fpdf, sc *scene, left, top float64) {
	foot := top + sc.h
	for _, s := range sc.shapes {
		if len(s.pts) < 2 {
			continue
		}
		trace := func() {
			doc.MoveTo(left+s.pts[0].x, foot-s.pts[0].y)
			for _, p := range s.pts[1:] {
				doc.LineTo(left+p.x, foot-p.y)
			}
		}
		if s.fill.A > 0 {
			doc.SetAlpha(float64(s.fill.A)/255, "Normal")
			doc.SetFillColor(bytesOf(s.fill))
			trace()
			doc.ClosePath()
			doc.DrawPath("F")
		}
		if s.stroke.A > 0 {
			doc.SetAlpha(float64(s.stroke.A)/255, "Normal")
			doc.SetDrawColor(bytesOf(s.stroke))
			doc.SetLineWidth(s.width)
			doc.SetDashPattern(s.dash, 0)
			trace()
			doc.DrawPath("D")
		}
	}
	doc.SetAlpha(1, "Normal")
	for _, l := range sc.labels {
		weight := ""
		if l.bold {
			weight = "B"
		}
		doc.SetFont("figure", weight, l.size)
		doc.SetTextColor(bytesOf(l.ink))
		x, y := left+l.at.x, foot-l.at.y
		if l.upright {
			doc.TransformBegin()
			doc.TransformRotate(90, x, y)
		}
		doc.Text(x, y, inFirstPlane(l.text))
		if l.upright {
			doc.TransformEnd()
		}
	}
}

// inFirstPlane puts an ellipsis for letters that the library has no room for. The
// figures' typeface shows none of them; this is for the day when it does.
func inFirstPlane(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xffff {
			return '…'
		}
		return r
	}, s)
}

// writePDF hands the document on whole.
func writePDF(w io.Writer, doc *fpdf.Fpdf) error {
	var buf bytes.Buffer
	if err := doc.Output(&buf); err != nil {
		return fmt.Errorf("write the page: %w", err)
	}
	_, err := w.Write(withoutDates(buf.Bytes()))
	return err
}

// bytesOf gives a colour's red, green and blue, 0 to 255.
func bytesOf(c color.NRGBA) (r, g, b int) { return int(c.R), int(c.G), int(c.B) }

// noDate stands in for the dates, which the library insists on writing.
func noDate() time.Time { return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) }

// withoutDates blanks the two dates of the document: the figure has none, and
// the same assessment must give the same bytes. Blanks in place of the
// entries keep the file's table of offsets right.
func withoutDates(pdf []byte) []byte {
	for _, entry := range []string{"/CreationDate (D:20000101000000)", "/ModDate (D:20000101000000)"} {
		if i := bytes.LastIndex(pdf, []byte(entry)); i >= 0 {
			copy(pdf[i:], bytes.Repeat([]byte(" "), len(entry)))
		}
	}
	return pdf
}
