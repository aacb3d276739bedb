package render

import (
	"strconv"
	"strings"

	"dryfit/layout"
)

// hardwareTable is the list of screws, nuts, posts and spacers to buy.
func hardwareTable(lines []layout.HardwareLine) table {
	t := table{id: "hardware", title: "Hardware, with spares", cols: []column{
		{"Need", 13, Right}, {"Spare", 13, Right}, {"What", 54, Left}, {"Material", 22, Left}, {"Key", 26, Left}, {"N·m max", 17, Right}, {"Lock", 31, Left},
	}}
	for i := range lines {
		l := &lines[i]
		what := l.Label()
		if l.Part != "" {
			what += " (" + l.Part + ")"
		}
		if !l.Sure {
			what += " !"
		}
		torque := "–"
		if l.Torque > 0 {
			torque = strconv.FormatFloat(l.Torque, 'f', -1, 64)
		}
		lock := strings.TrimPrefix(strings.ReplaceAll(l.Lock, "no threadlocker: ", "none: "), "threadlocker, ")
		t.rows = append(t.rows, row{cells: [][]string{
			{strconv.Itoa(l.Count)}, {strconv.Itoa(l.Spares)}, wrap(what, small, 54-2*cellPad, 2), {wordOr(l.Material)},
			wrap(wordOr(l.Key), small, 26-2*cellPad, 2), {torque}, wrap(wordOr(lock), small, 31-2*cellPad, 3),
		}})
	}
	return t
}

func wordOr(s string) string {
	if s == "" {
		return "–"
	}
	return s
}
