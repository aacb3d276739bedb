package rules

import "testing"

func TestEscOnArm(t *testing.T) { testRule(t, escOnArm, "ok tight fail unknown nothing") }
