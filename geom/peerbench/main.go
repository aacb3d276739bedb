// Peerbench times this project's geometry on workload files shared with other geometry
// libraries and prints lines in their common form, so that all stand side by side:
//
//	peerbench DATA_DIR [workload prefix] [seconds per workload]
//
// prints "peer workload n median_ns_per_op checksum", separated by tabs. A file of shapes
// has one shape a line: id, kind, z0, z1, the number of rings, and for each ring its
// number of vertices and their x and y in mm; the first ring is the outer one,
// counter-clockwise, the others are holes. Lines that begin with # are comments.
package main

import (
	"fmt"
	"io"
	"math"
	"os"
	"sort"
	"strconv"
	"strings"
	"time"
)

// workloads are run in this order; each registers nothing and prints through the bench.
var workloads = []func(*bench) error{
	distances, setOperations, pairSearch, convexDistances, routes,
}

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "peerbench:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	b := &bench{out: out, budget: 0.5}
	if len(args) < 1 || len(args) > 3 {
		return fmt.Errorf("usage: peerbench DATA_DIR [workload prefix] [seconds per workload]")
	}
	b.dir = args[0]
	if len(args) > 1 {
		b.prefix = args[1]
	}
	if len(args) > 2 {
		s, err := strconv.ParseFloat(args[2], 64)
		if err != nil || !(s >= 0 && s <= 3600) {
			return fmt.Errorf("seconds per workload: %q is not a number from 0 to 3600", args[2])
		}
		b.budget = s
	}
	for _, w := range workloads {
		if err := w(b); err != nil {
			return err
		}
	}
	return nil
}

// bench holds the arguments of a run.
type bench struct {
	dir, prefix string
	budget      float64 // seconds a workload
	out         io.Writer
}

// wants reports whether any workload whose name begins with family is asked for.
func (b *bench) wants(family string) bool {
	return strings.HasPrefix(family, b.prefix) || strings.HasPrefix(b.prefix, family)
}

// time runs f, which does ops operations and returns the sum of their results, often
// enough to fill the budget, and prints the median time of an operation.
func (b *bench) time(peer, workload string, n, ops int, f func() float64) {
	if !strings.HasPrefix(workload, b.prefix) || ops == 0 {
		return
	}
	f()
	start := time.Now()
	sum := f()
	once := time.Since(start).Seconds()
	// A sample lasts at least 4 ms, so that the clock's step does not show.
	inner := max(1, int(math.Ceil(0.004/math.Max(once, 1e-9))))
	samples := min(101, max(5, int(b.budget/(float64(inner)*once))))
	v := make([]float64, samples)
	for s := range v {
		start = time.Now()
		for range inner {
			sum = f()
		}
		v[s] = float64(time.Since(start).Nanoseconds()) / float64(inner*ops)
	}
	sort.Float64s(v)
	median := (v[(samples-1)/2] + v[samples/2]) / 2
	fmt.Fprintf(b.out, "%s\t%s\t%d\t%.1f\t%.12g\n", peer, workload, n, median, sum)
}
