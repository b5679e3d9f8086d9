package store_test

import (
	"archive/zip"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/store"
	"banns/testdata"
)

// names are the files in dir, sorted.
func names(t testing.TB, dir string) []string {
	t.Helper()
	all, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range all {
		names = append(names, f.Name())
	}
	return names
}

// backedUp writes a backup of s into a folder of its own.
func backedUp(t testing.TB, s *store.Store, now time.Time) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "backup.zip")
	if _, err := s.Backup(t.Context(), file, false, now); err != nil {
		t.Fatal(err)
	}
	return file
}

// unzipped is a backup as anybody can open it.
func unzipped(t testing.TB, file string) string {
	t.Helper()
	z, err := zip.OpenReader(file)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	dir := filepath.Join(t.TempDir(), "store")
	if err := os.CopyFS(dir, z); err != nil {
		t.Fatal(err)
	}
	return dir
}

func TestBackup(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	imported(t, s, edited(t, "on: 2027-07-10", "on: 2027-07-12"), start)
	dir := t.TempDir()
	file := filepath.Join(dir, "ours.zip")
	b, err := s.Backup(t.Context(), file, false, start.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Weddings) != 1 || b.Weddings[0].Name != "maren-and-theo" || b.Weddings[0].Versions != 2 || b.Weddings[0].People != len(doc.Plan.People) {
		t.Errorf("it holds %+v", b.Weddings)
	}
	info, err := os.Stat(file)
	if err != nil || info.Mode().Perm() != 0o600 || info.Size() != b.Size || b.Size == 0 {
		t.Errorf("the file: %v, %v; it says %d bytes", info, err, b.Size)
	}
	if got := names(t, dir); !slices.Equal(got, []string{"ours.zip"}) {
		t.Errorf("beside it there is %q", got)
	}
	if _, err := s.Backup(t.Context(), file, false, start); !errors.Is(err, fs.ErrExist) {
		t.Errorf("over itself: %v", err)
	}
	if _, err := s.Backup(t.Context(), file, true, start); err != nil {
		t.Errorf("over itself when asked: %v", err)
	}
	if _, err := s.Backup(t.Context(), filepath.Join(dir, "none", "x.zip"), false, start); err == nil {
		t.Error("a folder that is not there takes a backup")
	}
	copied := openedIn(t, unzipped(t, file))
	if diff := cmp.Diff(state(t, s), state(t, copied)); diff != "" {
		t.Errorf("the copy (-store +backup):\n%s", diff)
	}
	if diff := cmp.Diff(tokens(t, s, doc), tokens(t, copied, doc)); diff != "" {
		t.Errorf("its addresses (-store +backup):\n%s", diff)
	}
	if diff := cmp.Diff(calendars(t, s, doc), calendars(t, copied, doc)); diff != "" {
		t.Errorf("its calendars (-store +backup):\n%s", diff)
	}
}

// TestFailedBackup leaves nothing behind.
func TestFailedBackup(t *testing.T) {
	s := opened(t)
	imported(t, s, head, start)
	dir := t.TempDir()
	file := filepath.Join(dir, "backup.zip")
	if err := os.WriteFile(file, []byte("the one before"), 0o600); err != nil {
		t.Fatal(err)
	}
	s.Close()
	if _, err := s.Backup(t.Context(), file, true, start); err == nil {
		t.Error("a closed store is backed up")
	}
	text, err := os.ReadFile(file)
	if string(text) != "the one before" || err != nil || len(names(t, dir)) != 1 {
		t.Errorf("left are %q, and in the file %q, %v", names(t, dir), text, err)
	}
}

// TestDaily has a server that looks every hour for twenty days, but for a
// night in which it is down: two weeks of backups are left, and all else in
// the folder.
func TestDaily(t *testing.T) {
	t.Parallel()
	s, other := opened(t), opened(t)
	imported(t, s, head, start)
	dir := filepath.Join(t.TempDir(), "disk", "backups")
	daily := func(s *store.Store, now time.Time) string {
		t.Helper()
		file, err := s.Daily(t.Context(), dir, now)
		if err != nil {
			t.Fatal(err)
		}
		return filepath.Base(file)
	}
	daily(other, start)
	theirs := names(t, dir)[0]
	foreign := []string{"banns-2020-01-01.zip", "banns-2020-01-01-zzzzzzzz.zip", "2020-01-01.zip", "notes.txt", theirs}
	for _, name := range foreign {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("not yours"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	first, mark := start.Truncate(24*time.Hour), ""
	for hour := range 20 * 24 {
		if hour/24 == 7 && hour%24 < 9 {
			continue
		}
		made := daily(s, first.Add(time.Duration(hour)*time.Hour))
		if due := hour%24 == 0 || hour == 7*24+9; (made != ".") != due {
			t.Errorf("in hour %d it makes %q", hour, made)
		}
		if hour == 0 { // one that was cut short, and a folder that is not ours
			mark = strings.TrimPrefix(made, "banns-2026-11-25")
			for _, name := range []string{"." + made + ".123", "banns-2020-01-01"} {
				if err := os.Mkdir(filepath.Join(dir, name), 0o700); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	got := names(t, dir)
	var want []string
	for day := 6; day < 20; day++ {
		want = append(want, "banns-"+first.AddDate(0, 0, day).Format(time.DateOnly)+mark)
	}
	want = append(want, foreign...)
	want = append(want, "banns-2020-01-01")
	slices.Sort(want)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("in the folder (-want +got):\n%s", diff)
	}
	for _, name := range foreign {
		if text, err := os.ReadFile(filepath.Join(dir, name)); string(text) != "not yours" {
			t.Errorf("%s holds %q, %v", name, text, err)
		}
	}
}

// TestDailyThatFails says why, and makes it up later.
func TestDailyThatFails(t *testing.T) {
	s := opened(t)
	imported(t, s, head, start)
	dir := filepath.Join(t.TempDir(), "backups")
	if err := os.WriteFile(dir, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if file, err := s.Daily(t.Context(), dir, start); err == nil || file != "" {
		t.Errorf("into a file it makes %q", file)
	}
	if err := os.Remove(dir); err != nil {
		t.Fatal(err)
	}
	file, err := s.Daily(t.Context(), dir, start.Add(time.Minute))
	if err != nil || file == "" {
		t.Fatalf("a minute later: %q, %v", file, err)
	}
	restored := filepath.Join(t.TempDir(), "store")
	if _, err := store.Restore(t.Context(), file, restored, start.Add(time.Hour)); err != nil {
		t.Error(err)
	}
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("the folder: %v, %v", fmt.Sprint(info.Mode()), err)
	}
}
