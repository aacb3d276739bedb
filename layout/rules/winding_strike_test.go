package rules

import "testing"

func TestWindingStrike(t *testing.T) { testRule(t, windingStrike, "ok tight fail unknown nothing") }
