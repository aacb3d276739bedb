package rules

import "testing"

func TestSheetThickness(t *testing.T) { testRule(t, sheetThickness, "ok tight fail unknown nothing") }

func TestSheetThicknessSaysWhatToDo(t *testing.T) {
	wantFix(t, sheetThickness, changed(t, sheetThickness, "label"), "`thickness: 2 ±0.05`")
	wantFix(t, sheetThickness, changed(t, sheetThickness, "not-sold"), "take 2.5 or 3 mm")
	wantFix(t, sheetThickness, changed(t, sheetThickness, "unmeasured"), "measure base thickness")
	// 2 + 0.15, 2.1 + 0.15 and 1.44 + 0.15, each up to the next 0.05; what fails is told first.
	const wide, narrow, label = "[12, 2.4]", "[12, 2]", "[12, 1.5]"
	wantFix(t, sheetThickness, changed(t, sheetThickness, "tabs"), "make the slot 2.15 mm wide")
	wantFix(t, sheetThickness, changed(t, sheetThickness, "tabs", wide, "[12, 2.15]"), "make the slot 2.25 mm wide")
	wantFix(t, sheetThickness, changed(t, sheetThickness, "tabs", wide, "[12, 2.15]", narrow, "[12, 2.25]"), "make the slot 1.6 mm wide")
	wantFix(t, sheetThickness, changed(t, sheetThickness, "tabs", wide, "[12, 2.15]", narrow, "[12, 2.25]", label, "[12, 1.6]", "tab: 2}", "tab: 2.1}"),
		"measure the sheet and write it with its tolerance, then make the slot 2.25 mm wide")
}
