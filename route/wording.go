package route

import (
	"math"
	"strconv"
)

func degrees(v float64) string { return strconv.FormatFloat(v, 'g', 9, 64) }

// count formats n with a comma between thousands.
func count(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return count(n) + " " + many
}

func metres(m float64) string { return count(int(math.Round(m))) + " m" }

// distance words a length: in metres below 10 km, in kilometres above.
func distance(m float64) string {
	if m < 10_000 {
		return metres(m)
	}
	return kilometres(m)
}

func kilometres(m float64) string { return strconv.FormatFloat(m/1000, 'f', 1, 64) + " km" }

// percent words a grade or a share in whole per cents.
func percent(v float64) string { return strconv.FormatFloat(100*v, 'f', 0, 64) + " %" }
