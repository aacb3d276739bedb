package rules

import "testing"

func TestBodyGap(t *testing.T) { testRule(t, bodyGap, "ok fail") }
