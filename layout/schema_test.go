package layout_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"
	"go.yaml.in/yaml/v4"
	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"dryfit/layout"
)

func compiledSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(layout.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("build.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("build.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// instance reads YAML as a JSON schema sees it.
func instance(t testing.TB, file string) any {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := yaml.Unmarshal(data, &v); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return plain(v)
}

// plain turns what YAML gives into the types of JSON.
func plain(v any) any {
	switch v := v.(type) {
	case map[any]any:
		out := map[string]any{}
		for k, e := range v {
			out[fmt.Sprint(k)] = plain(e)
		}
		return out
	case map[string]any:
		out := map[string]any{}
		for k, e := range v {
			out[k] = plain(e)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, e := range v {
			out[i] = plain(e)
		}
		return out
	case int:
		return float64(v)
	}
	return v
}

func TestSchemaAcceptsValidBuilds(t *testing.T) {
	schema := compiledSchema(t)
	files := validFiles(t)
	examples, err := filepath.Glob("../examples/*/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range append(files, examples...) {
		v, ok := instance(t, file).(map[string]any)
		if !ok || (v["name"] == nil && v["rotors"] == nil) {
			continue // a part file
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("%s: %#v", file, err)
		}
	}
}

// beyondSchema are the mistakes that need more than the form of a file: the catalogue,
// the names of the build, a comparison of two figures.
func beyondSchema() []*regexp.Regexp {
	var out []*regexp.Regexp
	for _, p := range []string{
		// parts and their kinds
		`is not a part$`, `^".*" is (a|an) [a-z- ]+, (not|which) `, `is not mounted like other parts`, `without a square of mounting holes`, `has no port`,
		"`like:` runs in a circle", `has its holes in a square, not`, `is not a thread of the catalogue`, `holds no part`,
		// references and names
		`nothing that this build has`, `does not say which face`, `has no face`, `names a face`, `is a set of posts`, `stands at every rotor`, `which face`,
		`is carried by itself`, `cannot be carried by itself`, `lies on what carries it`, `counts from the (top|bottom) of a plate`,
		`have the name`, `says where it stands`, `is not a rotor of this layout`, `no board or mounted part`, `a part always touches itself`,
		`one rotor's turn decides`, `is said for`, `share an axis`, "the rotors need `prop:`", `there is no such file`,
		// what is in a drawing
		`cannot be read: there is no such file`, `gives no outline: `, `holds \d+ parts$`, `does not close: `, `cannot be cut: `, `the part cannot be placed: `,
		// who is joined to whom, by what
		`to drive them`, `and a motor has three leads`, `drive[s]? (a|no) motor`, `drives two rotors`, `there are no rotors, so`, `the motor leads stand twice`, `has \d+ outputs`,
		`no wire ends there`, `has no pad or port`, `nobody has said what the ways`, `to itself$`, `bears one wire`, `has nothing for`, `cannot be joined`, `needs its ground`,
		`can mean`, `has a way`, `the way ".*" stands twice`, `is not a gauge that wire is sold in`, `is no opening that this build has`, `this entry does not go to the rotors`,
		`is a plate, not an opening`, `no wire of this entry`, `two entries of the wires`, `has more than one pad`,
		// YAML readers have made 8 of it before a schema sees it
		`"010" has a leading zero`,
		// figures against each other or against ranges of their own
		`does not fit the rectangle`, `is shorter than it is wide`, `is not smaller than its outside`, `is out of range$`, `which way does it lean`,
		// one key of a screw against another
		`are counterbored or countersunk`, `nothing of these holes has a face`, `sits in the plate, not on a washer`, `short screws come from both ends`,
		`too thick for the wall`, `the cut is narrower than the cutter`, `is not a first bearing`, `must be known to place`, `a stack without boards needs`,
	} {
		out = append(out, regexp.MustCompile(p))
	}
	return out
}

// TestSchemaRefusesMistakes: whatever the loader complains of and a schema can see, the
// schema refuses at the same place or at the map around it.
func TestSchemaRefusesMistakes(t *testing.T) {
	schema := compiledSchema(t)
	beyond := beyondSchema()
	files, err := filepath.Glob("testdata/mistakes/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, file := range files {
		_, diags := layout.Load(file, testLibrary(t))
		places := map[string][]string{}
		var ve *jsonschema.ValidationError
		whole := instance(t, file)
		if err := schema.Validate(whole); errors.As(err, &ve) {
			leaves(ve, places)
		}
		for _, d := range diags.Sorted() {
			if slices.ContainsFunc(beyond, func(r *regexp.Regexp) bool { return r.MatchString(d.Message) }) {
				continue
			}
			if !refused(places, stepsOf(whole, d.Path)) {
				t.Errorf("%s:%d: the schema does not see: %s: %s", file, d.Pos.Line, d.Path, d.Message)
			}
			seen++
		}
	}
	if seen < 60 {
		t.Errorf("only %d mistakes that a schema can see", seen)
	}
	t.Logf("%d mistakes seen by the schema", seen)
}

// badNames marks keys that the schema takes for no names.
const badNames = "name "

// leaves collects the schema's complaints by the place in the file.
func leaves(e *jsonschema.ValidationError, into map[string][]string) {
	at := strings.Join(e.InstanceLocation, "/")
	into[at] = append(into[at], e.ErrorKind.LocalizedString(message.NewPrinter(language.English)))
	if names, ok := e.ErrorKind.(*kind.PropertyNames); ok {
		// The place of these is not to be relied on, the name is.
		into[badNames+names.Property] = nil
		return
	}
	for _, c := range e.Causes {
		leaves(c, into)
	}
}

// refused tells whether the schema complains at the path or below it, or of its key at
// the map around it.
func refused(places map[string][]string, steps []string) bool {
	if len(steps) == 0 {
		return len(places) > 0 // the file as a whole
	}
	pointer := strings.Join(steps, "/")
	last := steps[len(steps)-1]
	if _, bad := places[badNames+last]; bad {
		return true
	}
	around := strings.Join(steps[:len(steps)-1], "/")
	for place, said := range places {
		if place == pointer || strings.HasPrefix(place, pointer+"/") {
			return true
		}
		if place != around {
			continue
		}
		for _, s := range said {
			if strings.Contains(s, "'"+last+"'") || s == "'not' failed" || strings.HasPrefix(s, "'oneOf' failed, subschemas") {
				return true
			}
		}
	}
	return false
}

// stepsOf splits a path such as plates.base.holes[3].hole by the keys that are there:
// keys may hold dots.
func stepsOf(v any, path string) []string {
	var out []string
	for path != "" {
		path = strings.TrimPrefix(path, ".")
		if strings.HasPrefix(path, "[") {
			end := strings.Index(path, "]")
			i, _ := strconv.Atoi(path[1:end])
			list, _ := v.([]any)
			out, path, v = append(out, path[1:end]), path[end+1:], list[i]
			continue
		}
		m, _ := v.(map[string]any)
		key := ""
		for k := range m {
			rest, ok := strings.CutPrefix(path, k)
			if ok && len(k) > len(key) && (rest == "" || rest[0] == '.' || rest[0] == '[') {
				key = k
			}
		}
		if key == "" {
			return append(out, path)
		}
		out, path, v = append(out, key), path[len(key):], m[key]
	}
	return out
}

func TestSchemaKnowsTheNeeds(t *testing.T) {
	text := string(layout.Schema())
	for _, n := range layout.NeedNames() {
		if !strings.Contains(text, strconv.Quote(n)) {
			t.Errorf("the schema does not know the rule %s", n)
		}
	}
}
