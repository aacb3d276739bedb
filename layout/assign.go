package layout

import "math"

// assign gives each row a column of its own so that the sum of the costs is least; rows
// must not outnumber columns. Of assignments that cost the same (to 1e-9) it takes the one
// whose first row has the lowest column, then the second, and so on.
func assign(cost [][]float64) []int {
	n := len(cost)
	if n == 0 {
		return nil
	}
	best, total := leastCost(cost)
	if n > 12 {
		return best
	}
	work := make([][]float64, n)
	for i := range cost {
		work[i] = append([]float64(nil), cost[i]...)
	}
	for i := range work {
		for j := range work[i] {
			if j == best[i] {
				break // nothing lower will do
			}
			if math.IsInf(work[i][j], 1) {
				continue
			}
			kept := work[i]
			work[i] = only(kept, j)
			if got, sum := leastCost(work); sum < total+1e-9 {
				best = got
				break
			}
			work[i] = kept
		}
		work[i] = only(work[i], best[i])
	}
	return best
}

// barred is the cost of what must not be.
const barred = 1e12

// only bars all columns but one.
func only(row []float64, keep int) []float64 {
	out := make([]float64, len(row))
	for j := range row {
		out[j] = barred
	}
	out[keep] = row[keep]
	return out
}

// leastCost solves the assignment problem by the Hungarian method with potentials (Kuhn
// 1955, in the form of shortest augmenting paths): O(rows² · columns).
func leastCost(cost [][]float64) (columnOf []int, total float64) {
	n, m := len(cost), len(cost[0])
	u, v := make([]float64, n+1), make([]float64, m+1)
	rowOf, way := make([]int, m+1), make([]int, m+1) // 1-based; 0 stands for none
	for i := 1; i <= n; i++ {
		rowOf[0] = i
		j0 := 0
		least := make([]float64, m+1)
		used := make([]bool, m+1)
		for j := range least {
			least[j] = math.MaxFloat64
		}
		for {
			used[j0] = true
			i0, delta, j1 := rowOf[j0], math.MaxFloat64, 0
			for j := 1; j <= m; j++ {
				if used[j] {
					continue
				}
				if c := cost[i0-1][j-1] - u[i0] - v[j]; c < least[j] {
					least[j], way[j] = c, j0
				}
				if least[j] < delta {
					delta, j1 = least[j], j
				}
			}
			for j := 0; j <= m; j++ {
				if used[j] {
					u[rowOf[j]] += delta
					v[j] -= delta
				} else {
					least[j] -= delta
				}
			}
			if j0 = j1; rowOf[j0] == 0 {
				break
			}
		}
		for j0 != 0 {
			rowOf[j0] = rowOf[way[j0]]
			j0 = way[j0]
		}
	}
	columnOf = make([]int, n)
	for j := 1; j <= m; j++ {
		if rowOf[j] > 0 {
			columnOf[rowOf[j]-1] = j - 1
		}
	}
	for i, j := range columnOf {
		total += cost[i][j]
	}
	return columnOf, total
}
