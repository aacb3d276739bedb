package rules

import "testing"

func TestWireGauge(t *testing.T) { testRule(t, wireGauge, "ok tight fail unknown nothing") }
