package rules

import "testing"

func TestScrewReach(t *testing.T) { testRule(t, screwReach, "ok tight fail unknown nothing") }
