package conflicts

import (
	"bufio"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"banns/milestones"
)

// unavailable is the exit status of a script whose library is missing.
const unavailable = 69

// outside is the lines that a program from outside prints, run in a folder.
// One that is missing skips the test by hand, and fails it in CI.
func outside(t *testing.T, folder, hint, program string, args ...string) []string {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Dir = folder
	var complaint strings.Builder
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	missing := errors.Is(err, exec.ErrNotFound) || errors.Is(err, os.ErrNotExist) ||
		err != nil && cmd.ProcessState.ExitCode() == unavailable
	switch {
	case missing && os.Getenv("CI") != "true":
		t.Skip("needs an outside library: " + hint)
	case err != nil:
		t.Fatalf("%s (%s): %s\n%s", program, hint, err, &complaint)
	}
	return strings.Split(strings.TrimSpace(string(out)), "\n")
}

// node runs a script of testdata with the packages of .ci/tools.
func node(t *testing.T, script string, args ...string) []string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", script))
	if err != nil {
		t.Fatal(err)
	}
	tools := os.Getenv("BANNS_NODE_MODULES")
	if tools == "" {
		tools = "../.ci/tools"
	}
	args = append([]string{"--input-type=module", "--eval", string(text), "--"}, args...)
	return outside(t, tools, "install node, and run npm ci in .ci/tools", "node", args...)
}

// lines is the lines of a file of testdata that are no comments.
func lines(t *testing.T, name string) (all []string) {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		if line := s.Text(); line != "" && line[0] != '#' {
			all = append(all, line)
		}
	}
	return all
}

// day reads a date of a test's own data.
func day(t *testing.T, iso string) milestones.Date {
	t.Helper()
	d, err := milestones.ParseDate(iso)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
