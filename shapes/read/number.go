package read

import (
	"math"
	"strconv"
	"strings"
)

// ParseNumber reads one decimal number: digits, at most one point, an optional sign. It
// returns why the text is refused ("" when it is fine) as words that follow the quoted
// text, and advice. Never NaN or infinite.
//
// YAML and its readers disagree about 010, 0x10, 1_000, 1:30, .inf and .nan: a file that
// uses one of them means something else to somebody, so all are refused.
func ParseNumber(s string) (v float64, why, hint string) {
	body := strings.TrimLeft(s, "+-")
	lower := strings.ToLower(body)
	switch {
	case s == "":
		return 0, "is empty", "write a number"
	case len(s)-len(body) > 1:
		return 0, "is not a number", "write one sign at most"
	case lower == ".nan" || lower == "nan" || lower == ".inf" || lower == "inf" || lower == "infinity":
		return 0, "is not a finite number", "write `unknown` for a figure that nobody has measured"
	case strings.HasPrefix(lower, "0x") || strings.HasPrefix(lower, "0b") || strings.HasPrefix(lower, "0o"):
		return 0, "is not a decimal number", "write it in decimal digits"
	case strings.Contains(body, "_"):
		return 0, "has an underscore", "write the digits without it"
	case strings.Contains(body, ":"):
		return 0, "has a colon", "write it in decimal digits"
	case strings.Contains(body, ","):
		return 0, "has a comma", "write a point before the decimals"
	}
	digits, points := 0, 0
	for _, c := range body {
		switch {
		case c >= '0' && c <= '9':
			digits++
		case c == '.':
			points++
		default:
			return 0, "is not a number", ""
		}
	}
	if digits == 0 || points > 1 {
		return 0, "is not a number", ""
	}
	if len(body) > 1 && body[0] == '0' && body[1] != '.' {
		for len(body) > 1 && body[0] == '0' && body[1] != '.' {
			body = body[1:]
		}
		return 0, "has a leading zero, which some readers take for octal", "write " + sign(s) + body
	}
	if digits > 25 {
		return 0, "has more digits than any real figure", ""
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, "is not a number", ""
	}
	return v, "", ""
}

func sign(s string) string {
	if strings.HasPrefix(s, "-") {
		return "-"
	}
	return ""
}
