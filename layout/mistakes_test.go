package layout_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"dryfit/layout"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// testLibrary is the catalogue with the made-up parts of testdata/parts.yaml over it, so
// that these tests do not hang on the catalogue's figures.
func testLibrary(t testing.TB) *shapes.Library {
	t.Helper()
	base, err := shapes.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile("testdata/parts.yaml")
	if err != nil {
		t.Fatal(err)
	}
	root, diags := read.Load("parts.yaml", data)
	lib := base.With(diags, shapes.PartEntries(diags, root))
	if err := diags.Err(); err != nil {
		t.Fatal(err)
	}
	return lib
}

// complaint is what a file says about itself: at this place, with these words. advice is
// looked for in what was expected and in what to do.
type complaint struct {
	line, col       int
	message, advice string
}

func (c complaint) String() string {
	s := fmt.Sprintf("%d:%d: %s", c.line, c.col, c.message)
	if c.advice != "" {
		s += " => " + c.advice
	}
	return s
}

var (
	complaintAt   = regexp.MustCompile("# error ")
	complaintForm = regexp.MustCompile("^`([^`]+)`: (.+?)(?: => (.+))?$")
)

// complaints reads the comments
//
//	# error `token`: message => advice
//
// of a file. The column is that of the token's first appearance in its line. Several may
// stand in one line.
func complaints(t testing.TB, text string) []complaint {
	t.Helper()
	var out []complaint
	for i, line := range strings.Split(text, "\n") {
		pieces := complaintAt.Split(line, -1)
		for _, p := range pieces[1:] {
			m := complaintForm.FindStringSubmatch(strings.TrimSpace(p))
			if m == nil {
				t.Fatalf("line %d: not a complaint: %q", i+1, p)
			}
			at := strings.Index(pieces[0], m[1])
			if at < 0 {
				t.Fatalf("line %d: no %q before the comment", i+1, m[1])
			}
			out = append(out, complaint{i + 1, utf8.RuneCountInString(line[:at]) + 1, m[2], m[3]})
		}
	}
	return out
}

// TestMistakes: every file of testdata/mistakes gives exactly the complaints that stand in
// its comments, in one run.
func TestMistakes(t *testing.T) {
	files, err := filepath.Glob("testdata/mistakes/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	total := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		want := complaints(t, string(data))
		total += len(want)
		t.Run(filepath.Base(file), func(t *testing.T) {
			b, diags := layout.Load(file, testLibrary(t))
			if b != nil {
				t.Error("a file with mistakes gives a build")
			}
			got := diags.Sorted()
			used := make([]bool, len(got))
			for _, w := range want {
				found := false
				for i, g := range got {
					if !used[i] && g.Pos.Line == w.line && g.Pos.Col == w.col && strings.Contains(g.Message, w.message) &&
						strings.Contains(g.Want+"\n"+g.Hint, w.advice) {
						used[i], found = true, true
						break
					}
				}
				if !found {
					t.Errorf("not reported: %s", w)
				}
			}
			for i, g := range got {
				if g.Severity != read.Error || g.Pos.File != file {
					t.Errorf("not an error of this file:\n%s", g)
				}
				if !used[i] {
					t.Errorf("not wanted:\n%s", g)
				}
			}
		})
	}
	if total < 60 {
		t.Errorf("only %d mistakes, want at least 60", total)
	}
	t.Logf("%d mistakes in %d files", total, len(files))
}
