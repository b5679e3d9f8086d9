package store_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/store"
)

// kept is a small store in a folder, closed, and its backup.
func kept(t *testing.T) (dir, file string) {
	t.Helper()
	dir = t.TempDir()
	s := openedIn(t, dir)
	imported(t, s, head, start)
	file = backedUp(t, s, start)
	imported(t, s, strings.Replace(head, "name: June", "name: Juno", 1), start.Add(time.Hour))
	s.Close()
	return dir, file
}

// TestRestoreInUse: any other handle on the store, even one that idles, makes
// a restore end before it changes anything.
func TestRestoreInUse(t *testing.T) {
	dir, file := kept(t)
	was := files(t, dir)
	s := openedIn(t, dir)
	if _, err := s.Weddings(t.Context()); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Restore(t.Context(), file, dir, start.Add(2*time.Hour)); !errors.Is(err, store.ErrInUse) {
		t.Fatalf("it ends with: %v", err)
	}
	imported(t, s, strings.Replace(head, "Maren and Theo", "Later", 1), start.Add(time.Hour))
	s.Close()
	if len(files(t, dir)) != len(was) {
		t.Errorf("in the folder there is now %q", names(t, dir))
	}
	restored(t, file, dir, start.Add(2*time.Hour))
	loaded(t, openedIn(t, dir), "maren-and-theo")
}

// TestLateComer opens the store while a restore holds it, and gets on once
// the database there is another one: it writes neither to the old one, where
// it would be lost, nor beside the new one.
func TestLateComer(t *testing.T) {
	dir, file := kept(t)
	other := t.TempDir()
	restored(t, file, other, start.Add(time.Hour))
	first, err := store.Hold(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	first() // as one that failed leaves it: with no log to do away with
	release, err := store.Hold(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error)
	go func() {
		s, err := store.Open(t.Context(), dir)
		if err == nil {
			err = errors.Join(s.SetPublic(t.Context(), "https://late.example.org", start), s.Close())
		}
		ended <- err
	}()
	select {
	case err := <-ended:
		t.Fatalf("it does not wait: %v", err)
	case <-time.After(time.Second / 2):
	}
	if err := os.Rename(filepath.Join(other, "banns.db"), filepath.Join(dir, "banns.db")); err != nil {
		t.Fatal(err)
	}
	release()
	late := <-ended
	s := openedIn(t, dir)
	if says := one[string](t, s.DB(), "pragma integrity_check"); says != "ok" {
		t.Errorf("the new database: %s", says)
	}
	if doc := loaded(t, s, "maren-and-theo"); doc.Plan.People[1].Name != "June" {
		t.Errorf("it holds %+v", doc.Plan.People)
	}
	if base, err := s.Public(t.Context()); err != nil || (base != "") != (late == nil) {
		t.Errorf("whoever came late is told %v, and what they wrote is %q, %v", late, base, err)
	}
}

// TestUnreadable: a store that cannot be read is kept as it is, and the
// backup takes its place.
func TestUnreadable(t *testing.T) {
	junk := bytes.Repeat([]byte("junk"), 2048)
	for name, spoil := range map[string]func(db []byte) []byte{
		"all of it":        func([]byte) []byte { return junk },
		"its head":         func(db []byte) []byte { return append(append([]byte{}, junk[:100]...), db[100:]...) },
		"its middle":       func(db []byte) []byte { return append(append([]byte{}, db[:4096]...), junk...) },
		"cut short":        func(db []byte) []byte { return db[:len(db)/2] },
		"nothing is there": func([]byte) []byte { return nil },
	} {
		t.Run(name, func(t *testing.T) {
			dir, file := kept(t)
			path := filepath.Join(dir, "banns.db")
			db, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			spoilt := spoil(db)
			if err := os.WriteFile(path, spoilt, 0o600); err != nil {
				t.Fatal(err)
			}
			done := restored(t, file, dir, start.Add(2*time.Hour))
			if done.Aside == "" || name != "nothing is there" && (done.Unread == nil || done.Against) {
				t.Errorf("it came to %+v", done)
			}
			had, err := os.ReadFile(filepath.Join(done.Aside, "banns.db"))
			if done.Unread != nil && !bytes.Equal(had, spoilt) {
				t.Errorf("kept are %d bytes of %d, %v", len(had), len(spoilt), err)
			}
			key, err := os.ReadFile(filepath.Join(done.Aside, "banns.key"))
			if len(key) != 32 {
				t.Errorf("its key is not kept: %v", err)
			}
			s := openedIn(t, dir)
			if doc := loaded(t, s, "maren-and-theo"); doc.Plan.People[1].Name != "June" {
				t.Errorf("it holds %+v", doc.Plan.People)
			}
		})
	}
}

// TestKeys: where the store that is there has another key, its links are
// broken, and whose they are is told; where it has lost its key, they are
// taken over.
func TestKeyOfTheStoreThatIsThere(t *testing.T) {
	for _, row := range []struct {
		name  string
		spoil func(path string) error
		given bool
	}{
		{"another", func(path string) error { return os.WriteFile(path, bytes.Repeat([]byte("k"), 32), 0o600) }, false},
		{"missing", os.Remove, true},
		{"cut short", func(path string) error { return os.Truncate(path, 5) }, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := t.TempDir()
			s := openedIn(t, dir)
			doc := imported(t, s, head, start)
			was := tokens(t, s, doc)
			file := backedUp(t, s, start)
			if err := s.Revoke(t.Context(), "maren-and-theo", "maren", true, start); err != nil {
				t.Fatal(err)
			}
			given := tokens(t, s, doc)["maren"]
			s.Close()
			if err := row.spoil(filepath.Join(dir, "banns.key")); err != nil {
				t.Fatal(err)
			}
			done := restored(t, file, dir, start.Add(time.Hour))
			if len(done.Given) == 1 != row.given || len(done.Broken) == 2 == row.given {
				t.Errorf("given %v, broken %v", done.Given, done.Broken)
			}
			fresh := openedIn(t, dir)
			want := map[string]string{"maren": was["maren"], "june": was["june"]}
			if row.given {
				want["maren"] = given
			}
			if diff := cmp.Diff(want, tokens(t, fresh, doc)); diff != "" {
				t.Errorf("addresses (-want +got):\n%s", diff)
			}
			loaded(t, openedIn(t, done.Aside), "maren-and-theo")
		})
	}
}

// TestStrayFiles: what is left beside a database that is gone is not read
// into the new one.
func TestStrayFiles(t *testing.T) {
	dir, file := kept(t)
	s := openedIn(t, dir)
	imported(t, s, strings.Replace(head, "name: June", "name: Stray", 1), start)
	log, err := os.ReadFile(filepath.Join(dir, "banns.db-wal"))
	if err != nil || len(log) == 0 {
		t.Fatalf("there is no log: %v", err)
	}
	s.Close()
	empty := t.TempDir()
	if err := os.WriteFile(filepath.Join(empty, "banns.db-wal"), log, 0o600); err != nil {
		t.Fatal(err)
	}
	done := restored(t, file, empty, start.Add(time.Hour))
	if is, err := os.ReadFile(filepath.Join(done.Aside, "banns.db-wal")); !bytes.Equal(is, log) {
		t.Errorf("the log is not kept: %v", err)
	}
	fresh := openedIn(t, empty)
	if doc := loaded(t, fresh, "maren-and-theo"); doc.Plan.People[1].Name != "June" {
		t.Errorf("it holds %+v", doc.Plan.People)
	}
}

func TestRestoreOverANewerForm(t *testing.T) {
	dir, file := kept(t)
	s := openedIn(t, dir)
	if _, err := s.DB().ExecContext(t.Context(), "pragma user_version = 99"); err != nil {
		t.Fatal(err)
	}
	s.Close()
	was := names(t, dir)
	if _, err := store.Restore(t.Context(), file, dir, start.Add(time.Hour)); err == nil || !strings.Contains(err.Error(), "a newer banns has written this store (form 99;") {
		t.Errorf("it ends with: %v", err)
	}
	if diff := cmp.Diff(was, names(t, dir)); diff != "" {
		t.Errorf("in the folder (-was +is):\n%s", diff)
	}
}

// TestRestoreTwice within a second keeps both stores that were there.
func TestRestoreTwice(t *testing.T) {
	dir, file := kept(t)
	now := start.Add(2 * time.Hour)
	one, two := restored(t, file, dir, now), restored(t, file, dir, now)
	if one.Aside == two.Aside || len(one.Lost) != 1 || len(two.Lost) != 0 {
		t.Errorf("kept are %s and %s; lost %v and %v", one.Aside, two.Aside, one.Lost, two.Lost)
	}
	s := openedIn(t, dir)
	doc := loaded(t, s, "maren-and-theo")
	aside := seen(t, map[string]glance{}, openedIn(t, two.Aside), doc)
	if known := newer(t, aside, seen(t, map[string]glance{}, s, doc)); known == 0 {
		t.Error("nothing is known")
	}
	if got := imported(t, s, head, now.Add(time.Hour)); got.Plan.Version != 3 {
		t.Errorf("the next version is %d", got.Plan.Version)
	}
}
