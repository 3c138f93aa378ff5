package rim

import "math"

// padModes are the patterns in which a pad's block, insulated all round, cools:
// the eigenvectors of its conductances in the measure of its heat capacities.
// They do not depend on the compound's conductivity, which all conductances are
// proportional to.
type padModes struct {
	// rate is how fast each fades, 1/s for each W/(m K).
	rate [padNodes]float64
	// face and holder are what one unit of each adds at the first cell and at
	// the holder, K; even is the strength that makes 1 K everywhere.
	face, holder, even [padNodes]float64
}

// newPadModes finds the modes of a rod of cells with the heat capacities, J/K,
// and the ties from each to the next, W/K for each W/(m K).
func newPadModes(capacity *[padNodes]float64, ties *[padCells]float64) padModes {
	const n = padNodes
	a := make([]float64, n*n)
	for i, g := range ties {
		c, d := capacity[i], capacity[i+1]
		a[i*n+i] += g / c
		a[(i+1)*n+i+1] += g / d
		off := -g / math.Sqrt(c*d)
		a[i*n+i+1], a[(i+1)*n+i] = off, off
	}
	values, vectors := symmetricEigen(a, n)
	var m padModes
	for j := range n {
		m.rate[j] = math.Max(values[j], 0) // the even mode's is rounding
		m.face[j] = vectors[j] / math.Sqrt(capacity[0])
		m.holder[j] = vectors[(n-1)*n+j] / math.Sqrt(capacity[n-1])
		for i, c := range capacity {
			m.even[j] += vectors[i*n+j] * math.Sqrt(c)
		}
	}
	return m
}

// A padStage is the equations of an implicit stage: in the modes a diagonal, with
// what flows at face and holder on top.
type padStage struct {
	m    *padModes
	perS float64 // one over the time of the stage, 1/s
	// answer is what a mode does with the heat that it gets, 1/W.
	answer [padNodes]float64
	// W/K at face and holder, and what both do with each other's heat, K/W.
	faceG, holderG                float64
	faceFace, faceHolder, holder2 float64
	over                          float64 // one over the determinant
}

// stage makes the equations of a stage of dt seconds with the compound's
// conductivity, W/(m K); all fade by the same rate in the air besides, 1/s, and
// face and holder lose faceG and holderG, W/K.
func (m *padModes) stage(dt, conductivity, fade, faceG, holderG float64) padStage {
	s := padStage{m: m, perS: 1 / dt, faceG: faceG, holderG: holderG}
	base := s.perS + fade
	for j, r := range m.rate {
		a, f, h := 1/(base+conductivity*r), m.face[j], m.holder[j]
		s.answer[j] = a
		s.faceFace += a * f * f
		s.faceHolder += a * f * h
		s.holder2 += a * h * h
	}
	s.over = 1 / ((1+faceG*s.faceFace)*(1+holderG*s.holder2) - faceG*holderG*s.faceHolder*s.faceHolder)
	return s
}

// solve puts into v the modes to which the stage leads from those of from, with
// faceW of heat at the face besides what it loses, and returns the first
// cell's temperature above the air.
func (s *padStage) solve(v, from *[padNodes]float64, faceW float64) float64 {
	var face, holder float64
	m := s.m
	for j, x := range from {
		x *= s.answer[j] * s.perS
		v[j] = x
		face += m.face[j] * x
		holder += m.holder[j] * x
	}
	face += s.faceFace * faceW
	holder += s.faceHolder * faceW
	// Two equations for the temperatures of face and holder.
	face, holder = s.over*(face*(1+s.holderG*s.holder2)-holder*s.holderG*s.faceHolder),
		s.over*(holder*(1+s.faceG*s.faceFace)-face*s.faceG*s.faceHolder)
	in, out := faceW-s.faceG*face, -s.holderG*holder
	for j, a := range s.answer {
		v[j] += a * (m.face[j]*in + m.holder[j]*out)
	}
	return face
}
