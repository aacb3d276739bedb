package read

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// Limits of what is read. A build of a hundred parts needs about 30 KB.
const (
	MaxBytes = 1 << 20 // of one file
	MaxDepth = 64      // nesting of lists and maps
	MaxNodes = 200_000 // after aliases are expanded
)

// Load parses one YAML document. The root must not be empty. On mistakes the node is nil
// or partial; diags tells them all, as far as a broken syntax allows to go on.
//
// Refused: empty or binary text, more than [MaxBytes], more than one document, tags,
// duplicate keys, keys that are not plain words, anchors that contain themselves, more
// than [MaxDepth] levels or [MaxNodes] values.
func Load(name string, data []byte) (*Node, *Diags) {
	return LoadFrom(name, data, 1)
}

// LoadFrom is Load for a piece of a file whose first line has the number first.
func LoadFrom(name string, data []byte, first int) (*Node, *Diags) {
	diags := &Diags{}
	src := &source{name: name, data: data, first: first}
	start := Pos{File: name, Line: first, Col: 1}
	fail := func(p Pos, message, want, hint string) (*Node, *Diags) {
		diags.Add(Diag{Pos: p, Message: message, Want: want, Hint: hint, Line: src.line(p.Line)})
		return nil, diags
	}
	whole := func(message, want, hint string) (*Node, *Diags) {
		diags.Add(Diag{Pos: Pos{File: name}, Message: message, Want: want, Hint: hint})
		return nil, diags
	}
	if len(data) > MaxBytes {
		return whole(fmt.Sprintf("the file has %d bytes, over the limit of %d (1 MiB)", len(data), MaxBytes),
			"a build or part file, which is rarely over 50 KB", "check that this is the right file")
	}
	if at, what := binaryAt(data); at >= 0 {
		line, col := lineCol(data, at)
		return whole(fmt.Sprintf("this is not a text file: %s in line %d, column %d", what, line+first-1, col),
			"a YAML file in UTF-8", "check that this is the right file and save it as UTF-8 text")
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	src.data = data
	var docs []yaml.Node
	err := yaml.Load(data, &docs, yaml.WithAllDocuments(), yaml.WithUniqueKeys(false))
	if err != nil {
		p, message, hint := syntaxError(err, src)
		p.File = name
		return fail(p, message, "valid YAML", hint)
	}
	if len(docs) == 0 || (len(docs) == 1 && isEmptyDoc(&docs[0])) {
		return whole("the file is empty", "a map of keys and values", "see `dryfit new` for a file to start from")
	}
	if len(docs) > 1 {
		p := start
		p.Line, p.Col = docs[1].Line+first-1, docs[1].Column
		return fail(p, "a second document begins here", "one document a file",
			"delete this line, or move what follows to a file of its own")
	}
	c := &converter{src: src, diags: diags}
	root := c.convert(docs[0].Content[0], nil, "", -1, 0)
	return root, diags
}

func isEmptyDoc(doc *yaml.Node) bool {
	if len(doc.Content) == 0 {
		return true
	}
	n := doc.Content[0]
	return n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) == 0
}

// binaryAt finds the first byte that no text file has: a control character or broken
// UTF-8. It returns -1 when there is none.
func binaryAt(data []byte) (int, string) {
	for i := 0; i < len(data); {
		c := data[i]
		if c < utf8.RuneSelf {
			if (c < ' ' && c != '\n' && c != '\r' && c != '\t') || c == 0x7f {
				return i, fmt.Sprintf("control character %#02x", c)
			}
			if c == '\r' && (i+1 == len(data) || data[i+1] != '\n') {
				return i, "a carriage return without a line feed"
			}
			i++
			continue
		}
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			return i, "broken UTF-8"
		}
		// YAML ends a line here, editors mostly do not: positions would be wrong.
		if r == 0x85 || r == 0x2028 || r == 0x2029 {
			return i, fmt.Sprintf("line separator %U", r)
		}
		i += size
	}
	return -1, ""
}

func lineCol(data []byte, at int) (int, int) {
	before := data[:at]
	line := bytes.Count(before, []byte("\n")) + 1
	lineStart := bytes.LastIndexByte(before, '\n') + 1
	return line, utf8.RuneCount(before[lineStart:]) + 1
}

// syntaxError turns the parser's complaint into a place, a message and advice.
func syntaxError(err error, src *source) (Pos, string, string) {
	p := Pos{Line: src.first, Col: 1}
	message := err.Error()
	var le *yaml.LoadError
	if errors.As(err, &le) {
		message = le.Message
		if le.Mark.Line > 0 {
			p.Line, p.Col = le.Mark.Line+src.first-1, max(le.Mark.Column, 1)
		}
		if le.ContextMsg != "" {
			message += " " + le.ContextMsg
		}
	}
	// The end of the text is past the last line with something on it; point there.
	for p.Line > src.first && src.line(p.Line) == "" {
		p.Line--
		p.Col = utf8.RuneCountInString(src.line(p.Line)) + 1
	}
	line := src.line(p.Line)
	r := []rune(line)
	at := p.Col - 1
	hint := ""
	switch {
	case strings.Contains(message, "max depth"):
		message = fmt.Sprintf("lists and maps are nested deeper than %d levels", MaxDepth)
	case strings.Contains(message, "unknown anchor"):
		hint = "define the anchor with &name above its first use"
	case at >= 0 && at < len(r) && r[at] == '\t' || strings.HasPrefix(line, "\t"):
		message = "a tab cannot indent"
		hint = "indent with blanks"
	case strings.Contains(message, "cannot start any token"):
		hint = "put the value in quotes"
	case strings.Contains(message, "mapping values are not allowed"):
		hint = "a colon followed by a blank is only allowed once in a line; put text that holds one in quotes"
	case strings.Contains(message, "quoted scalar"):
		hint = "close the quote"
	case strings.Contains(message, "flow"):
		hint = "close every [ with ] and every { with }, and put a comma between the items"
	case strings.Contains(message, "block mapping"), strings.Contains(message, "block collection"):
		hint = "indent all keys of one map alike"
	}
	return p, message, hint
}

// converter walks the parser's tree once and makes ours: aliases expanded, merge keys
// merged, everything that builds have no use for refused.
type converter struct {
	src   *source
	diags *Diags
	count int
	full  bool         // a limit was met: convert no more
	open  []*yaml.Node // anchors being expanded
}

func (c *converter) pos(y *yaml.Node) Pos {
	return Pos{File: c.src.name, Line: y.Line + c.src.first - 1, Col: y.Column}
}

func (c *converter) convert(y *yaml.Node, parent *Node, key string, index, depth int) *Node {
	n := &Node{pos: c.pos(y), src: c.src, parent: parent, key: key, index: index}
	if c.full {
		return n
	}
	if c.count++; c.count > MaxNodes {
		c.full = true
		c.diags.At(n, fmt.Sprintf("more than %d values once the aliases are expanded", MaxNodes),
			"a build file", "write fewer aliases of aliases")
		return n
	}
	if depth > MaxDepth {
		c.full = true
		c.diags.At(n, fmt.Sprintf("lists and maps are nested deeper than %d levels", MaxDepth), "", "")
		return n
	}
	if y.Kind == yaml.AliasNode {
		return c.alias(n, y, depth)
	}
	if y.Style&yaml.TaggedStyle != 0 {
		c.diags.At(n, "tags such as "+Quote(y.Tag)+" are not used here", "", "delete the tag")
	}
	switch y.Kind {
	case yaml.ScalarNode:
		n.kind, n.text = Scalar, y.Value
		n.quoted = y.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0
		if !n.quoted && (y.Value == "" || y.Value == "~" || y.Value == "null" || y.Value == "Null" || y.Value == "NULL") {
			n.kind, n.text = Null, ""
		}
	case yaml.SequenceNode:
		n.kind = List
		n.items = make([]*Node, 0, len(y.Content))
		for i, item := range y.Content {
			n.items = append(n.items, c.convert(item, n, "", i, depth+1))
		}
	case yaml.MappingNode:
		n.kind = Map
		c.fill(n, y, depth)
	}
	return n
}

func (c *converter) alias(n *Node, y *yaml.Node, depth int) *Node {
	for _, o := range c.open {
		if o == y.Alias {
			c.diags.At(n, "the anchor "+Quote(y.Value)+" contains itself", "", "")
			return n
		}
	}
	c.open = append(c.open, y.Alias)
	out := c.convert(y.Alias, n.parent, n.key, n.index, depth)
	c.open = c.open[:len(c.open)-1]
	return out
}

func (c *converter) fill(n *Node, y *yaml.Node, depth int) {
	n.entries = make([]Entry, 0, len(y.Content)/2)
	at := make(map[string]int, len(y.Content)/2)
	var merges []*yaml.Node
	for i := 0; i+1 < len(y.Content) && !c.full; i += 2 {
		k, v := y.Content[i], y.Content[i+1]
		if k.Kind == yaml.AliasNode {
			k = k.Alias
		}
		where := &Node{kind: Scalar, pos: c.pos(y.Content[i]), src: c.src, parent: n, key: k.Value, index: -1}
		if k.Kind != yaml.ScalarNode {
			where.key = "?"
			c.diags.At(where, "a list or map cannot be a key", "a word", "")
			continue
		}
		if k.Value == "<<" && k.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) == 0 {
			merges = append(merges, v)
			continue
		}
		if first, twice := at[k.Value]; twice {
			c.diags.AtRelated(where, "the key "+Quote(k.Value)+" stands twice in this map", "each key once",
				"delete one of the two", Related{n.entries[first].KeyPos, "the first one"})
			continue
		}
		at[k.Value] = len(n.entries)
		n.entries = append(n.entries, Entry{Key: k.Value, KeyPos: where.pos, Value: c.convert(v, n, k.Value, -1, depth+1)})
	}
	for _, m := range merges {
		c.merge(n, m, at, depth)
	}
}

// merge takes over the entries of the map (or list of maps) behind a << key, where the
// map has no entry of that name yet.
func (c *converter) merge(n *Node, m *yaml.Node, at map[string]int, depth int) {
	from := c.convert(m, n, "<<", -1, depth+1)
	maps := []*Node{from}
	if from.kind == List {
		maps = from.items
	}
	for _, one := range maps {
		if one.kind != Map {
			if !c.full {
				c.diags.At(one, "<< takes a map or a list of maps, not "+one.Describe(), "an alias such as *name", "")
			}
			continue
		}
		for _, e := range one.entries {
			if _, has := at[e.Key]; has {
				continue
			}
			at[e.Key] = len(n.entries)
			e.Value.parent = n
			n.entries = append(n.entries, e)
		}
	}
}
