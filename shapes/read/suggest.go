package read

import "strings"

// begun is how many letters of a word tell which one was meant.
const begun = 4

// Nearest returns the word of among that word was most likely meant to be: the shortest
// that begins with it (motor-2806 for motor-2806.5), else one that it goes on from (carbon
// fibre for carbon), else the one with the fewest letters to insert, delete, change or swap,
// if that is at most a third of the word's length (one for short words). It returns ""
// when none is near. The first of several equally near words wins.
func Nearest(word string, among []string) string {
	w := []rune(word)
	if len(w) == 0 || len(w) > 60 {
		return ""
	}
	longer, stem := "", ""
	for _, cand := range among {
		switch {
		case len(w) >= begun && len(cand) > len(word) && strings.HasPrefix(cand, word) && (longer == "" || len(cand) < len(longer)):
			longer = cand
		case len(cand) >= begun && strings.HasPrefix(word, cand+" ") && len(cand) > len(stem):
			stem = cand
		}
	}
	if longer != "" {
		return longer
	}
	if stem != "" {
		return stem
	}
	best, most := "", max(1, len(w)/3)+1
	for _, cand := range among {
		c := []rune(cand)
		if len(c) > len(w)+most || len(w) > len(c)+most {
			continue
		}
		if d := editDistance(w, c); d < most && d < len(c) {
			best, most = cand, d
		}
	}
	return best
}

// editDistance counts insertions, deletions, changes and swaps of neighbours (optimal
// string alignment).
func editDistance(a, b []rune) int {
	prev2 := make([]int, len(b)+1)
	prev := make([]int, len(b)+1)
	cur := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}

// DidYouMean returns "did you mean x?" for the nearest word, "" when none is near.
func DidYouMean(word string, among []string) string {
	if near := Nearest(word, among); near != "" {
		return "did you mean " + near + "?"
	}
	return ""
}
