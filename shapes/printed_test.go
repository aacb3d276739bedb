package shapes

import "testing"

// TestPrintedStockIsNoSheet: what is printed is sold in no thickness, and what is sold in
// some is not printed.
func TestPrintedStockIsNoSheet(t *testing.T) {
	lib, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]bool{
		"carbon": false, "glass": false, "polycarbonate": false, "plywood": false, "aluminium": false,
		"tpu": true, "pla": true, "petg": true, "nylon": true,
	}
	seen := 0
	for _, p := range lib.ByKind(MaterialKind) {
		printed, ok := want[p.Name]
		if !ok {
			t.Errorf("%s: not foreseen", p.Name)
			continue
		}
		seen++
		if p.Material.Printed != printed || (len(p.Material.Thicknesses) == 0) != printed {
			t.Errorf("%s: printed %v, sold in %v", p.Name, p.Material.Printed, p.Material.Thicknesses)
		}
	}
	if seen != len(want) {
		t.Errorf("%d of %d materials are there", seen, len(want))
	}
}
