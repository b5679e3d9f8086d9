package check

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// Event is what a reader from outside makes of a VEVENT, in a form that all of
// them come to. Texts are unescaped, with LF for a line end. Start and End are
// DTSTART and DTEND as written, End exclusive and empty where there is none:
//
//	2027-09-04                            a date, and AllDay is set
//	2027-09-18T20:30:00Z                  a time in UTC
//	2027-09-18T16:30:00[America/Detroit]  a time with a TZID
//	2027-09-18T16:30:00                   a floating time
//
// What is missing is "". Events stand in the order of the stream.
type Event struct {
	UID, Summary, Description, Location string
	Start, End, Status                  string
	AllDay                              bool
}

// ErrMissing is wrapped by the error of a reader whose program or library is
// not on this machine; the error says what to install.
var ErrMissing = errors.New("not installed")

// Need ends a test whose reader failed, and is silent if err is nil. A reader
// that is missing skips the test when it is run by hand; CI installs them all,
// and there it fails.
func Need(t interface {
	Helper()
	Skipf(format string, args ...any)
	Fatalf(format string, args ...any)
}, err error) {
	t.Helper()
	switch {
	case err == nil:
	case errors.Is(err, ErrMissing) && os.Getenv("CI") != "true":
		t.Skipf("%v", err)
	default:
		t.Fatalf("%v", err)
	}
}

// patience is how long a reader may take, its start included.
const patience = 30 * time.Second

//go:embed readers/icaljs.mjs
var icalJS string

// ICalJS reads a calendar with ical.js, on node. The package is looked for in
// the node_modules of the folder that BANNS_NODE_MODULES names, by default the
// module's .ci/tools.
func ICalJS(b []byte) ([]Event, error) {
	const hint = "install node, and run npm ci in .ci/tools"
	tools, err := toolsFolder()
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(filepath.Join(tools, "node_modules", "ical.js")); err != nil {
		return nil, fmt.Errorf("ical.js %w: %s: %w", ErrMissing, hint, err)
	}
	// A script without a file of its own imports from the folder it runs in.
	return readEvents(b, tools, hint, "node", "--input-type=module", "--eval", icalJS)
}

//go:embed readers/icalendar.py
var icalendarPy string

// PythonICalendar reads a calendar with python3-icalendar, by Debian's own
// python3: another one that comes first on the path does not see its packages.
func PythonICalendar(b []byte) ([]Event, error) {
	const hint = "apt-get install python3-icalendar"
	return readEvents(b, "", hint, "/usr/bin/python3", "-I", "-c", icalendarPy)
}

// toolsFolder is the folder whose node_modules holds ical.js.
func toolsFolder() (string, error) {
	if dir := os.Getenv("BANNS_NODE_MODULES"); dir != "" {
		return dir, nil
	}
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(dir, ".ci", "tools"), nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", fmt.Errorf("ical.js %w: no go.mod above, set BANNS_NODE_MODULES", ErrMissing)
		}
		dir = up
	}
}

func readEvents(b []byte, dir, hint, program string, args ...string) ([]Event, error) {
	out, err := run(b, dir, hint, program, args...)
	if err != nil {
		return nil, err
	}
	var events []Event
	if err := json.Unmarshal(out, &events); err != nil {
		return nil, fmt.Errorf("%s: %w", program, err)
	}
	return events, nil
}

// unavailable is the exit status of a script whose library is missing.
const unavailable = 69

// run gives a program its standard input and returns its standard output, also
// where it fails. The hint says how to come by a program that is missing.
func run(stdin []byte, dir, hint, program string, args ...string) ([]byte, error) {
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Dir = dir
	cmd.Stdin = bytes.NewReader(stdin)
	cmd.WaitDelay = time.Second
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	name := filepath.Base(program)
	switch {
	case err == nil:
		return out, nil
	case ctx.Err() != nil:
		return out, fmt.Errorf("%s: %w", name, ctx.Err())
	case errors.Is(err, exec.ErrNotFound), errors.Is(err, os.ErrNotExist), cmd.ProcessState.ExitCode() == unavailable:
		return out, fmt.Errorf("%s %w: %s", name, ErrMissing, hint)
	}
	return out, fmt.Errorf("%s: %w: %s", name, err, strings.TrimSpace(stderr.String()))
}
