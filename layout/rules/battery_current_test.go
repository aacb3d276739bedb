package rules

import "testing"

func TestBatteryCurrent(t *testing.T) { testRule(t, batteryCurrent, "ok tight fail unknown nothing") }
