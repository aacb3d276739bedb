package rules

import "testing"

func TestCompassDistance(t *testing.T) { testRule(t, compassDistance, "ok tight fail nothing") }
