package rules

import (
	"path/filepath"
	"testing"

	"dryfit/layout"
)

func TestPropUnderside(t *testing.T) { testRule(t, propUnderside, "ok tight fail unknown nothing") }

// TestOneRuleTellsEachFault holds that what lies under a disc and what stands in it is
// told by prop-underside or by prop-sweep, never by both.
func TestOneRuleTellsEachFault(t *testing.T) {
	var files []string
	for _, r := range []*Rule{propSweep, propUnderside} {
		more, err := filepath.Glob(filepath.Join("testdata", r.Name, "*.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, more...)
	}
	faults := 0
	for _, file := range files {
		asm := loadBuild(t, file)
		told := map[string]string{}
		for _, o := range Run(asm, []*Rule{propSweep, propUnderside}) {
			for _, f := range o.Findings {
				if f.Verdict == layout.OK || len(f.Subjects) < 2 {
					continue
				}
				faults++
				pair := f.Subjects[0] + " " + f.Subjects[1]
				if by := told[pair]; by != "" && by != o.Rule {
					t.Errorf("%s: %s is told by %s and by %s", file, pair, by, o.Rule)
				}
				told[pair] = o.Rule
			}
		}
	}
	if faults < 10 {
		t.Errorf("only %d faults in all builds: the test shows little", faults)
	}
}
