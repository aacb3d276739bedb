package rules

import "testing"

func TestSheetThickness(t *testing.T) { testRule(t, sheetThickness, "ok tight fail unknown nothing") }

func TestSheetThicknessSaysWhatToDo(t *testing.T) {
	wantFix(t, sheetThickness, changed(t, sheetThickness, "label"), "`thickness: 2 ±0.05`")
	wantFix(t, sheetThickness, changed(t, sheetThickness, "not-sold"), "take 2.5 or 3 mm")
	wantFix(t, sheetThickness, changed(t, sheetThickness, "unmeasured"), "measure base thickness")
}
