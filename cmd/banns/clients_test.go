package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestSubscribe lets a real calendar client subscribe over HTTP: vdirsyncer
// fetches the feed, and khal shows what a person would see.
func TestSubscribe(t *testing.T) {
	needClients(t)
	c := start(t, "demo", "--listen", "127.0.0.1:0", "--today", "2026-11-25")
	said := c.until(t, "The store is temporary")
	_, after, _ := strings.Cut(said, "\nBea Lindqvist")
	link := calendarLink.FindStringSubmatch(after)[1]
	get(t, link, "")

	bea := subscribe(t, map[string]string{"bea": link})
	bea.sync(t)
	shown := bea.shows(t, "{start}|{end}|{title}")

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
		if !slices.Contains(shown, want) {
			t.Errorf("khal does not show %q", want)
		}
	}
	if strings.Contains(strings.Join(shown, "\n"), "Tern & Thread") {
		t.Error("khal shows bea a vendor whose agreement is not hers")
	}
	if t.Failed() {
		t.Log(strings.Join(shown, "\n"))
	}
	c.stop(t)
}

// subscriber is somebody who has calendars by subscription: vdirsyncer fetches
// them over HTTP, and khal reads what it fetched. vdirsyncer names an
// entry by its content, so this shows what a feed has, and not what a client
// that goes by UID and SEQUENCE makes of it.
type subscriber struct{ home string }

func needClients(t *testing.T) {
	t.Helper()
	for _, need := range []string{"vdirsyncer", "khal"} {
		if _, err := exec.LookPath(need); err != nil {
			missing(t, need+" is not installed: apt-get install vdirsyncer khal")
		}
	}
}

// subscribe subscribes to the calendar at each link, under its name.
func subscribe(t *testing.T, links map[string]string) *subscriber {
	t.Helper()
	s := &subscriber{t.TempDir()}
	fetch := fmt.Sprintf("[general]\nstatus_path = \"%s/status\"\n", s.home)
	read := fmt.Sprintf(`[sqlite]
path = %s/khal.db
[locale]
timeformat = %%H:%%M
dateformat = %%Y-%%m-%%d
longdateformat = %%Y-%%m-%%d
datetimeformat = %%Y-%%m-%%d %%H:%%M
longdatetimeformat = %%Y-%%m-%%d %%H:%%M
local_timezone = America/Detroit
default_timezone = America/Detroit
[calendars]
`, s.home)
	for name, link := range links {
		fetch += fmt.Sprintf(`[pair %[1]s]
a = "%[1]s_feed"
b = "%[1]s_here"
collections = null
[storage %[1]s_feed]
type = "http"
url = "%[2]s"
[storage %[1]s_here]
type = "filesystem"
path = "%[3]s/%[1]s"
fileext = ".ics"
`, name, link, s.home)
		read += fmt.Sprintf("[[%[1]s]]\npath = %[2]s/%[1]s\n", name, s.home)
		if err := os.Mkdir(filepath.Join(s.home, name), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	write(t, filepath.Join(s.home, "vdirsyncer.conf"), fetch)
	write(t, filepath.Join(s.home, "khal.conf"), read)
	client(t, s.home, "vdirsyncer", "-c", filepath.Join(s.home, "vdirsyncer.conf"), "discover")
	return s
}

// sync fetches every calendar again.
func (s *subscriber) sync(t *testing.T) {
	t.Helper()
	client(t, s.home, "vdirsyncer", "-c", filepath.Join(s.home, "vdirsyncer.conf"), "sync")
}

// shows is what khal lists, a line an entry, each in that format of khal's.
func (s *subscriber) shows(t *testing.T, format string) []string {
	t.Helper()
	out := client(t, s.home, "khal", "-c", filepath.Join(s.home, "khal.conf"), "list", "--notstarted",
		"--format", format, "--day-format", "", "2026-10-01", "2028-12-01")
	return strings.FieldsFunc(out, func(r rune) bool { return r == '\n' })
}

// client runs a calendar client with a home of its own.
func client(t *testing.T, home string, args ...string) string {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), args[0], args[1:]...)
	cmd.Env = append(os.Environ(), "HOME="+home, "XDG_CACHE_HOME="+home, "XDG_DATA_HOME="+home, "LC_ALL=C.UTF-8")
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
