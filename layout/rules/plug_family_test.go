package rules

import "testing"

func TestPlugFamily(t *testing.T) { testRule(t, plugFamily, "ok fail nothing") }
