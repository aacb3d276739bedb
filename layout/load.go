package layout

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// Load reads a build file. Its part files are looked for in its folder and nowhere else,
// be it by `..` or by a link. lib is the catalogue; nil stands for [shapes.Builtin].
//
// All mistakes of the file come at once, each with its place. With errors the build is
// nil; with none it is complete. Build.File is the path as given.
func Load(file string, lib *shapes.Library) (*Build, *read.Diags) {
	diags := &read.Diags{}
	data, err := read.ReadFile(file)
	if err != nil {
		diags.Add(fileDiag(file, err))
		return nil, diags
	}
	root, err := os.OpenRoot(filepath.Dir(file))
	if err != nil {
		diags.Add(read.Diag{Pos: read.Pos{File: file}, Message: "its folder cannot be opened: " + err.Error()})
		return nil, diags
	}
	defer root.Close() // only read from
	return LoadBytes(file, data, root.FS(), lib)
}

func fileDiag(file string, err error) read.Diag {
	why := err.Error()
	var fe *read.FileError
	if errors.As(err, &fe) {
		why = fe.Why
	}
	return read.Diag{Pos: read.Pos{File: file}, Message: why, Want: "a build file"}
}

// LoadBytes is [Load] for text that is already there. name stands in messages; dir is
// where part files are looked for, nil for nowhere.
func LoadBytes(name string, data []byte, dir fs.FS, lib *shapes.Library) (*Build, *read.Diags) {
	root, diags := read.Load(name, data)
	if root == nil || diags.HasErrors() {
		return nil, diags
	}
	if lib == nil {
		builtin, err := shapes.Builtin()
		if err != nil {
			diags.Add(read.Diag{Pos: read.Pos{File: name}, Message: "the catalogue cannot be read: " + err.Error()})
			return nil, diags
		}
		lib = builtin
	}
	f := diags.Fields(root, "a build")
	if !f.OK() {
		return nil, diags
	}
	b := &Build{File: name, text: data}
	d := newDecoder(b, lib, root, diags)
	d.dir = dir
	d.parts(f, name, dir)
	d.decodeBuild(f)
	if diags.HasErrors() {
		return nil, diags
	}
	return b, diags
}

// parts lays the build's own parts and those of its part files over the catalogue.
func (d *decoder) parts(f *read.Fields, name string, dir fs.FS) {
	var entries []read.Entry
	if n := f.Get("part-files"); n != nil {
		items, ok := d.diags.List(n)
		if !ok {
			d.lost["parts"] = true
		}
		seen := map[string]read.Pos{}
		for _, item := range items {
			file, ok := d.diags.Text(item)
			if !ok {
				d.lost["parts"] = true
				continue
			}
			if first, twice := seen[file]; twice {
				d.diags.AtRelated(item, read.Quote(file)+" stands twice", "each part file once", "delete one of the two", read.Related{Pos: first, Text: "the first one"})
				continue
			}
			seen[file] = item.Pos()
			entries = append(entries, d.partFile(item, file, name, dir)...)
		}
	}
	if n := f.Get("parts"); n != nil {
		d.lost["parts"] = d.lost["parts"] || n.Kind() != read.Map
		for _, e := range n.Entries() {
			d.unnamed[e.Key] = true
		}
		own, _ := d.diags.Named(n)
		for _, e := range own {
			delete(d.unnamed, e.Key)
		}
		entries = append(entries, own...)
	}
	if len(entries) > 0 {
		d.lib = d.lib.With(d.diags, entries)
		d.b.Own = d.lib.Own()
		slices.SortFunc(d.b.Own, func(a, b *shapes.Part) int { return strings.Compare(a.Name, b.Name) })
	}
	d.b.Parts = d.lib
	for _, e := range entries {
		d.faulty[e.Key] = d.hasMistakes(e.Value)
	}
}

// hasMistakes tells whether something under a node has been reported.
func (d *decoder) hasMistakes(n *read.Node) bool {
	for _, diag := range d.diags.Sorted() {
		if diag.Severity == read.Error && diag.Pos.File == n.Pos().File &&
			(diag.Path == n.Path() || strings.HasPrefix(diag.Path, n.Path()+".") || strings.HasPrefix(diag.Path, n.Path()+"[")) {
			return true
		}
	}
	return false
}

const partFileForm = "the name of a YAML file in the build's folder, such as bench-parts.yaml"

// partFile reads one part file. When it cannot be read at all, unknown parts are not
// complained of: they may be in it.
func (d *decoder) partFile(n *read.Node, file, buildName string, dir fs.FS) []read.Entry {
	fail := func(message, hint string) []read.Entry {
		d.diags.At(n, message, partFileForm, hint)
		d.lost["parts"] = true
		return nil
	}
	switch {
	case file == "":
		return fail("the name is empty", "")
	case strings.Contains(file, `\`):
		return fail(read.Quote(file)+" has a backslash", "write folders with /")
	case path.IsAbs(file) || filepath.IsAbs(file) || !fs.ValidPath(path.Clean(file)) || path.Clean(file) == ".":
		return fail(read.Quote(file)+" leaves the build's folder", "copy the file beside the build")
	case dir == nil:
		return fail("part files cannot be read here: the build is not in a folder", "copy the parts under `parts:`")
	}
	data, err := readUnder(dir, path.Clean(file), read.MaxBytes)
	if err != nil {
		return fail(read.Quote(file)+" cannot be read: "+plainCause(err), "")
	}
	root, found := read.Load(path.Join(filepath.ToSlash(filepath.Dir(buildName)), path.Clean(file)), data)
	d.diags.Merge(found)
	if root == nil || found.HasErrors() {
		d.lost["parts"] = true
		return nil
	}
	before := d.diags.Count()
	entries := shapes.PartEntries(d.diags, root)
	if d.diags.Count() > before {
		d.lost["parts"] = true
	}
	return entries
}

// readUnder reads a file of at most most bytes from dir.
func readUnder(dir fs.FS, name string, most int) ([]byte, error) {
	f, err := dir.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close() // only read from
	info, err := f.Stat()
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errors.New("this is a folder")
	case !info.Mode().IsRegular():
		return nil, errors.New("this is not a regular file")
	}
	data, err := io.ReadAll(io.LimitReader(f, int64(most)+1))
	if err == nil && len(data) > most {
		err = fmt.Errorf("it is over the limit of %d bytes (%d MiB)", most, most>>20)
	}
	return data, err
}

func plainCause(err error) string {
	var pe *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file beside the build"
	case errors.Is(err, fs.ErrPermission):
		return "no permission to read it"
	case errors.As(err, &pe):
		return pe.Err.Error()
	}
	return err.Error()
}
