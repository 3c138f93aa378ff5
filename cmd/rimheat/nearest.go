package main

import (
	"slices"
	"strings"
)

// nearest gives the names closest to a misspelt word, best first, at most
// three: those within a third of the word's length in edits, and those that
// the word is the beginning of.
func nearest(word string, names []string) []string {
	word = strings.ToLower(word)
	type candidate struct {
		name  string
		edits int
	}
	var found []candidate
	for _, n := range names {
		d := edits(word, strings.ToLower(n))
		if len(word) >= 2 && strings.HasPrefix(n, word) {
			d = min(d, 1)
		}
		if d <= max(1, len(word)/3) {
			found = append(found, candidate{n, d})
		}
	}
	slices.SortStableFunc(found, func(a, b candidate) int { return a.edits - b.edits })
	var out []string
	for _, c := range found[:min(3, len(found))] {
		out = append(out, c.name)
	}
	return out
}

// edits is the optimal string alignment distance in runes: insertions,
// deletions, substitutions and swaps of neighbours (Damerau, "A technique for
// computer detection and correction of spelling errors", 1964; from memory).
func edits(a, b string) int {
	s, t := []rune(a), []rune(b)
	before, last := make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(s); i++ {
		row := make([]int, len(t)+1)
		row[0] = i
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last = last, row
	}
	return last[len(t)]
}

// either joins names for a question: "a, b or c".
func either(names []string) string { return join(names, " or ") }

// listed joins names for a statement: "a, b and c".
func listed(names []string) string { return join(names, " and ") }

func join(names []string, last string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	n := len(names) - 1
	return strings.Join(names[:n], ", ") + last + names[n]
}

// fewNames is how many names an error message may list.
const fewNames = 8

// notOneOf words a name that is none of a fixed list.
func notOneOf(where, kind, name string, names []string) *failure {
	f := badInput("%s: no %s is called %s", where, kind, quoted(name))
	if near := nearest(name, names); len(near) > 0 {
		return f.hint("did you mean %s?", either(near))
	}
	if len(names) > fewNames {
		return f.hint("rimheat parts lists all %d", len(names))
	}
	return f.hint("choose from %s", listed(names))
}
