package rules

import "testing"

func TestRailVoltage(t *testing.T) { testRule(t, railVoltage, "ok tight fail unknown nothing") }
