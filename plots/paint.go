package plots

import (
	"io"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// pngDPI makes a sheet of 10 inches 1600 pixels wide.
const pngDPI = 160

func paintPNG(w io.Writer, sc *scene, tf *typeface) error {
	c := vgimg.NewWith(vgimg.UseWH(vg.Length(sc.w), vg.Length(sc.h)), vgimg.UseDPI(pngDPI))
	paint(c, sc, tf)
	_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(w)
	return err
}

// paint puts the scene on a canvas.
func paint(c vg.Canvas, sc *scene, tf *typeface) {
	for _, s := range sc.shapes {
		if len(s.pts) < 2 {
			continue
		}
		var p vg.Path
		for i, q := range s.pts {
			if i == 0 {
				p.Move(point(q))
				continue
			}
			p.Line(point(q))
		}
		if s.fill.A > 0 {
			closed := append(p[:len(p):len(p)], vg.PathComp{Type: vg.CloseComp})
			c.SetColor(s.fill)
			c.Fill(closed)
		}
		if s.stroke.A > 0 {
			c.SetColor(s.stroke)
			c.SetLineWidth(vg.Length(s.width))
			dash := make([]vg.Length, len(s.dash))
			for i, d := range s.dash {
				dash[i] = vg.Length(d)
			}
			c.SetLineDash(dash, 0)
			c.Stroke(p)
		}
	}
	for _, l := range sc.labels {
		c.SetColor(l.ink)
		face := tf.face(l.size, l.bold)
		if !l.upright {
			c.FillString(face, point(l.at), l.text)
			continue
		}
		c.Push()
		c.Translate(point(l.at))
		c.Rotate(math.Pi / 2)
		c.FillString(face, vg.Point{}, l.text)
		c.Pop()
	}
}

func point(p xy) vg.Point { return vg.Point{X: vg.Length(p.x), Y: vg.Length(p.y)} }
