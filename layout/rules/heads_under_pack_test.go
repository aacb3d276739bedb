package rules

import "testing"

func TestHeadsUnderPack(t *testing.T) { testRule(t, headsUnderPack, "ok tight fail unknown nothing") }
