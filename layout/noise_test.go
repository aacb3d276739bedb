package layout_test

import (
	"os"
	"testing"

	"go.yaml.in/yaml/v4"

	"dryfit/layout"
)

// TestOneSlipOneComplaint spoils every word of the valid builds in turn: keys get a letter
// too many, values become maps or get a letter too many. However far the slip reaches,
// one complaint comes of it.
func TestOneSlipOneComplaint(t *testing.T) {
	// Names of the build that other lines speak of by longer names: each of these is a
	// name of its own that nothing bears.
	spokenOf := map[string]bool{"arm": true, "roof": true, "upper": true, "fc": true}
	slips := 0
	for _, file := range validFiles(t) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var doc yaml.Node
		if err := yaml.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
		lib := testLibrary(t)
		try := func(n *yaml.Node, as yaml.Node) {
			old := *n
			*n = as
			text, err := yaml.Marshal(&doc)
			*n = old
			if err != nil {
				t.Fatal(err)
			}
			slips++
			_, diags := layout.LoadBytes("f.yaml", text, os.DirFS("testdata"), lib)
			if diags.Len() > 1 && !spokenOf[old.Value] {
				t.Errorf("%s: %q as %q gives %d complaints:\n%s", file, old.Value, as.Value, diags.Len(), diags)
			}
		}
		var walk func(n *yaml.Node)
		walk = func(n *yaml.Node) {
			if n.Kind == yaml.ScalarNode && n.Value != "<<" {
				letter := *n
				letter.Value += "q"
				try(n, letter)
				if n.Anchor == "" {
					try(n, yaml.Node{Kind: yaml.MappingNode})
				}
			}
			for _, c := range n.Content {
				walk(c)
			}
		}
		walk(&doc)
	}
	if slips < 500 {
		t.Errorf("only %d slips", slips)
	}
}
