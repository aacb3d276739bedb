package rules

import "testing"

func TestPlugCurrent(t *testing.T) { testRule(t, plugCurrent, "ok tight fail unknown nothing") }
