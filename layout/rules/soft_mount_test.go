package rules

import "testing"

func TestSoftMount(t *testing.T) { testRule(t, softMount, "ok tight fail unknown nothing") }
