package rules

import "testing"

func TestStandoffGrip(t *testing.T) { testRule(t, standoffGrip, "ok tight fail unknown nothing") }
