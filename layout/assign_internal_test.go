package layout

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestAssignByHand: rows a, b, c and columns 1 to 3.
//
//	    1  2  3
//	a   1  2  9
//	b   1  9  9
//	c   9  3  1
//
// b can only go to 1 cheaply, so a goes to 2 and c to 3: 2 + 1 + 1 = 4.
func TestAssignByHand(t *testing.T) {
	got := assign([][]float64{{1, 2, 9}, {1, 9, 9}, {9, 3, 1}})
	if got[0] != 1 || got[1] != 0 || got[2] != 2 {
		t.Errorf("assigned %v, want [1 0 2]", got)
	}
}

// TestAssignTies: where all assignments cost the same, the first row takes the first column.
func TestAssignTies(t *testing.T) {
	for n := 1; n <= 5; n++ {
		cost := make([][]float64, n)
		for i := range cost {
			cost[i] = make([]float64, n+1)
			for j := range cost[i] {
				cost[i][j] = 7
			}
		}
		for i, j := range assign(cost) {
			if i != j {
				t.Errorf("of %d equal rows row %d has column %d", n, i, j)
			}
		}
	}
	// Two ways of sum 4: (1, 3) and (3, 1); the first row takes the lower column.
	if got := assign([][]float64{{1, 3}, {1, 3}}); got[0] != 0 || got[1] != 1 {
		t.Errorf("assigned %v, want [0 1]", got)
	}
}

// TestAssignAgainstTrying: the sum is the least over all ways to give rows columns of their
// own, tried one by one.
func TestAssignAgainstTrying(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		n := 1 + rng.IntN(5)
		m := n + rng.IntN(3)
		cost := make([][]float64, n)
		for i := range cost {
			cost[i] = make([]float64, m)
			for j := range cost[i] {
				cost[i][j] = float64(rng.IntN(12)) // small whole numbers: many ties
			}
		}
		best := math.Inf(1)
		used := make([]bool, m)
		var try func(i int, sum float64)
		try = func(i int, sum float64) {
			if i == n {
				best = min(best, sum)
				return
			}
			for j := range m {
				if !used[j] {
					used[j] = true
					try(i+1, sum+cost[i][j])
					used[j] = false
				}
			}
		}
		try(0, 0)
		sum := 0.0
		seen := map[int]bool{}
		for i, j := range assign(cost) {
			if seen[j] {
				t.Fatalf("column %d twice in %v", j, cost)
			}
			seen[j] = true
			sum += cost[i][j]
		}
		if sum > best+1e-9 {
			t.Fatalf("sum %g, least %g of %v", sum, best, cost)
		}
	}
}
