package rules

import "testing"

func TestRailCurrent(t *testing.T) { testRule(t, railCurrent, "ok tight fail unknown nothing") }
