package rules

import "testing"

func TestPinOrder(t *testing.T) { testRule(t, pinOrder, "ok fail nothing") }
