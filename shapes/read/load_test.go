package read

import (
	"fmt"
	"strings"
	"testing"
)

// TestLoadRefuses: each text gives exactly one error, at the position written beside it.
func TestLoadRefuses(t *testing.T) {
	bomb := "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n"
	for i := 1; i < 9; i++ {
		p := fmt.Sprintf("*a%d", i-1)
		bomb += fmt.Sprintf("a%d: &a%d [%s]\n", i, i, strings.Join([]string{p, p, p, p, p, p, p, p, p, p}, ", "))
	}
	cases := []struct {
		name, text string
		line, col  int // 0: the file as a whole
		say        string
	}{
		{"empty", "", 0, 0, "empty"},
		{"only comments", "# nothing\n\n", 0, 0, "empty"},
		{"only a document mark", "---\n", 0, 0, "empty"},
		{"NUL byte", "a: 1\nb: \x00\n", 0, 0, "control character 0x00 in line 2, column 4"},
		{"broken UTF-8", "é: \xff\n", 0, 0, "broken UTF-8 in line 1, column 4"},
		{"lone carriage return", "a: 1\rb: 2\n", 0, 0, "carriage return"},
		{"line separator", "a: 1\u2028b: 2\n", 0, 0, "U+2028"},
		{"too large", "a: " + strings.Repeat("x", MaxBytes), 0, 0, "over the limit"},
		{"two documents", "a: 1\n---\nb: 2\n", 2, 1, "second document"},
		{"duplicate key", "a: 1\nb:\n  c: 1\n  d: 2\n  c: 3\n", 5, 3, `"c" stands twice`},
		{"duplicate key in flow", "a: {x: 1, y: 2, x: 3}\n", 1, 17, `"x" stands twice`},
		{"tag", "a: !!int 5\n", 1, 4, "tags"},
		{"own tag", "a: !thing {b: 1}\n", 1, 4, "tags"},
		{"list as key", "? [a]\n: b\n", 1, 3, "cannot be a key"},
		{"unknown anchor", "a: 1\nb: *x\n", 2, 4, "unknown anchor"},
		{"anchor in itself", "a: &x [1, *x]\n", 1, 11, "contains itself"},
		{"alias bomb", bomb, -1, -1, "more than 200000 values"},
		{"too deep", "a: " + strings.Repeat("[", 70) + strings.Repeat("]", 70) + "\n", 1, 68, "nested deeper than 64"},
		{"far too deep", strings.Repeat("[", 20000), 1, 10001, "nested deeper"},
		{"tab", "a:\n\t- b\n", 2, 1, "tab cannot indent"},
		{"unclosed quote", "a: 'x\nb: 1\n", 2, 5, "quoted scalar"},
		{"unclosed bracket", "a: [1, 2\n", 1, 9, "flow"},
		{"colon in text", "a: é b: c\n", 1, 7, "mapping values"},
		{"merge of a number", "a: 1\n<<: 3\n", 2, 5, "<< takes a map"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, diags := Load("f.yaml", []byte(c.text))
			got := diags.Sorted()
			if len(got) != 1 {
				t.Fatalf("%d diagnostics, want 1:\n%s", len(got), diags)
			}
			d := got[0]
			if !strings.Contains(d.Message, c.say) {
				t.Errorf("message %q does not say %q", d.Message, c.say)
			}
			if c.line >= 0 && (d.Pos.Line != c.line || d.Pos.Col != c.col) {
				t.Errorf("at %d:%d, want %d:%d\n%s", d.Pos.Line, d.Pos.Col, c.line, c.col, d)
			}
			if d.Pos.File != "f.yaml" {
				t.Errorf("file %q", d.Pos.File)
			}
			if diags.Err() == nil {
				t.Error("Err is nil")
			}
		})
	}
}

func TestLoadKeepsOrderPositionsAndMerges(t *testing.T) {
	root, diags := Load("f.yaml", []byte("base: &b {z: 1, y: 2}\nmine:\n  y: 3\n  <<: *b\n  x: [4, five]\nempty:\ntwice: [*b]\n"))
	if err := diags.Err(); err != nil {
		t.Fatal(err)
	}
	var keys []string
	for _, e := range root.Get("mine").Entries() {
		keys = append(keys, e.Key+"="+e.Value.Raw())
	}
	// own keys first in their order, then what << adds; the own y wins
	if got := strings.Join(keys, " "); got != "y=3 x= z=1" {
		t.Errorf("keys %q", got)
	}
	five := root.Get("mine").Get("x").Items()[1]
	if five.Path() != "mine.x[1]" || five.Pos() != (Pos{"f.yaml", 5, 10}) {
		t.Errorf("path %s at %s", five.Path(), five.Pos())
	}
	if z := root.Get("mine").Get("z"); z.Path() != "mine.z" || z.Pos().Line != 1 {
		t.Errorf("merged value: path %s at %s", z.Path(), z.Pos())
	}
	if root.Get("empty").Kind() != Null {
		t.Errorf("empty value is %s", root.Get("empty").Kind())
	}
	if y := root.Get("twice").Items()[0].Get("y"); y.Path() != "twice[0].y" || y.Raw() != "2" {
		t.Errorf("aliased value: %s %q", y.Path(), y.Raw())
	}
}

func TestLoadFromCountsFromTheFirstLine(t *testing.T) {
	root, diags := LoadFrom("f.yaml", []byte("a: 1\nb: {c: 2}\n"), 100)
	if diags.Len() != 0 || root.Get("b").Get("c").Pos() != (Pos{"f.yaml", 101, 8}) {
		t.Errorf("at %s\n%s", root.Get("b").Get("c").Pos(), diags)
	}
	diags.At(root.Get("b"), "wrong", "", "")
	if d := diags.Sorted()[0]; d.Line != "b: {c: 2}" {
		t.Errorf("line %q", d.Line)
	}
}

func FuzzLoad(f *testing.F) {
	for _, s := range []string{"a: 1\n", "a: &x [1, *x]\n", "<<: [{a: 1}, {b: 2}]\n", "- a\n- {b: c}\n", "? [a]\n: b", "a: |\n  text\n", "\ufeffa: b"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		root, diags := Load("f", data)
		if root == nil && diags.Err() == nil {
			t.Fatal("neither a tree nor an error")
		}
		var walk func(n *Node)
		walk = func(n *Node) {
			_ = n.Path()
			for _, c := range n.Items() {
				walk(c)
			}
			for _, e := range n.Entries() {
				walk(e.Value)
			}
		}
		walk(root)
		_ = diags.String()
	})
}
