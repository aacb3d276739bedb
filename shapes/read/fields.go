package read

import (
	"fmt"
	"sort"
	"strings"
)

// Fields reads the keys of one map. Every key asked for counts as known; Done reports
// the others with the nearest known word. When the node is no map that is reported once
// and every question is answered "absent" without more complaints.
type Fields struct {
	node  *Node
	diags *Diags
	what  string
	known map[string]bool
	names []string
	lacks []lack
	ok    bool
}

// lack is a key that must be there and is not.
type lack struct{ key, message, want, hint string }

// Fields starts reading the map n; what names it in messages: "a motor", "the rotors".
// A nil or empty node reads as a map without keys when it is nil, and is an error when
// the key stands there with nothing behind it.
func (ds *Diags) Fields(n *Node, what string) *Fields {
	f := &Fields{node: n, diags: ds, what: what, known: map[string]bool{}}
	switch {
	case n == nil:
		f.ok = true
	case n.kind == Map:
		f.ok = true
	default:
		ds.At(n, what+" is a map of keys and values, not "+n.Describe(), "key: value lines, indented alike", "")
	}
	return f
}

// OK tells whether the node was a map.
func (f *Fields) OK() bool { return f.ok }

// Node is the map being read.
func (f *Fields) Node() *Node { return f.node }

// Diags is where mistakes go.
func (f *Fields) Diags() *Diags { return f.diags }

// Also makes keys known without reading them.
func (f *Fields) Also(keys ...string) {
	for _, k := range keys {
		if !f.known[k] {
			f.known[k] = true
			f.names = append(f.names, k)
		}
	}
}

// Get returns the value of key, nil when it is absent, and makes the key known.
func (f *Fields) Get(key string) *Node {
	f.Also(key)
	if !f.ok {
		return nil
	}
	return f.node.Get(key)
}

// Has tells whether key is present and makes it known.
func (f *Fields) Has(key string) bool { return f.Get(key) != nil }

// Need is Get for a key that must be there; Done reports its absence at the map.
func (f *Fields) Need(key, want string) *Node {
	n := f.Get(key)
	if n == nil {
		f.Lack(key, f.what+" needs `"+key+":`", want, "")
	}
	return n
}

// Lack says that a key should be there, in words of the caller's. Done reports it at the
// map, unless the key is there and misspelt: then that is the one mistake.
func (f *Fields) Lack(key, message, want, hint string) {
	if f.ok {
		f.Also(key)
		f.lacks = append(f.lacks, lack{key, message, want, hint})
	}
}

// Refuse reports key, when present, with a message of its own in place of "unknown key".
func (f *Fields) Refuse(key, message, hint string) {
	if !f.ok || f.known[key] {
		return
	}
	for _, e := range f.node.Entries() {
		if e.Key == key {
			f.known[key] = true // not offered as a suggestion: names stays as it is
			f.diags.AtKey(f.node, e, message, "", hint)
		}
	}
}

// Text returns the text of key, or def when it is absent or no text.
func (f *Fields) Text(key, def string) string {
	if n := f.Get(key); n != nil {
		if s, ok := f.diags.Text(n); ok {
			return s
		}
	}
	return def
}

// Name returns the name under key (see [Diags.Name]), or def.
func (f *Fields) Name(key, def string) string {
	if n := f.Get(key); n != nil {
		if s, ok := f.diags.Name(n); ok {
			return s
		}
	}
	return def
}

// Bool returns the truth value of key, or def.
func (f *Fields) Bool(key string, def bool) bool {
	if n := f.Get(key); n != nil {
		if b, ok := f.diags.Bool(n); ok {
			return b
		}
	}
	return def
}

// Int returns the whole number of key within lo..hi, or def.
func (f *Fields) Int(key string, lo, hi, def int) int {
	if n := f.Get(key); n != nil {
		if v, ok := f.diags.Int(n, lo, hi); ok {
			return v
		}
	}
	return def
}

// Number returns the bare number of key within lo..hi, or def.
func (f *Fields) Number(key string, lo, hi, def float64) float64 {
	if n := f.Get(key); n != nil {
		if v, ok := f.diags.Number(n, lo, hi); ok {
			return v
		}
	}
	return def
}

// Enum returns the choice under key, or def.
func (f *Fields) Enum(key, def string, choices ...string) string {
	if n := f.Get(key); n != nil {
		if s, ok := f.diags.Enum(n, choices...); ok {
			return s
		}
	}
	return def
}

// List returns the items under key, nil when it is absent or no list.
func (f *Fields) List(key string) []*Node {
	if n := f.Get(key); n != nil {
		items, _ := f.diags.List(n)
		return items
	}
	return nil
}

// Named returns the entries of the map under key in file order, nil when it is absent or
// no map. Entries whose key is not a proper name are reported and left out.
func (f *Fields) Named(key string) []Entry {
	if n := f.Get(key); n != nil {
		entries, _ := f.diags.Named(n)
		return entries
	}
	return nil
}

// Done reports every key that nobody asked for, and the keys that must be there and are
// not.
func (f *Fields) Done() {
	if !f.ok {
		return
	}
	absent := make([]string, len(f.lacks))
	for i, l := range f.lacks {
		absent[i] = l.key
	}
	misspelt := map[string]bool{}
	for _, e := range f.node.Entries() {
		if f.known[e.Key] {
			continue
		}
		near := Nearest(e.Key, absent)
		misspelt[near] = true
		if near == "" {
			near = Nearest(e.Key, f.names)
		}
		hint := ""
		if near != "" {
			hint = "did you mean " + near + "?"
		}
		f.diags.AtKey(f.node, e, Quote(e.Key)+" is not a key of "+f.what, oneOf(f.names), hint)
	}
	for _, l := range f.lacks {
		if !misspelt[l.key] {
			f.diags.At(f.node, l.message, l.want, l.hint)
		}
	}
	f.lacks = nil
}

// oneOf lists words for "expected".
func oneOf(words []string) string {
	sorted := append([]string(nil), words...)
	sort.Strings(sorted)
	switch len(sorted) {
	case 0:
		return "no keys"
	case 1:
		return sorted[0]
	}
	return "one of " + strings.Join(sorted, ", ")
}

// Text returns a scalar's text. Lists, maps and nothing are errors.
func (ds *Diags) Text(n *Node) (string, bool) {
	if n.Kind() != Scalar {
		ds.At(n, "a text is wanted here, not "+n.Describe(), "a single value", "")
		return "", false
	}
	return n.text, true
}

// Name returns a scalar that is a proper name: small letters, digits, dots and hyphens,
// beginning with a letter or digit, at most 60 long.
func (ds *Diags) Name(n *Node) (string, bool) {
	if n.Kind() != Scalar {
		ds.At(n, "a name is wanted here, not "+n.Describe(), "a word such as flight-board", "")
		return "", false
	}
	if why := badName(n.text); why != "" {
		ds.At(n, Quote(n.text)+" is not a name: "+why, nameForm, nameHint(n.text))
		return "", false
	}
	return n.text, true
}

const nameForm = "small letters, digits, dots and hyphens, beginning with a letter or digit"

func badName(s string) string {
	if s == "" {
		return "it is empty"
	}
	if len(s) > 60 {
		return "it is longer than 60 characters"
	}
	for i, c := range s {
		switch {
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
		case (c == '-' || c == '.') && i > 0:
		default:
			return fmt.Sprintf("it has a %s", Quote(string(c)))
		}
	}
	return ""
}

// nameHint offers the name with capitals, blanks and underscores mended.
func nameHint(s string) string {
	mended := strings.NewReplacer(" ", "-", "_", "-").Replace(strings.ToLower(strings.TrimSpace(s)))
	if mended != s && badName(mended) == "" {
		return "write " + mended
	}
	return ""
}

// Bool returns true or false. YAML's older words are refused, because programs differ
// about what they mean.
func (ds *Diags) Bool(n *Node) (bool, bool) {
	if n.Kind() == Scalar && !n.quoted {
		switch n.text {
		case "true":
			return true, true
		case "false":
			return false, true
		}
	}
	hint := ""
	switch strings.ToLower(n.Raw()) {
	case "yes", "on", "y", "true", "1":
		hint = "write true"
	case "no", "off", "n", "false", "0":
		hint = "write false"
	}
	ds.At(n, n.Describe()+" is neither true nor false", "true or false, without quotes", hint)
	return false, false
}

// Int returns a whole number within lo..hi.
func (ds *Diags) Int(n *Node, lo, hi int) (int, bool) {
	want := fmt.Sprintf("a whole number from %d to %d", lo, hi)
	v, ok := ds.number(n, want)
	if !ok {
		return 0, false
	}
	if v < float64(lo) || v > float64(hi) {
		ds.At(n, n.Describe()+" is out of range", want, "")
		return 0, false
	}
	i := int(v)
	if float64(i) < v || float64(i) > v {
		ds.At(n, n.Describe()+" is not a whole number", want, "")
		return 0, false
	}
	return i, true
}

// Number returns a bare number within lo..hi.
func (ds *Diags) Number(n *Node, lo, hi float64) (float64, bool) {
	want := fmt.Sprintf("a number from %g to %g", lo, hi)
	v, ok := ds.number(n, want)
	if !ok {
		return 0, false
	}
	if v < lo || v > hi {
		ds.At(n, n.Describe()+" is out of range", want, "")
		return 0, false
	}
	return v, true
}

func (ds *Diags) number(n *Node, want string) (float64, bool) {
	if n.Kind() != Scalar {
		ds.At(n, "a number is wanted here, not "+n.Describe(), want, "")
		return 0, false
	}
	v, why, hint := ParseNumber(n.text)
	if why != "" {
		ds.At(n, Quote(n.text)+" "+why, want, hint)
		return 0, false
	}
	return v, true
}

// Enum returns a scalar that is one of the choices.
func (ds *Diags) Enum(n *Node, choices ...string) (string, bool) {
	if n.Kind() == Scalar {
		for _, c := range choices {
			if n.text == c {
				return c, true
			}
		}
	}
	want := strings.Join(choices, ", ")
	if len(choices) > 1 {
		want = strings.Join(choices[:len(choices)-1], ", ") + " or " + choices[len(choices)-1]
	}
	ds.At(n, n.Describe()+" is not one of the choices", want, DidYouMean(strings.ToLower(n.Raw()), choices))
	return "", false
}

// List returns a list's items.
func (ds *Diags) List(n *Node) ([]*Node, bool) {
	if n.Kind() != List {
		hint := ""
		if n.Kind() == Scalar {
			hint = "write [" + shorten(n.text, 40) + "]"
		}
		ds.At(n, "a list is wanted here, not "+n.Describe(), "[a, b] or lines that begin with -", hint)
		return nil, false
	}
	return n.items, true
}

// Named returns the entries of a map from names to things, in file order. Improper names
// are reported and left out.
func (ds *Diags) Named(n *Node) ([]Entry, bool) {
	if n.Kind() != Map {
		ds.At(n, "a map of names is wanted here, not "+n.Describe(), "name: value lines, indented alike", "")
		return nil, false
	}
	out := make([]Entry, 0, len(n.entries))
	for _, e := range n.entries {
		if why := badName(e.Key); why != "" {
			ds.AtKey(n, e, Quote(e.Key)+" is not a name: "+why, nameForm, nameHint(e.Key))
			continue
		}
		out = append(out, e)
	}
	return out, true
}
