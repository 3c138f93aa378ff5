package risk

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A known is a function whose sensitivities follow from a formula.
type known struct {
	name         string
	f            func(u []float64) float64
	first, total []float64
}

// ishigami is T. Ishigami and T. Homma, An importance quantification technique in
// uncertainty analysis for computer models, Proc. First International Symposium
// on Uncertainty Modeling and Analysis (1990) 398: sin x1 + a sin2 x2 + b x3^4
// sin x1 for x in -pi to pi, a = 7, b = 0.1. The parts of the variance are the
// integrals of its terms.
func ishigami() known {
	const a, b = 7.0, 0.1
	pi4 := math.Pow(math.Pi, 4)
	v1 := math.Pow(1+b*pi4/5, 2) / 2
	v2 := a * a / 8
	v13 := b * b * pi4 * pi4 * 8 / 225
	v := v1 + v2 + v13
	return known{
		name: "Ishigami",
		f: func(u []float64) float64 {
			x := func(k int) float64 { return math.Pi * (2*u[k] - 1) }
			return math.Sin(x(0))*(1+b*math.Pow(x(2), 4)) + a*math.Pow(math.Sin(x(1)), 2)
		},
		first: []float64{v1 / v, v2 / v, 0},
		total: []float64{(v1 + v13) / v, v2 / v, v13 / v},
	}
}

// gFunction is I. M. Sobol', Sensitivity estimates for nonlinear mathematical
// models, Mathematical Modelling and Computational Experiments 1 (1993) 407: the
// product of (|4u-2|+a)/(1+a). It has a kink in every input, which is hard on
// polynomials; each factor has mean 1 and variance 1/(3(1+a)2).
func gFunction(a ...float64) known {
	k := known{name: "g", f: func(u []float64) float64 {
		p := 1.0
		for i, a := range a {
			p *= (math.Abs(4*u[i]-2) + a) / (1 + a)
		}
		return p
	}}
	part := func(i int) float64 { return 1 / (3 * (1 + a[i]) * (1 + a[i])) }
	all := 1.0
	for i := range a {
		all *= 1 + part(i)
	}
	for i := range a {
		k.first = append(k.first, part(i)/(all-1))
		k.total = append(k.total, part(i)*all/(1+part(i))/(all-1))
	}
	return k
}

// pairs is linear in six inputs of which two pairs act together too, of 14:
// with v = sqrt(12)(u-1/2), of mean 0 and variance 1, the variance of each term
// is its coefficient squared.
func pairs() known {
	linear := []float64{3, 2, 1, 1, 0.5, 0.2}
	k := known{name: "linear with pairs", first: make([]float64, 14), total: make([]float64, 14)}
	k.f = func(u []float64) float64 {
		v := func(k int) float64 { return math.Sqrt(12) * (u[k] - 0.5) }
		sum := 10.0
		for i, c := range linear {
			sum += c * v(i)
		}
		return sum + 1.5*v(0)*v(2) + v(6)*v(7)
	}
	all := 1.5*1.5 + 1.0
	for _, c := range linear {
		all += c * c
	}
	for i, c := range linear {
		k.first[i], k.total[i] = c*c/all, c*c/all
	}
	k.total[0] += 1.5 * 1.5 / all
	k.total[2] += 1.5 * 1.5 / all
	k.total[6], k.total[7] = 1/all, 1/all
	return k
}

// normals is a sum of twelve normal inputs and the product of two of them, of 14:
// quantile functions that no polynomial follows to the ends.
func normals() known {
	weights := []float64{1, 0.8, 0.6, 0.5, 0.4, 0.3, 0.3, 0.2, 0.2, 0.1, 0.1, 0.1}
	k := known{name: "normals", first: make([]float64, 14), total: make([]float64, 14)}
	k.f = func(u []float64) float64 {
		var sum float64
		for i, w := range weights {
			sum += w * distuv.UnitNormal.Quantile(u[i])
		}
		return sum + 0.5*distuv.UnitNormal.Quantile(u[0])*distuv.UnitNormal.Quantile(u[3])
	}
	all := 0.25
	for _, w := range weights {
		all += w * w
	}
	for i, w := range weights {
		k.first[i], k.total[i] = w*w/all, w*w/all
	}
	k.total[0] += 0.25 / all
	k.total[3] += 0.25 / all
	return k
}

func knowns() []known {
	far := []float64{0, 1, 4.5, 9}
	for len(far) < 14 {
		far = append(far, 99)
	}
	inFour, inFourteen := gFunction(far[:4]...), gFunction(far...)
	inFourteen.name = "g in 14"
	return []known{ishigami(), inFour, inFourteen, pairs(), normals()}
}
