package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"dryfit": main})
}

// TestScripts runs testdata/script/<area>_<case>.txtar. Beside the commands of testscript
// they have
//
//	exits CODE prog args...   runs a program and wants that exit code
//	fill FILE WORD SIZE       makes a file of so many bytes out of a word
//	lines FILE MOST WIDE      wants at most so many lines of at most so many characters
//	same FILE FILE            wants equal bytes
//	json FILE                 wants one JSON value and nothing after it
//
// and the condition [root], since nothing is unreadable to root.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       os.Getenv("UPDATE") == "1",
		Setup: func(e *testscript.Env) error {
			here, err := os.Getwd()
			if err != nil {
				return err
			}
			e.Setenv("REPO", filepath.Dir(filepath.Dir(here)))
			return nil
		},
		Condition: func(cond string) (bool, error) {
			if cond == "root" {
				return os.Geteuid() == 0, nil
			}
			return false, fmt.Errorf("unknown condition %q", cond)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "fill": fill, "lines": lines, "same": same, "json": isJSON,
		},
	})
}

func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE prog args...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	var ended *exec.ExitError
	got := 0
	if errors.As(err, &ended) {
		got = ended.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("%s ends with exit code %d, want %d", strings.Join(args[1:], " "), got, want)
	}
}

func fill(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: fill FILE WORD SIZE")
	}
	size, err := strconv.Atoi(args[2])
	ts.Check(err)
	word := strings.NewReplacer(`\n`, "\n", `\0`, "\x00").Replace(args[1])
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Repeat(word, size/len(word)+1)[:size]), 0o644))
}

func lines(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: lines FILE MOST WIDE")
	}
	most, err := strconv.Atoi(args[1])
	ts.Check(err)
	wide, err := strconv.Atoi(args[2])
	ts.Check(err)
	list := strings.Split(strings.TrimSuffix(ts.ReadFile(args[0]), "\n"), "\n")
	if len(list) > most {
		ts.Fatalf("%d lines, want at most %d", len(list), most)
	}
	for i, l := range list {
		if n := len([]rune(l)); n > wide {
			ts.Fatalf("line %d has %d characters, want at most %d: %s", i+1, n, wide, l)
		}
	}
}

func same(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: same FILE FILE")
	}
	if a, b := ts.ReadFile(args[0]), ts.ReadFile(args[1]); a != b {
		ts.Fatalf("%s and %s differ", args[0], args[1])
	}
}

func isJSON(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: json FILE")
	}
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &v))
}
