package rules

import "testing"

func TestRotorHands(t *testing.T) { testRule(t, rotorHands, "ok fail nothing") }
