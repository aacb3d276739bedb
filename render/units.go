package render

import (
	"slices"

	"github.com/golang/geo/s1"
)

func deg(d float64) s1.Angle { return s1.Angle(d) * s1.Degree }

func sortFloats(v []float64) { slices.Sort(v) }
