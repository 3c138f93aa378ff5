package thermal

import "fmt"

// Words is what is said of an assessment in one system of units.
type Words struct {
	Advice   string
	Cautions []string
}

// phrasing puts numbers into words in one system of units. JSON and the plain
// fields of Assessment are metric.
type phrasing struct{ imperial bool }

// mPerMile is the international mile of 1959, exact.
const mPerMile = 1609.344

func (u phrasing) gap(k float64) string {
	if u.imperial {
		return fmt.Sprintf("%.0f °F", k*1.8)
	}
	return fmt.Sprintf("%.0f K", k)
}

func (u phrasing) place(m float64) string {
	if u.imperial {
		return fmt.Sprintf("mile %.1f", m/mPerMile)
	}
	return fmt.Sprintf("km %.1f", m/1000)
}

func (u phrasing) temp(c float64) string {
	if u.imperial {
		return fmt.Sprintf("%.0f °F", c*1.8+32)
	}
	return fmt.Sprintf("%.0f °C", c)
}
