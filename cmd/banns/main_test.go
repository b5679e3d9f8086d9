package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
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
		Cmds:          map[string]func(*testscript.TestScript, bool, []string){"status": status, "bigfile": bigFile},
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
