package read

import (
	"strings"
	"testing"
)

func load(t *testing.T, text string) (*Node, *Diags) {
	t.Helper()
	root, ds := Load("f.yaml", []byte(text))
	if root == nil {
		t.Fatal(ds)
	}
	return root, ds
}

func TestFieldsReadEveryType(t *testing.T) {
	root, ds := load(t, "text: a b\nname: flight-board.2\nyes: true\ncount: 4\nnumber: 2.5\nside: left\nlist: [a, b]\nmap: {x: 1, y: 2}\n")
	f := ds.Fields(root, "a test")
	if got := f.Text("text", ""); got != "a b" {
		t.Errorf("text %q", got)
	}
	if got := f.Name("name", ""); got != "flight-board.2" {
		t.Errorf("name %q", got)
	}
	if !f.Bool("yes", false) || f.Int("count", 1, 9, 0) != 4 || f.Enum("side", "", "left", "right") != "left" {
		t.Error("bool, int or enum")
	}
	if got := f.Number("number", 0, 9, 0); got < 2.5 || got > 2.5 {
		t.Errorf("number %g", got)
	}
	if len(f.List("list")) != 2 {
		t.Error("list")
	}
	named := f.Named("map")
	if len(named) != 2 || named[0].Key != "x" || named[1].Key != "y" {
		t.Errorf("named %v", named)
	}
	// what is absent has its default
	if f.Text("none", "d") != "d" || f.Int("no", 0, 9, 7) != 7 || f.Bool("nope", true) != true || f.List("nil") != nil {
		t.Error("defaults")
	}
	f.Done()
	if err := ds.Err(); err != nil {
		t.Error(err)
	}
}

// TestFieldsMistakes: one mistake each, at its position, with advice.
func TestFieldsMistakes(t *testing.T) {
	cases := []struct {
		text      string
		ask       func(f *Fields)
		line, col int
		say, hint string
	}{
		{"a: [1]", func(f *Fields) { f.Text("a", "") }, 1, 4, "a text is wanted here, not a list", ""},
		{"a:", func(f *Fields) { f.Text("a", "") }, 1, 3, "not nothing", ""},
		{"a: My Board", func(f *Fields) { f.Name("a", "") }, 1, 4, `"My Board" is not a name`, "write my-board"},
		{"a: -x", func(f *Fields) { f.Name("a", "") }, 1, 4, "not a name", ""},
		{"a: {}", func(f *Fields) { f.Name("a", "") }, 1, 4, "a name is wanted", ""},
		{"a: yes", func(f *Fields) { f.Bool("a", false) }, 1, 4, `"yes" is neither`, "write true"},
		{"a: Off", func(f *Fields) { f.Bool("a", false) }, 1, 4, `"Off" is neither`, "write false"},
		{"a: 'true'", func(f *Fields) { f.Bool("a", false) }, 1, 4, "neither", "write true"},
		{"a: 1", func(f *Fields) { f.Bool("a", false) }, 1, 4, "neither", "write true"},
		{"a: 10", func(f *Fields) { f.Int("a", 0, 9, 0) }, 1, 4, "out of range", ""},
		{"a: 2.5", func(f *Fields) { f.Int("a", 0, 9, 0) }, 1, 4, "not a whole number", ""},
		{"a: 010", func(f *Fields) { f.Int("a", 0, 99, 0) }, 1, 4, "leading zero", "write 10"},
		{"a: 99999999999999999999", func(f *Fields) { f.Int("a", 0, 9, 0) }, 1, 4, "out of range", ""},
		{"a: .inf", func(f *Fields) { f.Number("a", 0, 9, 0) }, 1, 4, "not a finite", ""},
		{"a: 1_0", func(f *Fields) { f.Number("a", 0, 99, 0) }, 1, 4, "underscore", ""},
		{"a: [3]", func(f *Fields) { f.Number("a", 0, 9, 0) }, 1, 4, "a number is wanted here, not a list", ""},
		{"a: lefft", func(f *Fields) { f.Enum("a", "", "left", "right") }, 1, 4, `"lefft" is not one of the choices`, "did you mean left?"},
		{"a: LEFT", func(f *Fields) { f.Enum("a", "", "left", "right") }, 1, 4, "not one of", "did you mean left?"},
		{"a: b", func(f *Fields) { f.List("a") }, 1, 4, "a list is wanted", "write [b]"},
		{"a: b", func(f *Fields) { f.Named("a") }, 1, 4, "a map of names is wanted", ""},
		{"a: {b c: 1, d: 2}", func(f *Fields) { f.Named("a") }, 1, 5, `"b c" is not a name`, "write b-c"},
		{"b: 1", func(f *Fields) { f.Also("b"); f.Need("a", "a thing") }, 1, 1, "a test needs `a:`", ""},
		{"platse: 1", func(f *Fields) { f.Get("plates") }, 1, 1, `"platse" is not a key of a test`, "did you mean plates?"},
		{"x: 1", func(f *Fields) { f.Refuse("x", "there is no x here", "use y") }, 1, 1, "there is no x here", "use y"},
	}
	for _, c := range cases {
		root, ds := load(t, c.text)
		f := ds.Fields(root, "a test")
		c.ask(f)
		f.Done()
		got := ds.Sorted()
		if len(got) != 1 {
			t.Errorf("%s: %d diagnostics\n%s", c.text, len(got), ds)
			continue
		}
		d := got[0]
		if d.Pos.Line != c.line || d.Pos.Col != c.col || !strings.Contains(d.Message, c.say) || !strings.Contains(d.Hint, c.hint) {
			t.Errorf("%s: %s", c.text, d)
		}
	}
}

// TestFieldsOfNoMap: one complaint, then silence and defaults.
func TestFieldsOfNoMap(t *testing.T) {
	root, ds := load(t, "a: [1, 2]")
	f := ds.Fields(root.Get("a"), "a test")
	f.Need("x", "")
	f.Need("y", "")
	if f.Int("z", 0, 9, 5) != 5 || f.OK() {
		t.Error("not the default")
	}
	f.Done()
	if ds.Len() != 1 {
		t.Errorf("%s", ds)
	}
	absent := ds.Fields(nil, "nothing")
	absent.Done()
	if !absent.OK() || ds.Len() != 1 {
		t.Errorf("an absent map: %s", ds)
	}
}

// TestMisspeltRequiredKey: a required key that is there and misspelt is one mistake, not two.
func TestMisspeltRequiredKey(t *testing.T) {
	root, diags := Load("f.yaml", []byte("materail: carbon\ncolour: red\n"))
	f := diags.Fields(root, "a plate")
	f.Need("material", "such as carbon")
	f.Need("thickness", "such as 2 mm")
	f.Done()
	var got []string
	for _, d := range diags.Sorted() {
		got = append(got, d.Pos.String()+" "+d.Message+" "+d.Hint)
	}
	want := []string{
		"f.yaml:1:1 \"materail\" is not a key of a plate did you mean material?",
		"f.yaml:1:1 a plate needs `thickness:` ",
		"f.yaml:2:1 \"colour\" is not a key of a plate ",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
