package examples

import (
	"bytes"
	"flag"
	"fmt"
	"hash/fnv"
	"math/rand"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"

	"dryfit/layout"
	"dryfit/render"
	"dryfit/render/report"
)

// Rewrites the reports and drawings that stand beside the examples:
//
//	go test ./examples -update
var update = flag.Bool("update", false, "rewrite reports and drawings of the examples")

// output makes the report and the sheets of a build, by file name.
func output(t testing.TB, asm *layout.Assembly, outs []layout.Outcome) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	var b bytes.Buffer
	if err := report.Text(&b, asm, outs, report.Options{All: true}); err != nil {
		t.Fatal(err)
	}
	out["report.txt"] = b.Bytes()
	sheets, err := render.Sheets(asm, outs, render.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		svg, err := s.SVG()
		if err != nil {
			t.Fatalf("sheet %s: %v", s.Name, err)
		}
		out[asm.Name+"-"+s.Name+".svg"] = svg
	}
	return out
}

func names(files map[string][]byte) []string {
	var out []string
	for name := range files {
		out = append(out, name)
	}
	sort.Strings(out)
	return out
}

// TestCommittedOutput makes every report and drawing anew and wants the committed bytes.
func TestCommittedOutput(t *testing.T) {
	for _, name := range all() {
		t.Run(name, func(t *testing.T) {
			asm := load(t, path(name), text(t, name))
			if asm.Name != name {
				t.Errorf("the build in %s is named %q", path(name), asm.Name)
			}
			got := output(t, asm, judge(asm))
			old := committed(t, name)
			if *update {
				for _, file := range old {
					if err := os.Remove(filepath.Join(name, file)); err != nil {
						t.Fatal(err)
					}
				}
				for _, file := range names(got) {
					if err := os.WriteFile(filepath.Join(name, file), got[file], 0o644); err != nil {
						t.Fatal(err)
					}
				}
				return
			}
			if a, b := strings.Join(old, " "), strings.Join(names(got), " "); a != b {
				t.Errorf("the folder holds %s\n\tthe build gives %s", a, b)
			}
			for _, file := range names(got) {
				want, err := os.ReadFile(filepath.Join(name, file))
				if err != nil {
					t.Error(err)
					continue
				}
				if !bytes.Equal(got[file], want) {
					t.Errorf("%s differs from the committed one in line %s\n(go test ./examples -update, then look at what changed)", file, firstUnlike(want, got[file]))
				}
			}
		})
	}
}

// committed lists what stands in the folder of an example beside its build.
func committed(t *testing.T, name string) []string {
	t.Helper()
	entries, err := os.ReadDir(name)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		if file := e.Name(); file == "report.txt" || strings.HasSuffix(file, ".svg") {
			out = append(out, file)
		}
	}
	return out
}

// firstUnlike names the first line in which two texts differ, and shows both.
func firstUnlike(want, got []byte) string {
	a, b := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
	for i := range max(len(a), len(b)) {
		at := func(list []string) string {
			if i < len(list) {
				return list[i]
			}
			return "(ends)"
		}
		if at(a) != at(b) {
			return fmt.Sprintf("%d:\n\twant %.160s\n\tgot  %.160s", i+1, at(a), at(b))
		}
	}
	return "none"
}

// TestCleanExamplesHold wants nothing but ok from every example but the drafts, without
// excuses and needs of their own, which would only hide a fault.
func TestCleanExamplesHold(t *testing.T) {
	for _, name := range clean {
		asm := load(t, path(name), text(t, name))
		if len(asm.Needs) > 0 || len(asm.Excuses) > 0 {
			t.Errorf("%s asks for needs of its own or excuses something", name)
		}
		outs := judge(asm)
		for _, f := range bad(outs) {
			t.Errorf("%s: %s", name, f)
		}
		if c := report.Count(outs); c.Crashed > 0 || c.OK < 50 {
			t.Errorf("%s: %d rules crashed, %d findings hold", name, c.Crashed, c.OK)
		}
		if n := strings.Count(text(t, name), "\n"); n > 175 {
			t.Errorf("%s has %d lines; a reader's patience ends at 175", path(name), n)
		}
	}
}

// TestTwoRunsGiveTheSameBytes loads, judges and draws twice.
func TestTwoRunsGiveTheSameBytes(t *testing.T) {
	for _, name := range all() {
		src := text(t, name)
		a := load(t, path(name), src)
		b := load(t, path(name), src)
		one, two := output(t, a, judge(a)), output(t, b, judge(b))
		for _, file := range names(one) {
			if !bytes.Equal(one[file], two[file]) {
				t.Errorf("%s, %s: two runs differ in line %s", name, file, firstUnlike(one[file], two[file]))
			}
		}
	}
}

// TestKeyOrderMeansNothing shuffles the keys of every map of a build and wants the same
// drawings and, but for the places in the file, the same report.
func TestKeyOrderMeansNothing(t *testing.T) {
	for _, name := range all() {
		src := text(t, name)
		plain := load(t, path(name), src)
		want := output(t, plain, unplaced(judge(plain)))
		seed := fnv.New64a()
		seed.Write([]byte(name))
		for round := range 3 {
			mixed := shuffled(t, src, rand.New(rand.NewSource(int64(seed.Sum64())+int64(round))))
			if mixed == shuffled(t, src, nil) {
				t.Fatalf("%s: shuffling changed nothing", name)
			}
			asm := load(t, path(name), mixed)
			got := output(t, asm, unplaced(judge(asm)))
			for _, file := range names(want) {
				if !bytes.Equal(want[file], got[file]) {
					t.Errorf("%s, %s: with its keys in another order line %s", name, file, firstUnlike(want[file], got[file]))
				}
			}
			if len(want) != len(got) {
				t.Errorf("%s: %d files, with keys in another order %d", name, len(want), len(got))
			}
		}
	}
}

// unplaced takes the places in the file out of findings.
func unplaced(outs []layout.Outcome) []layout.Outcome {
	for i := range outs {
		for j := range outs[i].Findings {
			outs[i].Findings[j].Pos.Line, outs[i].Findings[j].Pos.Col = 0, 0
		}
	}
	return outs
}

// shuffled returns a YAML text with the keys of all its maps in another order, in their
// own order for a nil rnd.
func shuffled(t *testing.T, src string, rnd *rand.Rand) string {
	t.Helper()
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(src), &doc); err != nil {
		t.Fatal(err)
	}
	mix(&doc, rnd)
	out, err := yaml.Marshal(&doc)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

func mix(n *yaml.Node, rnd *rand.Rand) {
	n.HeadComment, n.LineComment, n.FootComment = "", "", ""
	for _, c := range n.Content {
		mix(c, rnd)
	}
	if n.Kind != yaml.MappingNode || rnd == nil {
		return
	}
	rnd.Shuffle(len(n.Content)/2, func(i, j int) {
		a, b := n.Content, n.Content
		a[2*i], b[2*j] = b[2*j], a[2*i]
		a[2*i+1], b[2*j+1] = b[2*j+1], a[2*i+1]
	})
}

// bad lists all findings that do not hold, one line each: rule, verdict and subjects.
func bad(outs []layout.Outcome) []string {
	var out []string
	for _, o := range outs {
		if o.Status == layout.Crashed {
			out = append(out, o.Rule+" crashed: "+o.Reason)
		}
		for i := range o.Findings {
			if f := &o.Findings[i]; f.Verdict != layout.OK {
				out = append(out, fmt.Sprintf("%s %s %s", f.Rule, f.Verdict, strings.Join(f.Subjects, " ")))
			}
		}
	}
	sort.Strings(out)
	return out
}
