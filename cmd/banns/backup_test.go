package main

import (
	"archive/zip"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"banns/store"
)

// banns runs the program on the store in data, and wants it to end with
// status.
func banns(t *testing.T, data string, status int, args ...string) string {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(path, append([]string{"--data", data}, args...)...)
	out, _ := cmd.CombinedOutput()
	if got := cmd.ProcessState.ExitCode(); got != status {
		t.Fatalf("%v: exit status %d, want %d\n%s", args, got, status, out)
	}
	return string(out)
}

// links are everybody's calendars in the wedding of the store in data, at at.
func links(t *testing.T, data, at string) []string {
	t.Helper()
	var all []string
	for _, m := range calendarLink.FindAllStringSubmatch(banns(t, data, 0, "feeds", "list", "maren-and-theo"), -1) {
		all = append(all, "http://"+at+m[1][strings.Index(m[1], "/c/"):])
	}
	return all
}

var stamps = regexp.MustCompile(`(?s)UID:(\S+)\r\nDTSTAMP:(\S+)\r\n.*?SEQUENCE:(\d+)\r\n`)

// polled is what phones that poll now have of each entry: its sequence and
// stamp, which only rise.
func polled(t *testing.T, links []string, had map[string]string) map[string]string {
	t.Helper()
	if had == nil {
		had = map[string]string{}
	}
	for _, link := range links {
		resp, body := get(t, link, "")
		if resp.StatusCode != 200 {
			t.Fatalf("%s: %s", link, resp.Status)
		}
		newest(t, body, had)
	}
	return had
}

// newest notes the sequence and the stamp of each entry of a calendar.
func newest(t *testing.T, body []byte, all map[string]string) map[string]string {
	t.Helper()
	for _, m := range stamps.FindAllStringSubmatch(string(body), -1) {
		n, err := strconv.Atoi(m[3])
		if err != nil {
			t.Fatal(err)
		}
		all[m[1]] = fmt.Sprintf("%010d %s", n, m[2])
	}
	return all
}

// TestBackupBesideAServer takes backups while a server answers and another
// process imports without a pause; each is a store of one moment. The last is
// restored: over the store, and to a machine of its own.
func TestBackupBesideAServer(t *testing.T) {
	data, files, at := t.TempDir(), t.TempDir(), freePort(t)
	banns(t, data, 0, "import", "../../testdata/plans/maren-and-theo.yaml")
	exported := banns(t, data, 0, "export", "maren-and-theo")
	c := start(t, "--data", data, "serve", "--listen", at, "--public", "http://"+at)
	get(t, "http://"+at+"/healthz", "")

	stop, ended := make(chan bool), make(chan error)
	go func() { // the process that imports
		path, _ := binary()
		for n := 0; ; n++ {
			select {
			case <-stop:
				ended <- nil
				return
			default:
			}
			day := fmt.Sprintf("2027-07-%02d", 1+n%28)
			file := filepath.Join(files, "plan.yaml")
			err := os.WriteFile(file, []byte(strings.Replace(exported, "on: 2027-07-10", "on: "+day, 1)), 0o600)
			if err == nil {
				err = exec.Command(path, "--data", data, "import", file, "--over").Run()
			}
			if err != nil {
				ended <- err
				return
			}
		}
	}()
	for n := range 4 {
		file := filepath.Join(files, fmt.Sprint(n, ".zip"))
		banns(t, data, 0, "backup", file)
		oneMoment(t, file)
	}
	phones := polled(t, links(t, data, at), nil)
	close(stop)
	if err := <-ended; err != nil {
		t.Fatal(err)
	}
	was := links(t, data, at)
	eventually(t, func() bool { // the last import is on the wire
		polled(t, was, phones)
		for uid, is := range newest(t, []byte(banns(t, data, 0, "ics", "maren-and-theo", "--for", "priya")), map[string]string{}) {
			if phones[uid] != is {
				return false
			}
		}
		return true
	})

	last := filepath.Join(files, "3.zip")
	if said := banns(t, data, exitFailed, "restore", last); !strings.Contains(said, `another process has the store open (`+data+`): stop "banns serve", and restore again; nothing was changed`) {
		t.Errorf("with the server running it says %s", said)
	}
	eventually(t, func() bool {
		all, err := filepath.Glob(filepath.Join(data, "backups", "banns-*.zip"))
		return err == nil && len(all) == 1
	})
	c.stop(t)

	elsewhere := filepath.Join(t.TempDir(), "new")
	banns(t, elsewhere, 0, "restore", last) // first: it knows the least
	banns(t, data, 0, "restore", last)
	for _, dir := range []string{elsewhere, data} {
		at := freePort(t)
		c := start(t, "--data", dir, "serve", "--listen", at, "--public", "http://"+at, "--no-backups")
		is := links(t, dir, at)
		for n := range was {
			if path := was[n][strings.Index(was[n], "/c/"):]; !strings.HasSuffix(is[n], path) {
				t.Errorf("%s has become %s", was[n], is[n])
			}
		}
		now := polled(t, is, nil)
		for uid, had := range phones {
			if now[uid] <= had || now[uid][11:] <= had[11:] {
				t.Errorf("%s: a phone has %q and is sent %q", uid, had, now[uid])
			}
		}
		if len(now) != len(phones) || len(now) < 100 {
			t.Errorf("%d entries, and there were %d", len(now), len(phones))
		}
		c.stop(t)
	}
	if _, err := os.Stat(filepath.Join(elsewhere, "backups")); err == nil {
		t.Error("there are daily backups that were not wanted")
	}
}

// TestDailyBackupThatFails is logged, once, and the server goes on.
func TestDailyBackupThatFails(t *testing.T) {
	data, at, full := t.TempDir(), freePort(t), filepath.Join(t.TempDir(), "full")
	write(t, full, "a file where a folder should be")
	c := start(t, "--data", data, "serve", "--listen", at, "--backups", full)
	if resp, _ := get(t, "http://"+at+"/healthz", ""); resp.StatusCode != 200 {
		t.Errorf("healthz: %s", resp.Status)
	}
	c.stop(t) // which lets the first minute's work end
	if log := c.errs.String(); strings.Count(log, "no daily backup") != 1 || !strings.Contains(log, full) {
		t.Errorf("the log:\n%s", log)
	}
	if _, err := os.Stat(filepath.Join(data, "backups")); err == nil {
		t.Error("a backup went elsewhere")
	}
}

// oneMoment wants what a backup holds of its newest plan to be what it holds
// as published.
func oneMoment(t *testing.T, file string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "store")
	unzip(t, file, dir)
	s, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	was, err := s.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if err := s.PublishAll(t.Context(), time.Now()); err != nil {
		t.Fatal(err)
	}
	is, err := s.Openings(t.Context())
	if err != nil || len(is) < 16 {
		t.Fatalf("%d addresses, %v", len(is), err)
	}
	for token, o := range is {
		if was[token] != o {
			t.Errorf("%s: a feed was published as %+v, and its plan makes it %+v", file, was[token], o)
		}
	}
}

// TestRestoreCutShort kills restores at any moment: the store is then the
// old one or the new one, and the next restore puts all right.
func TestRestoreCutShort(t *testing.T) {
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	data, files := t.TempDir(), t.TempDir()
	plan := filepath.Join(files, "plan.yaml")
	write(t, plan, smallPlan("Old"))
	banns(t, data, 0, "import", plan)
	file := filepath.Join(files, "backup.zip")
	banns(t, data, 0, "backup", file)
	token := banns(t, data, 0, "feeds", "list", "old")
	begin := time.Now()
	banns(t, filepath.Join(files, "trial"), 0, "restore", file)
	takes := time.Since(begin)
	for n := range 15 {
		write(t, plan, strings.Replace(smallPlan("Old"), "Ann", fmt.Sprint("Ann ", n), 1))
		banns(t, data, 0, "import", plan, "--over")
		cmd := exec.Command(path, "--data", data, "restore", file)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.Int64N(int64(takes))))
		cmd.Process.Kill()
		cmd.Wait()
		name := regexp.MustCompile(`(?m)^Ann.* \(ann`).FindString(banns(t, data, 0, "feeds", "list", "old"))
		if name != "Ann (ann" && name != fmt.Sprintf("Ann %d (ann", n) {
			t.Errorf("cut short, the store has %q", name)
		}
		unharmed(t, data)
	}
	banns(t, data, 0, "restore", file)
	if got := banns(t, data, 0, "feeds", "list", "old"); got != token {
		t.Errorf("in the end the links are\n%s\nand were\n%s", got, token)
	}
	if left, _ := filepath.Glob(filepath.Join(data, ".*")); len(left) > 0 {
		t.Errorf("left over are %q", left)
	}
	err = filepath.WalkDir(data, func(name string, f fs.DirEntry, err error) error {
		if info, err := f.Info(); err != nil || info.Mode().Perm()&0o077 != 0 && name != data {
			t.Errorf("%s can be read by others: %v", name, err)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// smallPlan is a plan of one person.
func smallPlan(title string) string {
	return "banns: 1\nwedding: {title: " + title + ", date: 2027-09-18, zone: UTC, currency: USD}\npeople: {ann: {name: Ann, part: couple}}\n"
}

// unharmed has SQLite look through the store in data, by way of a backup.
func unharmed(t *testing.T, data string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "check.zip")
	banns(t, data, 0, "backup", file)
	banns(t, filepath.Join(t.TempDir(), "store"), 0, "restore", file)
}

// unzip opens a backup as people do without this program.
func unzip(t *testing.T, file, dir string) {
	t.Helper()
	z, err := zip.OpenReader(file)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	if err := os.CopyFS(dir, z); err != nil {
		t.Fatal(err)
	}
}
