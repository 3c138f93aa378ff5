package route_test

import (
	"math"
	"testing"

	"rimheat/route"
	"rimheat/testdata/roads"
)

// descentsOf are the descents of a straight road with the given slopes.
func descentsOf(t *testing.T, slopes ...roads.Slope) []route.Descent {
	t.Helper()
	r := roads.NewBuilder(-0.3, -22, 1500, slopes).Road()
	p := profileOf(t, r.Sample(10, 20, seeded(5)))
	for i, d := range p.Descents {
		if d.StartM != p.DistM[d.Start] || d.EndM != p.DistM[d.End] || d.DropM != p.HeightM[d.Start]-p.HeightM[d.End] ||
			math.Abs(d.MeanGrade*(d.EndM-d.StartM)+d.DropM) > 1e-9 || d.SteepestGrade > d.MeanGrade+1e-12 {
			t.Errorf("descent %+v contradicts itself", d)
		}
		if i > 0 && d.Start < p.Descents[i-1].End {
			t.Errorf("descents %+v and %+v overlap", p.Descents[i-1], d)
		}
	}
	return p.Descents
}

func TestDescentRules(t *testing.T) {
	down := roads.Slope{LengthM: 3000, Grade: -0.08}
	for _, c := range []struct {
		what   string
		slopes []roads.Slope
		// want is start and end of each descent, metres.
		want [][2]float64
	}{
		{"plain, trimmed on both sides", []roads.Slope{{LengthM: 2000, Grade: 0.01}, down, {LengthM: 2000, Grade: -0.01}}, [][2]float64{{2000, 5000}}},
		{"from start to finish", []roads.Slope{down}, [][2]float64{{0, 3000}}},
		{"flat of 800 m inside", []roads.Slope{down, {LengthM: 800}, down}, [][2]float64{{0, 6800}}},
		{"flat of 1,300 m between", []roads.Slope{down, {LengthM: 1300}, down}, [][2]float64{{0, 3000}, {4300, 7300}}},
		{"rise of 12 m inside", []roads.Slope{down, {LengthM: 300, Grade: 0.04}, down}, [][2]float64{{0, 6300}}},
		{"rise of 24 m between", []roads.Slope{down, {LengthM: 400, Grade: 0.06}, down}, [][2]float64{{0, 3000}, {3400, 6400}}},
		{"false flat of 8 km between", []roads.Slope{down, {LengthM: 8000, Grade: -0.004}, {LengthM: 1500, Grade: -0.08}}, [][2]float64{{0, 3000}, {11_000, 12_500}}},
		{"too little", []roads.Slope{{LengthM: 1000}, {LengthM: 700, Grade: -0.08}, {LengthM: 1000}}, nil},
		{"hardly more than 2 %", []roads.Slope{{LengthM: 1000}, {LengthM: 1750, Grade: -0.04}, {LengthM: 1000}}, nil},
		{"too gentle", []roads.Slope{{LengthM: 8000, Grade: -0.02}}, nil},
		{"flat", []roads.Slope{{LengthM: 8000}}, nil},
		{"uphill", []roads.Slope{{LengthM: 8000, Grade: 0.09}}, nil},
	} {
		got := descentsOf(t, c.slopes...)
		if len(got) != len(c.want) {
			t.Errorf("%s: %+v, want %v", c.what, got, c.want)
			continue
		}
		for i, d := range got {
			// Transitions of 120 m and the smoother blur the ends.
			const tolM = 60
			if math.Abs(d.StartM-c.want[i][0]) > tolM || math.Abs(d.EndM-c.want[i][1]) > tolM {
				t.Errorf("%s: from %.0f to %.0f m, want %v", c.what, d.StartM, d.EndM, c.want[i])
			}
		}
	}
}

func TestSteepestHalfKilometre(t *testing.T) {
	got := descentsOf(t, roads.Slope{LengthM: 2000, Grade: -0.07}, roads.Slope{LengthM: 800, Grade: -0.14}, roads.Slope{LengthM: 2000, Grade: -0.07})
	if len(got) != 1 || math.Abs(got[0].SteepestGrade+0.14) > 0.001 {
		t.Errorf("%+v", got)
	}
	got = descentsOf(t, roads.Slope{LengthM: 1000, Grade: 0.1}, roads.Slope{LengthM: 450, Grade: -0.2}, roads.Slope{LengthM: 1000, Grade: 0.1})
	if len(got) != 1 || got[0].SteepestGrade != got[0].MeanGrade {
		t.Errorf("a descent shorter than the window: %+v", got)
	}
}

func TestDemoDescents(t *testing.T) {
	hot := profileOf(t, roads.TwoPassesHot().Points).Descents
	if len(hot) != 2 {
		t.Fatalf("%+v", hot)
	}
	for i, want := range []struct{ lengthM, grade, steepest float64 }{{12_000, -0.074, -0.08}, {9_000, -0.109, -0.142}} {
		d := hot[i]
		if math.Abs(d.EndM-d.StartM-want.lengthM) > 200 || math.Abs(d.MeanGrade-want.grade) > 0.002 || math.Abs(d.SteepestGrade-want.steepest) > 0.004 {
			t.Errorf("descent %+v, want %+v", d, want)
		}
	}
	if d := profileOf(t, roads.FlatLoop().Points).Descents; len(d) != 0 {
		t.Errorf("the flat loop has descents %+v", d)
	}
	if d := profileOf(t, roads.LongRideMild().Points).Descents; len(d) != 7 {
		t.Errorf("the mild ride has %d descents, want 7", len(d))
	}
}
