package rules

import "testing"

func TestPressNut(t *testing.T) { testRule(t, pressNut, "ok tight fail nothing") }
