package rules

import "testing"

func TestPropMount(t *testing.T) { testRule(t, propMount, "ok tight fail unknown nothing") }

func TestReadMount(t *testing.T) {
	for text, want := range map[string]mountKind{
		"press-0.8": {"press", 0.8},
		"t-1.5":     {"t", 1.5},
		"m5":        {"nut", 5},
		"M6":        {"nut", 6},
	} {
		if got, ok := readMount(text); !ok || got != want {
			t.Errorf("readMount(%q) = %v, %v, want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "m", "glue", "t-", "press-x"} {
		if got, ok := readMount(text); ok {
			t.Errorf("readMount(%q) = %v, want none", text, got)
		}
	}
}
