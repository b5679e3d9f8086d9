package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestSubscribe lets a real calendar client subscribe over HTTP: vdirsyncer
// fetches the feed, and khal shows what a person would see.
func TestSubscribe(t *testing.T) {
	for _, need := range []string{"vdirsyncer", "khal"} {
		if _, err := exec.LookPath(need); err != nil {
			missing(t, need+" is not installed: apt-get install vdirsyncer khal")
		}
	}
	c := start(t, "demo", "--listen", "127.0.0.1:0", "--today", "2026-11-25")
	said := c.until(t, "The store is temporary")
	_, after, _ := strings.Cut(said, "\nBea Lindqvist")
	link := calendarLink.FindStringSubmatch(after)[1]
	get(t, link, "")

	home := t.TempDir()
	write(t, filepath.Join(home, "vdirsyncer.conf"), fmt.Sprintf(`[general]
status_path = "%[1]s/status"
[pair dates]
a = "feed"
b = "here"
collections = null
[storage feed]
type = "http"
url = "%[2]s"
[storage here]
type = "filesystem"
path = "%[1]s/calendar"
fileext = ".ics"
`, home, link))
	write(t, filepath.Join(home, "khal.conf"), fmt.Sprintf(`[calendars]
[[dates]]
path = %[1]s/calendar
[sqlite]
path = %[1]s/khal.db
[locale]
timeformat = %%H:%%M
dateformat = %%Y-%%m-%%d
longdateformat = %%Y-%%m-%%d
datetimeformat = %%Y-%%m-%%d %%H:%%M
longdatetimeformat = %%Y-%%m-%%d %%H:%%M
local_timezone = America/Detroit
default_timezone = America/Detroit
`, home))
	client(t, home, "vdirsyncer", "-c", filepath.Join(home, "vdirsyncer.conf"), "discover")
	client(t, home, "vdirsyncer", "-c", filepath.Join(home, "vdirsyncer.conf"), "sync")
	shown := client(t, home, "khal", "-c", filepath.Join(home, "khal.conf"), "list", "--notstarted",
		"--format", "{start}|{end}|{title}", "--day-format", "", "2026-10-01", "2027-12-01")

	// Counted by hand from the plan: the balance 14 days before Sat 18 Sep is
	// Sat 4 Sep, and banks open last on Fri 3 Sep; the headcount ten business
	// days before skips Labor Day and the caterer's own closed Tue 7 Sep.
	for _, want := range []string{
		"2027-09-03|2027-09-03|Pay Hollow Oak Table $5,322.81",
		"2027-09-02 16:30|2027-09-02 17:00|Hollow Oak Table: final headcount by 17:00",
		"2027-03-19|2027-03-19|Last day to cancel Hollow Oak Table for $3,802.01",
		"2027-09-18 16:30|2027-09-18 17:15|Ceremony",
		"2027-09-18 23:10|2027-09-18 23:30|Brass for the last song",
	} {
		if !strings.Contains(shown, want) {
			t.Errorf("khal does not show %q", want)
		}
	}
	if strings.Contains(shown, "Tern & Thread") {
		t.Error("khal shows bea a vendor whose agreement is not hers")
	}
	if t.Failed() {
		t.Log(shown)
	}
	c.stop(t)
}

// client runs a calendar client with a home of its own.
func client(t *testing.T, home string, args ...string) string {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), args[0], args[1:]...)
	cmd.Env = append(os.Environ(), "HOME="+home, "XDG_CACHE_HOME="+home, "XDG_DATA_HOME="+home, "LC_ALL=C.UTF-8")
	cmd.Stdin = strings.NewReader("y\ny\n")
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %v\n%s%s", args, err, out, errs.String())
	}
	return string(out)
}

// missing skips by hand, and fails where CI should have installed it.
func missing(t *testing.T, says string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(says)
	}
	t.Skip(says)
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}
