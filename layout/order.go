package layout

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// sortBy sorts by a text, keeping the order of equal ones.
func sortBy[T any](list []T, key func(T) string) {
	slices.SortStableFunc(list, func(a, b T) int { return cmp.Compare(key(a), key(b)) })
}

// sortStable sorts by less, keeping the order of equal ones.
func sortStable[T any](list []T, less func(a, b T) bool) {
	slices.SortStableFunc(list, func(a, b T) int {
		switch {
		case less(a, b):
			return -1
		case less(b, a):
			return 1
		}
		return 0
	})
}

// groupRank orders components by what they are: plates, posts, stacks, rotors, packs,
// mounts, cameras, antennas.
func groupRank(id string) int {
	group, _, _ := strings.Cut(id, ".")
	return slices.Index([]string{"plates", "posts", "stacks", "rotors", "battery", "batteries", "mounts", "cameras", "antennas", "screws", "wires"}, group)
}

// mm prints a length for messages: at most three decimals, no -0.
func mm(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func lowerCase(s string) string { return strings.ToLower(s) }
