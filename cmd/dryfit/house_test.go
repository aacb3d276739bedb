package main

import (
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// floors gives each package folder its floor in the house; an import goes to a lower
// floor or stays in its own folder.
var floors = map[string]int{"geom": 0, "shapes": 1, "layout": 2, "render": 3, "examples": 4, "cmd": 5}

// outside lists what each folder may import from other modules, tests left out.
var outside = map[string][]string{
	"geom":     {"github.com/golang/geo/"},
	"shapes":   {"github.com/golang/geo/", "go.yaml.in/yaml/v4"},
	"layout":   {"github.com/golang/geo/"},
	"render":   {"github.com/golang/geo/", "github.com/ajstarks/svgo/float", "golang.org/x/image/"},
	"examples": {},
	"cmd":      {"github.com/spf13/cobra", "github.com/spf13/pflag"},
}

// TestImportsGoDown keeps the one direction of the house: cmd > render > layout >
// shapes > geom, libraries only where they belong, rules apart from each other.
func TestImportsGoDown(t *testing.T) {
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Dir = "../.."
	cmd.Stderr = os.Stderr
	data, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	dec := json.NewDecoder(strings.NewReader(string(data)))
	seen := 0
	for dec.More() {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		seen++
		from := folder(p.ImportPath)
		floor, known := floors[from]
		if !known {
			t.Errorf("%s: the house has no folder %q", p.ImportPath, from)
			continue
		}
		for _, imp := range p.Imports {
			switch {
			case strings.HasPrefix(imp, "dryfit/"):
				if to := folder(imp); floors[to] > floor {
					t.Errorf("%s imports %s: imports go down only", p.ImportPath, imp)
				}
			case strings.Contains(strings.SplitN(imp, "/", 2)[0], "."):
				if p.ImportPath == "dryfit/geom/peerbench" {
					continue
				}
				if !allowed(imp, outside[from]) {
					t.Errorf("%s imports %s, which %s may not", p.ImportPath, imp, from)
				}
			}
		}
	}
	if seen < 8 {
		t.Errorf("go list showed %d packages; the house has at least 8", seen)
	}
}

func folder(path string) string {
	parts := strings.Split(path, "/")
	if len(parts) < 2 {
		return path
	}
	return parts[1]
}

func allowed(imp string, list []string) bool {
	for _, a := range list {
		if imp == a || strings.HasSuffix(a, "/") && strings.HasPrefix(imp, a) {
			return true
		}
	}
	return false
}

// TestOneFileDraws keeps the SVG library behind one file.
func TestOneFileDraws(t *testing.T) {
	files, err := filepath.Glob("../../render/*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("no render sources: %v", err)
	}
	var users []string
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(data), `"github.com/ajstarks/svgo`) {
			users = append(users, filepath.Base(f))
		}
	}
	if len(users) != 1 || users[0] != "svg.go" {
		t.Errorf("files that import the SVG library: %v, want svg.go alone", users)
	}
}

// byHand finds geometry worked out on the spot: bearings, angles and cross products.
var byHand = regexp.MustCompile(`\bmath\.(Atan2|Acos|Asin)\b|\.Cross\(`)

// handmade lists the files outside geom that may do so, each with its reason.
var handmade = map[string]string{
	"layout/field.go": "the magnetic field of a straight wire: physics",
}

// TestGeometryInOnePlace keeps planar and solid geometry in geom.
func TestGeometryInOnePlace(t *testing.T) {
	root := filepath.Join("..", "..")
	found, seen := map[string]bool{}, 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		name = filepath.ToSlash(name)
		if d.IsDir() {
			if name == "geom" || strings.HasPrefix(name, ".") && name != "." {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		seen++
		for i, line := range strings.Split(string(data), "\n") {
			code, _, _ := strings.Cut(line, "//")
			if what := byHand.FindString(code); what != "" {
				found[name] = true
				if handmade[name] == "" {
					t.Errorf("%s:%d: %s: let geom work it out (Turn, Heading, Axis), or list the file with its reason", name, i+1, what)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 100 {
		t.Errorf("only %d source files seen", seen)
	}
	for name := range handmade {
		if !found[name] {
			t.Errorf("%s works out nothing by hand any more: take it off the list", name)
		}
	}
}
