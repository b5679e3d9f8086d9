package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"banns": main})
}

// TestScripts runs the command as people do: one script a verb.
func TestScripts(t *testing.T) {
	demo, err := filepath.Abs("../../testdata/plans/maren-and-theo.yaml")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("BANNS_DATA", filepath.Join(env.WorkDir, "store"))
			env.Setenv("DEMO", demo)
			env.Setenv("PLANS", filepath.Dir(demo))
			env.Setenv("TZ", "UTC")
			return nil
		},
		Cmds:          map[string]func(*testscript.TestScript, bool, []string){"status": status, "bigfile": bigFile, "edit": edit},
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
	})
}

// status N COMMAND ... runs a command that must end with exit status N.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// edit FROM TO OLD NEW writes file FROM as TO with NEW, in which \n is a line
// break, in place of OLD, which must be there once.
func edit(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: edit from to old new")
	}
	text, from := ts.ReadFile(args[0]), args[2]
	if strings.Count(text, from) != 1 {
		ts.Fatalf("%q stands %d times in %s", from, strings.Count(text, from), args[0])
	}
	text = strings.Replace(text, from, strings.ReplaceAll(args[3], `\n`, "\n"), 1)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(text), 0o600))
}

// bigfile NAME SIZE LETTER makes a file of one letter.
func bigFile(ts *testscript.TestScript, _ bool, args []string) {
	size, err := strconv.Atoi(args[1])
	ts.Check(err)
	text := make([]byte, size)
	for i := range text {
		text[i] = args[2][0]
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), text, 0o600))
}
