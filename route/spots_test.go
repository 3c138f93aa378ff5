package route

import "testing"

func TestNear(t *testing.T) {
	for want, spots := range map[string][]spot{
		"near km 12.3":                      {{12_300, 1}},
		"near km 0.0 and 0.9":               {{900, 5}, {0, 1}, {950, 2}},
		"near km 1.0, 2.0 and 3.0":          {{3000, 1}, {1000, 0}, {2000, 9}, {2199, 8}},
		"worst near km 1.0, 2.0 and 4.0":    {{1000, 5}, {2000, 9}, {3000, 4}, {4000, 7}, {5000, 4}},
		"near km 1.0 and 1.2":               {{1000, 1}, {1200, 2}},
		"worst near km 10.0, 20.0 and 30.0": {{10_000, 1}, {20_000, 1}, {30_000, 1}, {40_000, 1}},
	} {
		if got := near(spots); got != want {
			t.Errorf("%v: %q, want %q", spots, got, want)
		}
	}
}
