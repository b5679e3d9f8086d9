package store_test

import (
	"archive/zip"
	"banns/feed"
	"banns/store"
	"banns/testdata"
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// files are the folder's files and folders with what they hold.
func files(t testing.TB, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, f fs.DirEntry, err error) error {
		if err != nil || f.IsDir() {
			all[path] = "folder"
			return err
		}
		text, err := os.ReadFile(path)
		all[path] = fmt.Sprintf("%x", sha256.Sum256(text))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// rezip is a backup with one part in place of another; empty: without it.
func rezip(t *testing.T, file, part, text string) string {
	t.Helper()
	dir := unzipped(t, file)
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range names(t, dir) {
		is, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if name == part && text == "" {
			continue
		} else if name == part {
			is = []byte(text)
		}
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		w.Write(is)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestRefusedBackups change nothing, where a store is and where none is.
func TestRefusedBackups(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := openedIn(t, dir)
	imported(t, s, string(testdata.Demo), start)
	file := backedUp(t, s, start)
	s.Close()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	whole := string(text)
	db, err := os.ReadFile(filepath.Join(unzipped(t, file), "banns.db"))
	if err != nil {
		t.Fatal(err)
	}
	form := func(n byte) string { return string(db[:63]) + string(n) + string(db[64:]) }
	torn := string(db[:8192]) + strings.Repeat("\x55", 8192) + string(db[16384:])
	now := start.Add(time.Hour)
	rows := []struct {
		name, text string
		now        time.Time
		want       string
	}{
		{"empty", "", now, "no zip file"},
		{"a plan", head, now, "no zip file"},
		{"a database", string(db), now, "no zip file"},
		{"another zip", rezip(t, file, "banns.txt", ""), now, "it has no banns.txt"},
		{"no key", rezip(t, file, "banns.key", ""), now, "it has no banns.key"},
		{"a short key", rezip(t, file, "banns.key", "short"), now, "its banns.key is no key file"},
		{"a long key", rezip(t, file, "banns.key", strings.Repeat("k", 33)), now, "its banns.key is no key file"},
		{"no database", rezip(t, file, "banns.db", ""), now, "it has no banns.db"},
		{"a database that is none", rezip(t, file, "banns.db", strings.Repeat("x", 4096)), now, "its banns.db is no database"},
		{"a database of something else", rezip(t, file, "banns.db", form(0)), now, "its banns.db is no store"},
		{"a newer form", rezip(t, file, "banns.db", form(99)), now, "a newer banns has written this store (form 99; "},
		{"half a database", rezip(t, file, "banns.db", string(db[:len(db)/2])), now, "its database is damaged"},
		{"a torn database", rezip(t, file, "banns.db", torn), now, "its database is damaged"},
		{"a newer backup", rezip(t, file, "banns.txt", "banns backup 2\nmade of light\n"), now, "a newer banns may have written it"},
		{"a clock set back", whole, start.Add(-time.Second), "this machine's clock says Wed 25 Nov 2026 08:59 UTC; set the clock"},
		{"a clock far ahead", whole, start.AddDate(11, 0, 0), "one of the two is wrong"},
	}
	for i := range 12 {
		rows = append(rows, struct {
			name, text string
			now        time.Time
			want       string
		}{fmt.Sprint("cut short at ", i, "/12"), whole[:len(whole)*i/12], now, "no zip file, or cut short"})
	}
	bad, was := filepath.Join(t.TempDir(), "bad.zip"), files(t, dir)
	for _, row := range rows {
		if err := os.WriteFile(bad, []byte(row.text), 0o600); err != nil {
			t.Fatal(err)
		}
		empty := filepath.Join(t.TempDir(), "store")
		for _, to := range []string{dir, empty} {
			_, err := store.Restore(t.Context(), bad, to, row.now)
			if !errors.Is(err, store.ErrBackup) || !strings.Contains(err.Error(), row.want) {
				t.Errorf("%s: %v", row.name, err)
			}
		}
		if _, err := os.Stat(empty); err == nil {
			t.Errorf("%s: a folder was made", row.name)
		}
		if diff := cmp.Diff(was, files(t, dir)); diff != "" {
			t.Errorf("%s: the store changed (-was +is):\n%s", row.name, diff)
		}
	}
	for _, missing := range []string{filepath.Join(dir, "none.zip"), dir} {
		if _, err := store.Restore(t.Context(), missing, dir, now); !errors.Is(err, store.ErrBackup) {
			t.Errorf("%s: %v", missing, err)
		}
	}
}

// TestDamagedBackups have one byte turned over: they are refused, or what
// comes of them is the same.
func TestDamagedBackups(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, head, start)
	was := tokens(t, s, doc)
	text, err := os.ReadFile(backedUp(t, s, start))
	if err != nil {
		t.Fatal(err)
	}
	bad, refused := filepath.Join(t.TempDir(), "bad.zip"), 0
	for i := range 120 {
		at := len(text) * i / 120
		spoilt := bytes.Clone(text)
		spoilt[at] ^= 0x10
		if err := os.WriteFile(bad, spoilt, 0o600); err != nil {
			t.Fatal(err)
		}
		dir := filepath.Join(t.TempDir(), "store")
		_, err := store.Restore(t.Context(), bad, dir, start.Add(time.Hour))
		if errors.Is(err, store.ErrBackup) {
			refused++
			continue
		} else if err != nil {
			t.Errorf("byte %d: %v", at, err)
			continue
		}
		if diff := cmp.Diff(was, tokens(t, openedIn(t, dir), doc)); diff != "" {
			t.Errorf("byte %d: %s", at, diff)
		}
	}
	if refused < 90 {
		t.Errorf("%d of 120 are refused", refused)
	}
}

// TestRestoreOfOldForms: a backup that a release with another form made is
// brought up to date.
func TestRestoreOfOldForms(t *testing.T) {
	old, err := filepath.Glob("../testdata/store/v*")
	if err != nil || len(old) == 0 {
		t.Fatalf("no old stores: %v", err)
	}
	s := opened(t)
	file := backedUp(t, s, start)
	for _, from := range old {
		text := map[string]string{}
		for _, name := range []string{"banns.db", "banns.key"} {
			is, err := os.ReadFile(filepath.Join(from, name))
			if err != nil {
				t.Fatal(err)
			}
			text[name] = string(is)
		}
		made := filepath.Join(t.TempDir(), "old.zip")
		if err := os.WriteFile(made, []byte(rezip(t, file, "banns.db", text["banns.db"])), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(made, []byte(rezip(t, made, "banns.key", text["banns.key"])), 0o600); err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		restored(t, made, dir, start.AddDate(0, 1, 0))
		s := openedIn(t, dir)
		doc := loaded(t, s, "ann-and-bo")
		if got := tokens(t, s, doc)["ann"]; got != oldToken {
			t.Errorf("%s: ann's address is %q, want %q", from, got, oldToken)
		}
		if n, err := strconv.Atoi(line(event(published(t, s, doc, "ann"), "$750.00"), "SEQUENCE")); err != nil || n < feed.Bound(start) {
			t.Errorf("%s: her payment is at %d, %v", from, n, err)
		}
	}
}
