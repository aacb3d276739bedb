package rules

import "testing"

func TestPadFace(t *testing.T) { testRule(t, padFace, "ok tight fail unknown nothing") }
