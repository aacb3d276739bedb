package rules

import "testing"

func TestNylonStrength(t *testing.T) { testRule(t, nylonStrength, "ok tight fail unknown nothing") }
