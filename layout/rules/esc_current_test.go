package rules

import "testing"

func TestEscCurrent(t *testing.T) { testRule(t, escCurrent, "ok tight fail unknown nothing") }
