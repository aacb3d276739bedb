package layout_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"

	"dryfit/layout"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// validFiles lists the builds without mistakes.
func validFiles(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("testdata/valid-*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatalf("%d valid builds, %v", len(files), err)
	}
	return append(files, "testdata/first.yaml")
}

func TestLoadValid(t *testing.T) {
	for _, file := range validFiles(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			b, diags := layout.Load(file, testLibrary(t))
			if diags.Len() > 0 || b == nil {
				t.Fatalf("build %v with\n%s", b, diags)
			}
			if asm, found := layout.Resolve(b); asm == nil || found.Len() > 0 {
				t.Errorf("it cannot be placed:\n%s", found)
			}
			if b.File != file {
				t.Errorf("File is %q", b.File)
			}
		})
	}
}

// TestLoadFirst reads the small craft with the plain catalogue and holds it to being short.
func TestLoadFirst(t *testing.T) {
	data, err := os.ReadFile("testdata/first.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if lines := bytes.Count(data, []byte("\n")); lines >= 60 {
		t.Errorf("the first build takes %d lines", lines)
	}
	b, diags := layout.Load("testdata/first.yaml", nil)
	if err := diags.Err(); err != nil {
		t.Fatal(err)
	}
	if len(b.Plates) != 2 || b.Plates[0].Name != "base" || b.Plates[1].On.ID() != "posts.main" {
		t.Error("the plates are not as written")
	}
	// Neighbours are opposed from front-right: counter-clockwise.
	turns := ""
	for _, r := range b.Rotors.Rotors {
		turns += fmt.Sprintf("%s %v, ", r.Name, r.Clockwise)
	}
	if want := "front-left true, rear-left false, rear-right true, front-right false, "; turns != want {
		t.Errorf("rotors: %s want %s", turns, want)
	}
	s := b.Stacks[0]
	if s.Screw != "M3" || s.SideX.Value != 30.5 || s.SideX != s.SideY { // written figure, no arithmetic
		t.Errorf("stack: screw %q, sides %v %v", s.Screw, s.SideX, s.SideY)
	}
	var names []string
	for _, it := range s.Items {
		names = append(names, it.Name)
	}
	if got := strings.Join(names, " "); got != "spacer-1 esc spacer-2 flight-board nut-1" {
		t.Errorf("items: %s", got)
	}
	if sp := s.Items[0]; sp.Part == nil || sp.Part.Standoff.Material != "nylon" || sp.Part.Standoff.Thread != "M3" {
		t.Errorf("spacer part: %+v", sp.Part)
	}
	if c := b.Cameras[0]; c.TiltLo != 20 || c.TiltHi != 35 || c.From.ID() != "plates.base" || c.From.Face != shapes.Top {
		t.Errorf("camera: %+v", c)
	}
	if st := b.Batteries[0].Strap; st.Through.Kind != layout.TargetHole || st.Through.ID() != "plates.roof.strap" || st.Count != 1 {
		t.Errorf("strap: %+v", st.Through)
	}
	// Four posts from one place mirrored both ways: (45, ±15), (-45, ±15).
	var at []string
	for _, p := range b.Posts[0].At.Poses(0) {
		at = append(at, fmt.Sprint(p.Shift.X, p.Shift.Y))
	}
	if got := strings.Join(at, " | "); got != "45 15 | 45 -15 | -45 15 | -45 -15" {
		t.Errorf("posts at %s", got)
	}
}

func TestLoadEveryKey(t *testing.T) {
	b, diags := layout.Load("testdata/valid-arms.yaml", testLibrary(t))
	if err := diags.Err(); err != nil {
		t.Fatal(err)
	}
	find := func(name string) *layout.RotorSpec {
		for _, r := range b.Rotors.Rotors {
			if r.Name == name {
				return r
			}
		}
		t.Fatalf("no rotor %s", name)
		return nil
	}
	// Six with `first: 0`: one ahead, 60° apart; all below but front-left; front clockwise,
	// so rear (three steps on) would be counter-clockwise, and `turns:` says clockwise.
	fl := find("front-left")
	if fl.Below || fl.Motor.Name != "bench-motor" || fl.Bearing != 60 || fl.Nut != "plain" || fl.Hand != "clockwise" || fl.Clocking != 0 || fl.Height.Value != 12 || fl.Clockwise {
		t.Errorf("front-left: %+v", fl)
	}
	if r := find("rear"); !r.Below || !r.Clockwise || r.Bearing != 180 || r.Clocking != 45 || r.Nut != "insert" {
		t.Errorf("rear: %+v", r)
	}
	for _, m := range b.Mounts {
		switch m.Name {
		case "esc":
			if m.On.Kind != layout.TargetArms || m.On.Face != shapes.Bottom || m.FromMotor.Value != 18 || m.Sleeve.Value != 0.5 {
				t.Errorf("esc: %+v", m)
			}
		case "can":
			if !m.Upright || m.Hold.Part.Name != "test-foam" || m.Hold.Thickness.Value != 1.2 || m.Sleeve.Value != 0.6 || m.On.Face != shapes.Bottom {
				t.Errorf("can: %+v", m)
			}
		case "receiver":
			if m.On.ID() != "stacks.main.fc" || m.Hold.Word != "foam" || m.Hold.Thickness.Value != 1.5 || m.At.P.Y != 4 || m.Tie == nil {
				t.Errorf("receiver: %+v", m)
			}
		case "beacon":
			if m.On.ID() != "plates.arm.front" {
				t.Errorf("beacon on %s", m.On.ID())
			}
		}
	}
	if len(b.Ports) != 2 || b.Ports[0].Owner.ID()+"."+b.Ports[0].Port != "stacks.main.fc.usb" || *b.Ports[0].Used || b.Ports[1].Angled == nil || !*b.Ports[1].Angled {
		t.Errorf("ports: %+v", b.Ports)
	}
	if len(b.Needs) != 2 || b.Needs[1].Rule != "prop-tip-gap" || b.Needs[1].MM.Value != 4 {
		t.Errorf("needs: %+v", b.Needs)
	}
	if b.MassLimit.Value != 1200 || b.Allowance.Plus != 4 || len(b.Guard) != 2 || len(b.Touching) != 2 || b.Touching[1].A.ID() != "rotors.front.prop" {
		t.Error("mass, guard or touching are not as written")
	}
	if len(b.Own) != 4 {
		t.Errorf("%d parts of its own, want my-pack, two-ports, tall-fc and bench-motor", len(b.Own))
	}
}

func TestRotorTurns(t *testing.T) {
	cases := []struct{ head, want string }{
		// Without a word the front-right (or front) rotor turns counter-clockwise and
		// every neighbour is opposed.
		{"layout: cross, wheelbase: 200", "front-left+ rear-left- rear-right+ front-right-"},
		{"layout: cross, wheelbase: 200, rear-left: clockwise", "front-left- rear-left+ rear-right- front-right+"},
		{"layout: plus, wheelbase: 200", "front- left+ rear- right+"},
		{"layout: plus, wheelbase: 200, left: counter-clockwise", "front+ left- rear+ right-"},
		{"layout: stretched, length: 100, width: 200, front-left: counter-clockwise", "front-left- rear-left+ rear-right- front-right+"},
		{"layout: six, wheelbase: 400", "front-left+ left- rear-left+ rear-right- right+ front-right-"},
		{"layout: six, wheelbase: 400, first: 0", "front+ front-left- rear-left+ rear- rear-right+ front-right-"},
		{"layout: eight, wheelbase: 400", "front-left+ left-front- left-rear+ rear-left- rear-right+ right-rear- right-front+ front-right-"},
		// Three cannot alternate all round: the front two are opposed, the rear one turns as
		// the one that is named.
		{"layout: three, wheelbase: 200", "front-left+ rear- front-right-"},
		{"layout: three, wheelbase: 200, front-left: clockwise", "front-left+ rear+ front-right-"},
		{"layout: three, wheelbase: 200, rear: clockwise", "front-left- rear+ front-right+"},
		// The lower one of a pair turns against the upper one.
		{"layout: plus, wheelbase: 200, pairs: coaxial, turns: {left: counter-clockwise, rear-below: counter-clockwise}",
			"front- front-below+ left- left-below+ rear- rear-below- right+ right-below-"},
	}
	for _, c := range cases {
		text := "dryfit: 1\nname: turns\nrotors: {motor: test-motor, prop: test-prop, " + c.head + "}\n"
		b, diags := layout.LoadBytes("t.yaml", []byte(text), nil, testLibrary(t))
		if err := diags.Err(); err != nil {
			t.Errorf("%s:\n%s", c.head, err)
			continue
		}
		var got []string
		for _, r := range b.Rotors.Rotors {
			got = append(got, r.Name+map[bool]string{true: "+", false: "-"}[r.Clockwise])
		}
		slices.SortFunc(got, strings.Compare)
		want := strings.Fields(c.want)
		slices.SortFunc(want, strings.Compare)
		if !slices.Equal(got, want) {
			t.Errorf("%s:\ngot  %s\nwant %s", c.head, got, want)
		}
	}
}

// TestKeyOrder: the order of keys, in the build and its parts, changes nothing but
// positions.
func TestKeyOrder(t *testing.T) {
	for _, file := range validFiles(t) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(data, []byte("<<:")) {
			continue // an anchor must stand above its alias
		}
		dir := os.DirFS(filepath.Dir(file))
		b, diags := layout.LoadBytes(file, data, dir, testLibrary(t))
		if err := diags.Err(); err != nil {
			t.Fatal(err)
		}
		want := dump(b)
		rng := rand.New(rand.NewPCG(1, 2))
		for range 20 {
			var doc yaml.Node
			if err := yaml.Unmarshal(data, &doc); err != nil {
				t.Fatal(err)
			}
			shuffle(&doc, rng)
			text, err := yaml.Marshal(&doc)
			if err != nil {
				t.Fatal(err)
			}
			again, diags := layout.LoadBytes(file, text, dir, testLibrary(t))
			if err := diags.Err(); err != nil {
				t.Fatalf("%s\n%s", text, err)
			}
			if got := dump(again); got != want {
				t.Fatalf("%s: another order of keys gives another build:\n%s\n%s", file, text, firstDifference(want, got))
			}
		}
	}
}

// shuffle reorders the keys of every map.
func shuffle(n *yaml.Node, rng *rand.Rand) {
	for _, c := range n.Content {
		shuffle(c, rng)
	}
	if n.Kind == yaml.MappingNode {
		rng.Shuffle(len(n.Content)/2, func(i, j int) {
			n.Content[2*i], n.Content[2*j] = n.Content[2*j], n.Content[2*i]
			n.Content[2*i+1], n.Content[2*j+1] = n.Content[2*j+1], n.Content[2*i+1]
		})
	}
}

// dump prints a value with everything under it but positions, the library and the file's
// text.
func dump(v any) string {
	var b strings.Builder
	dumpValue(&b, reflect.ValueOf(v), "")
	return b.String()
}

func dumpValue(b *strings.Builder, v reflect.Value, path string) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			fmt.Fprintf(b, "%s nil\n", path)
		} else if v.Type() != reflect.TypeFor[*shapes.Library]() {
			dumpValue(b, v.Elem(), path)
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[read.Pos]() {
			return
		}
		for i := range v.NumField() {
			if v.Type() == reflect.TypeFor[layout.Build]() && v.Type().Field(i).Name == "text" {
				continue // the file itself
			}
			if !v.Type().Field(i).IsExported() {
				continue // the text of the file, for messages
			}
			dumpValue(b, v.Field(i), path+"."+v.Type().Field(i).Name)
		}
	case reflect.Slice, reflect.Array:
		fmt.Fprintf(b, "%s %d items\n", path, v.Len())
		for i := range v.Len() {
			dumpValue(b, v.Index(i), fmt.Sprintf("%s[%d]", path, i))
		}
	default:
		fmt.Fprintf(b, "%s %v\n", path, v)
	}
}

func firstDifference(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return x[i] + "\n" + y[i]
		}
	}
	return "one is longer"
}

// TestLoadOddFiles: what is no build file at all gives one complaint in plain words.
func TestLoadOddFiles(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	bomb := "a: &a [x, x, x, x, x, x, x, x, x, x]\n"
	for i, name := range []string{"b", "c", "d", "e", "f", "g", "h"} {
		bomb += fmt.Sprintf("%s: &%s [%s]\n", name, name, strings.Repeat(fmt.Sprintf("*%c, ", 'a'+i), 10))
	}
	cases := []struct{ path, say string }{
		{filepath.Join(dir, "nowhere.yaml"), "no such file"},
		{dir, "a folder"},
		{write("empty.yaml", nil), "the file is empty"},
		{write("comment.yaml", []byte("# later\n")), "the file is empty"},
		{write("binary.yaml", []byte{0x7f, 'E', 'L', 'F', 0, 1, 2}), "not a text file"},
		{write("huge.yaml", bytes.Repeat([]byte("a: 1\n"), 10<<20)), "over the limit"},
		{write("two.yaml", []byte("dryfit: 1\nname: a\n---\ndryfit: 1\n")), "a second document begins here"},
		{write("bomb.yaml", []byte(bomb)), "values once the aliases are expanded"},
		{write("list.yaml", []byte("- dryfit: 1\n")), "a build is a map of keys and values, not a list"},
		{write("word.yaml", []byte("hello\n")), `a build is a map of keys and values, not "hello"`},
		{write("tab.yaml", []byte("dryfit: 1\nplates:\n\tbase: 1\n")), "a tab cannot indent"},
		{write("twice.yaml", []byte("dryfit: 1\nname: a\nplates: {}\nplates: {}\n")), `the key "plates" stands twice`},
		{write("nothing.yaml", []byte("dryfit: 1\nname: a\n")), "there is nothing to check"},
	}
	if os.Geteuid() != 0 { // nothing is unreadable to the superuser
		locked := write("locked.yaml", []byte("dryfit: 1\n"))
		if err := os.Chmod(locked, 0); err != nil {
			t.Fatal(err)
		}
		cases = append(cases, struct{ path, say string }{locked, "no permission"})
	}
	for _, c := range cases {
		b, diags := layout.Load(c.path, testLibrary(t))
		got := diags.Sorted()
		if b != nil || len(got) != 1 || !strings.Contains(got[0].Message, c.say) || got[0].Pos.File != c.path {
			t.Errorf("%s: want one complaint with %q, got build %v and\n%s", filepath.Base(c.path), c.say, b, diags)
		}
	}
}

// TestPartFiles: only the build's folder is read, links out of it included.
func TestPartFiles(t *testing.T) {
	outside := t.TempDir()
	dir := filepath.Join(t.TempDir(), "build")
	for path, text := range map[string]string{
		filepath.Join(outside, "secret.yaml"):  "dryfit: 1\nparts: {leaked: {like: test-rx}}\n",
		filepath.Join(dir, "mine.yaml"):        "dryfit: 1\nparts: {mine: {like: test-rx}}\n",
		filepath.Join(dir, "sub", "deep.yaml"): "dryfit: 1\nparts: {deep: {like: mine}}\n",
		filepath.Join(dir, "again.yaml"):       "dryfit: 1\nparts:\n  mine: {like: test-rx}\n",
		filepath.Join(dir, "wrong.yaml"):       "dryfit: 1\nparts: {mine: {like: test-rx, lenght: 3}}\nname: no\n",
		filepath.Join(dir, "folder", "x.yaml"): "dryfit: 1\n",
		filepath.Join(dir, "broken.yaml"):      "dryfit: [1\n",
	} {
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(filepath.Join(outside, "secret.yaml"), filepath.Join(dir, "link.yaml")); err != nil {
		t.Skip("no links here: ", err)
	}
	cases := []struct {
		files, part string
		want        []string // "file:line:col" and words, each complaint in order
	}{
		{"[mine.yaml, sub/deep.yaml]", "deep", nil},
		{"[link.yaml]", "leaked", []string{"build.yaml:3:14", "cannot be read"}},
		{"[../build/mine.yaml]", "mine", []string{"build.yaml:3:14", "leaves the build's folder"}},
		{"[folder]", "mine", []string{"build.yaml:3:14", "this is a folder"}},
		{"[.]", "mine", []string{"build.yaml:3:14", "leaves the build's folder"}},
		{"[mine.yaml, mine.yaml]", "mine", []string{"build.yaml:3:25", "stands twice"}},
		{"[mine.yaml, again.yaml]", "mine", []string{"again.yaml:3:3", "is defined twice"}},
		{"[broken.yaml]", "mine", []string{"broken.yaml:1:11", ""}},
		{"[wrong.yaml]", "mine", []string{"wrong.yaml:2:31", `"lenght" is not a key`, "wrong.yaml:3:1", `"name" is not a key of a part file`}},
		{"mine.yaml", "mine", []string{"build.yaml:3:13", "a list is wanted here"}},
	}
	for _, c := range cases {
		path := filepath.Join(dir, "build.yaml")
		text := "dryfit: 1\nname: with part files\npart-files: " + c.files + "\nplates: {base: {material: test-sheet, thickness: 2, outline: {circle: 50}}}\n" +
			"mounts: {it: {part: " + c.part + ", on: base.top}}\n"
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		_, diags := layout.Load(path, testLibrary(t))
		got := diags.Sorted()
		ok := len(got) == len(c.want)/2
		for i := 0; ok && i < len(got); i++ {
			ok = strings.HasSuffix(got[i].Pos.String(), string(filepath.Separator)+c.want[2*i]) && strings.Contains(got[i].Message, c.want[2*i+1])
		}
		if !ok {
			t.Errorf("%s: want %q, got\n%s", c.files, c.want, diags)
		}
	}
}

func BenchmarkLoad(b *testing.B) {
	for _, file := range []string{"testdata/first.yaml", "testdata/valid-arms.yaml"} {
		b.Run(filepath.Base(file), func(b *testing.B) {
			lib := testLibrary(b)
			b.ReportAllocs()
			for b.Loop() {
				if build, diags := layout.Load(file, lib); build == nil {
					b.Fatal(diags)
				}
			}
		})
	}
}
