package rules

import "testing"

func TestCameraScrew(t *testing.T) { testRule(t, cameraScrew, "ok tight fail unknown nothing") }
