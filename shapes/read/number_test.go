package read

import "testing"

func TestParseNumber(t *testing.T) {
	for text, want := range map[string]float64{"0": 0, "7": 7, "7.25": 7.25, "-0.5": -0.5, "+3": 3, "0.5": 0.5, "10": 10, ".5": 0.5} {
		if got, why, _ := ParseNumber(text); why != "" || got-want > 1e-12 || want-got > 1e-12 {
			t.Errorf("%q: %g %s", text, got, why)
		}
	}
	for text, want := range map[string]string{
		"": "is empty", "010": "has a leading zero, which some readers take for octal", "-007": "has a leading zero, which some readers take for octal",
		"0x10": "is not a decimal number", "0b1": "is not a decimal number", "0o7": "is not a decimal number", "1_000": "has an underscore",
		"1:30": "has a colon", "7,2": "has a comma", ".nan": "is not a finite number", "NaN": "is not a finite number", "-.inf": "is not a finite number",
		"Infinity": "is not a finite number", "1e3": "is not a number", "1.2.3": "is not a number", ".": "is not a number", "--1": "is not a number", "5mm": "is not a number",
		"99999999999999999999999999": "has more digits than any real figure",
	} {
		if _, why, _ := ParseNumber(text); why != want {
			t.Errorf("%q: %q, want %q", text, why, want)
		}
	}
	if _, _, hint := ParseNumber("-007"); hint != "write -7" {
		t.Errorf("hint %q", hint)
	}
	if _, _, hint := ParseNumber("00.5"); hint != "write 0.5" {
		t.Errorf("hint %q", hint)
	}
}
