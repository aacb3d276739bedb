package shapes

import (
	"bytes"
	"embed"
	"fmt"
	"io/fs"
	"sort"
	"strings"
	"sync"
)

//go:embed catalogue/*.yaml
var catalogueFiles embed.FS

// entry is where one part of the catalogue is written. Its text is read when somebody
// asks for the part: decoding all of them takes longer than a whole check.
type entry struct {
	name  string
	kind  Kind
	title string
	file  string
	first int // line number
	text  []byte
}

// index lists the catalogue's parts by name. It never changes once it is made.
type index struct {
	byName map[string]int
	list   []entry // sorted by name
}

// catalogueIndex scans the embedded files once.
var catalogueIndex = sync.OnceValues(func() (*index, error) {
	sub, err := fs.Sub(catalogueFiles, "catalogue")
	if err != nil {
		return nil, err
	}
	return scanCatalogue(sub)
})

// scanCatalogue finds the parts by their layout: names stand two blanks in from the
// margin under `parts:`, their keys four, `kind:` comes first and `title:` next. The
// catalogue's tests hold the files to that.
func scanCatalogue(files fs.FS) (*index, error) {
	names, err := fs.Glob(files, "*.yaml")
	if err != nil {
		return nil, err
	}
	sort.Strings(names)
	ix := &index{byName: map[string]int{}}
	for _, name := range names {
		data, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, err
		}
		ix.scan("catalogue/"+name, data)
	}
	sort.Slice(ix.list, func(i, j int) bool { return ix.list[i].name < ix.list[j].name })
	for i, e := range ix.list {
		if _, twice := ix.byName[e.name]; twice {
			return nil, fmt.Errorf("the catalogue has the part %s twice", e.name)
		}
		ix.byName[e.name] = i
	}
	return ix, nil
}

func (ix *index) scan(file string, data []byte) {
	number, open := 0, -1
	for start := 0; start < len(data); {
		number++
		end := bytes.IndexByte(data[start:], '\n')
		if end < 0 {
			end = len(data) - start - 1
		}
		line := data[start : start+end+1]
		if len(line) > 3 && line[0] == ' ' && line[1] == ' ' && line[2] != ' ' && line[2] != '#' {
			if open >= 0 {
				ix.close(data[open:start])
			}
			open = start
			name, _, _ := strings.Cut(string(line[2:]), ":")
			ix.list = append(ix.list, entry{name: name, file: file, first: number})
		}
		start += end + 1
	}
	if open >= 0 {
		ix.close(data[open:])
	}
}

// close gives the entry opened last its text.
func (ix *index) close(text []byte) {
	e := &ix.list[len(ix.list)-1]
	e.text = text
	e.kind = Kind(lineValue(text, "    kind: "))
	e.title = lineValue(text, "    title: ")
}

func lineValue(text []byte, key string) string {
	_, rest, found := bytes.Cut(text, []byte("\n"+key))
	if !found {
		return ""
	}
	line, _, _ := bytes.Cut(rest, []byte("\n"))
	return strings.TrimSpace(string(line))
}
