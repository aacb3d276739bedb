package rules

import (
	"path/filepath"
	"testing"

	"dryfit/layout"
)

func TestPropSweep(t *testing.T) { testRule(t, propSweep, "ok tight fail unknown nothing") }

func TestSweepNeedsFollowTheFiguresBySize(t *testing.T) {
	for in, want := range map[float64]float64{2: 3, 3: 3, 4: 4, 5: 5, 6: 6.5, 7: 8, 10: 8} {
		if got := sweepNeed(in * 25.4); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("sweepNeed(%g inch) = %g, want %g", in, got, want)
		}
	}
	// Ducts: 1.0 at 2 inch, 1.5 at 3, 2.5 at 5, never under 1.
	for in, want := range map[float64]float64{1.2: 1, 2: 1, 3: 1.5, 5: 2.5} {
		if got := guardNeed(in * 25.4); got < want-1e-9 || got > want+1e-9 {
			t.Errorf("guardNeed(%g inch) = %g, want %g", in, got, want)
		}
	}
}

// TestSweepShortcutChangesNothing judges every body against every disc, without leaving
// out those that are surely clear, and wants the same findings.
func TestSweepShortcutChangesNothing(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "*", "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	discs := 0
	for _, file := range files {
		asm := loadBuild(t, file)
		for _, r := range asm.Rotors {
			discs++
			all := &Pass{Rule: propSweep, Asm: asm}
			var found perPart
			for _, b := range inTheWay(asm, r) {
				if f, ok := sweepBody(all, r, b); ok {
					found.add(partOf(b), f)
				}
			}
			found.report(all)
			short := &Pass{Rule: propSweep, Asm: asm}
			quick := sweepRotor(short, r)
			quick.report(short)
			if len(all.findings) != len(short.findings) {
				t.Errorf("%s, %s: %d findings, in full %d", file, r.Name, len(short.findings), len(all.findings))
				continue
			}
			for i := range all.findings {
				a, b := &all.findings[i], &short.findings[i]
				if !sameFinding(short.findings, a) || !sameFinding(all.findings, b) {
					t.Errorf("%s, %s: got %v %.4f %s, in full %v %.4f %s", file, r.Name, b.Verdict, b.Margin, b.Message, a.Verdict, a.Margin, a.Message)
				}
			}
		}
	}
	if discs < 20 {
		t.Errorf("only %d discs judged", discs)
	}
}

func sameFinding(list []layout.Finding, f *layout.Finding) bool {
	for i := range list {
		if list[i].Verdict == f.Verdict && list[i].Message == f.Message && tidy(list[i].Margin) == tidy(f.Margin) {
			return true
		}
	}
	return false
}
