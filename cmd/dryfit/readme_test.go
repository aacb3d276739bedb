package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"dryfit/layout/rules"
)

// Rewrites the table of rules in the README:
//
//	go test ./cmd/dryfit -run README -update
var update = flag.Bool("update", false, "rewrite the table of rules in the README")

const readmeFile = "../../README.md"

func readme(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(readmeFile)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// fences returns the blocks of one language, in order.
func fences(text, language string) []string {
	var out []string
	for _, m := range regexp.MustCompile("(?s)```"+language+"\n(.*?)```").FindAllStringSubmatch(text, -1) {
		out = append(out, m[1])
	}
	return out
}

// TestREADMERules: the table between the marks is that of the list.
func TestREADMERules(t *testing.T) {
	const begin, end = "<!-- rules: begin -->\n", "<!-- rules: end -->"
	text := readme(t)
	before, rest, ok := strings.Cut(text, begin)
	table, after, closed := strings.Cut(rest, end)
	if !ok || !closed {
		t.Fatalf("the README has no %q ... %q", begin, end)
	}
	want := "\n" + rules.Table() + "\n"
	if *update && table != want {
		if err := os.WriteFile(readmeFile, []byte(before+begin+want+end+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if table != want {
		t.Error("the README's table of rules is not that of the list: go test ./cmd/dryfit -run README -update")
	}
}

// TestREADMEExamples: the build of the README is judged as it says, and each of its commands
// runs, in order, in one folder.
func TestREADMEExamples(t *testing.T) {
	text := readme(t)
	builds := fences(text, "yaml")
	if len(builds) != 1 {
		t.Fatalf("%d builds in the README, want the first one alone", len(builds))
	}
	t.Chdir(t.TempDir())
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("first.yaml", builds[0])
	ran := 0
	for _, block := range fences(text, "sh") {
		for _, line := range strings.Split(block, "\n") {
			line, _, _ = strings.Cut(line, "#")
			words := strings.Fields(line)
			if len(words) > 2 && words[0] == "go" && words[1] == "run" && words[2] == "./cmd/dryfit" {
				words = words[2:]
			} else if len(words) == 0 || words[0] != "dryfit" {
				continue
			}
			var out, errs bytes.Buffer
			if code := run(words[1:], strings.NewReader(""), &out, &errs); code != exitFits {
				t.Errorf("%s: exit code %d\n%s", line, code, errs.String())
			}
			if out.Len() == 0 {
				t.Errorf("%s: prints nothing", line)
			}
			ran++
		}
	}
	if ran < 8 {
		t.Errorf("only %d commands of the README were run", ran)
	}
	for _, file := range []string{"mine.yaml", "drawings/first-top.svg", "proof"} {
		if _, err := os.Stat(filepath.FromSlash(file)); err != nil {
			t.Error(err)
		}
	}

	// What the page shows of a report stands in the report of the build that it tells to write.
	short := strings.Replace(builds[0], "length: 20 mm, from: base.top", "length: 15 mm, from: base.top", 1)
	if short == builds[0] {
		t.Fatal("the README's posts are not 20 mm long any more")
	}
	write("short.yaml", short)
	var out, errs bytes.Buffer
	if code := run([]string{"check", "short.yaml"}, nil, &out, &errs); code != exitFails {
		t.Errorf("with posts of 15 mm: exit code %d, want %d", code, exitFails)
	}
	for _, shown := range fences(text, "text") {
		if !strings.Contains(out.String(), shown) {
			t.Errorf("the report does not have what the README shows:\n%s\n%s", shown, out.String())
		}
	}
}

// TestREADMEFiles: what the page points at is there.
func TestREADMEFiles(t *testing.T) {
	for _, m := range regexp.MustCompile(`\]\(([^)#:]+)\)`).FindAllStringSubmatch(readme(t), -1) {
		if _, err := os.Stat(filepath.Join("../..", filepath.FromSlash(m[1]))); err != nil {
			t.Errorf("the README points at %s: %v", m[1], err)
		}
	}
}
