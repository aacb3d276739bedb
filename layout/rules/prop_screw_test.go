package rules

import "testing"

func TestPropScrew(t *testing.T) { testRule(t, propScrew, "ok tight fail unknown nothing") }
