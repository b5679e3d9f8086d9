package store_test

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/store"
	"banns/testdata"
)

// one reads a single value from the database.
func one[T any](t testing.TB, db *sql.DB, query string, args ...any) (v T) {
	t.Helper()
	if err := db.QueryRowContext(t.Context(), query, args...).Scan(&v); err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	return v
}

// TestPragmas reads them back: a misspelt one is ignored in silence.
func TestPragmas(t *testing.T) {
	db := opened(t).DB()
	for pragma, want := range map[string]string{
		"busy_timeout": "5000", "journal_mode": "wal", "foreign_keys": "1", "synchronous": "2", "user_version": "8",
	} {
		if got := one[string](t, db, "pragma "+pragma); got != want {
			t.Errorf("%s is %s, want %s", pragma, got, want)
		}
	}
}

// schema is all that a database is made of.
func schema(t *testing.T, db *sql.DB) []string {
	t.Helper()
	rows, err := db.QueryContext(t.Context(), "select type || ' ' || name || ': ' || coalesce(sql, '') from sqlite_schema order by type, name")
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var all []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			t.Fatal(err)
		}
		all = append(all, s)
	}
	if len(all) < 8 {
		t.Fatalf("the schema is %q", all)
	}
	return all
}

// TestOldStores opens a store as each release that had another form wrote it.
// They were made by importing two versions of a small plan.
func TestOldStores(t *testing.T) {
	fresh := schema(t, opened(t).DB())
	old, err := filepath.Glob("../testdata/store/v*")
	if err != nil || len(old) == 0 {
		t.Fatalf("no old stores: %v", err)
	}
	for _, from := range old {
		t.Run(filepath.Base(from), func(t *testing.T) {
			dir := t.TempDir()
			if err := os.CopyFS(dir, os.DirFS(from)); err != nil {
				t.Fatal(err)
			}
			s := openedIn(t, dir)
			if diff := cmp.Diff(fresh, schema(t, s.DB())); diff != "" {
				t.Errorf("its schema (-fresh +upgraded):\n%s", diff)
			}
			doc := loaded(t, s, "ann-and-bo")
			if doc.Plan.Version != 2 || len(doc.Plan.People) != 3 {
				t.Errorf("version %d, %d people", doc.Plan.Version, len(doc.Plan.People))
			}
			if got := tokens(t, s, doc)["ann"]; got != oldToken {
				t.Errorf("ann's address is %q, want %q", got, oldToken)
			}
			if body := published(t, s, doc, "ann"); line(event(body, "$750.00"), "SEQUENCE") != "1" {
				t.Errorf("ann's calendar:\n%s", body)
			}
			imported(t, s, exported(t, doc), start)
			versions, err := s.Versions(t.Context(), "ann-and-bo")
			if err != nil || len(versions) != 3 || versions[0].By != "" {
				t.Errorf("versions %+v, %v", versions, err)
			}
		})
	}
}

// TestFirstForm upgrades a store of the first form: reminders that were
// chosen, and what was told of every entry, go to each person's own feed.
func TestFirstForm(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../testdata/store/v1")); err != nil {
		t.Fatal(err)
	}
	db, err := sql.Open("sqlite", "file:"+filepath.Join(dir, "banns.db"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.ExecContext(t.Context(), "insert into reader select wedding, person, 'both' from carries where person = 'ann'"); err != nil {
		t.Fatal(err)
	}
	rows := one[int](t, db, "select count(*) from ledger")
	sums := one[int](t, db, "select sum(sequence + place) from ledger")
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	s := openedIn(t, dir)
	if n, sum := one[int](t, s.DB(), "select count(*) from ledger"), one[int](t, s.DB(), "select sum(sequence + place) from ledger"); n != rows || sum != sums || n == 0 {
		t.Errorf("the ledger has %d rows of %d, and sums to %d of %d", n, rows, sum, sums)
	}
	for key, want := range map[string]feed.Reminders{"ann": feed.ByBoth, "bo": feed.ByAlarm} {
		if p, err := s.Page(t.Context(), tokens(t, s, loaded(t, s, "ann-and-bo"))[key]); err != nil || p.Reminders != want {
			t.Errorf("%s is reminded by %q, %v; want %q", key, p.Reminders, err, want)
		}
	}
}

// oldToken is an address that the old stores issued.
const oldToken = "kvsszq7v6zr6veem75bwqzltteetqrboekwxn4yg"

// TestTickReadsAnIndex: the minute's work does not read the whole ledger.
func TestTickReadsAnIndex(t *testing.T) {
	s := opened(t)
	var plan string
	var id, parent, unused int
	if err := s.DB().QueryRowContext(t.Context(), "explain query plan "+store.WithdrawnBy, "2027-01-01T00:00:00Z").Scan(&id, &parent, &unused, &plan); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(plan, "SEARCH ledger USING INDEX ledger_withdrawn") {
		t.Errorf("it is answered by: %s", plan)
	}
}

func TestNewerStoreIsRefused(t *testing.T) {
	dir := t.TempDir()
	if _, err := openedIn(t, dir).DB().ExecContext(t.Context(), "pragma user_version = 99"); err != nil {
		t.Fatal(err)
	}
	_, err := store.Open(t.Context(), dir)
	if err == nil || !strings.Contains(err.Error(), "a newer banns has written this store (form 99; this one knows up to 8): use the newer program") {
		t.Errorf("it opens with: %v", err)
	}
}

func TestKeyFile(t *testing.T) {
	for _, row := range []struct {
		name  string
		spoil func(path string) error
		want  string
	}{
		{"missing", os.Remove, "is missing: it signs the addresses of the feeds; bring it back from your backup"},
		{"empty", func(path string) error { return os.Truncate(path, 0) }, "is not a key file of this program: bring back the one from your backup"},
		{"short", func(path string) error { return os.Truncate(path, 31) }, "is not a key file of this program: bring back the one from your backup"},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := t.TempDir()
			openedIn(t, dir).Close()
			if err := row.spoil(filepath.Join(dir, "banns.key")); err != nil {
				t.Fatal(err)
			}
			if _, err := store.Open(t.Context(), dir); err == nil || !strings.HasSuffix(err.Error(), row.want) {
				t.Errorf("it opens with: %v", err)
			}
		})
	}
}

// TestRights: nobody else on the machine reads the folder, the key, or the
// database and the files beside it.
func TestRights(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "store")
	s := openedIn(t, dir)
	imported(t, s, head, start)
	for name, want := range map[string]os.FileMode{".": 0o700, "banns.key": 0o600, "banns.db": 0o600, "banns.db-wal": 0o600, "banns.db-shm": 0o600} {
		info, err := os.Stat(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if got := info.Mode().Perm(); got != want {
			t.Errorf("%s has rights %o, want %o", name, got, want)
		}
	}
}

// TestPaths have letters that a URI would read otherwise.
func TestPaths(t *testing.T) {
	for _, name := range []string{"two words", "what?mode=memory", "100%", "%41", "a#b", "a&b=c+d", "žluťoučký"} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), name)
			if store.Exists(dir) {
				t.Error("it exists before it is made")
			}
			imported(t, openedIn(t, dir), head, start)
			if !store.Exists(dir) {
				t.Errorf("there is no database in %q", dir)
			}
			loaded(t, openedIn(t, dir), "maren-and-theo")
		})
	}
}

// TestOpeningWritesNothing: a look at a store wakes nobody who watches it.
func TestOpeningWritesNothing(t *testing.T) {
	dir := t.TempDir()
	s := openedIn(t, dir)
	conn, err := s.DB().Conn(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	version := func() (n int64) {
		if err := conn.QueryRowContext(t.Context(), "pragma data_version").Scan(&n); err != nil {
			t.Fatal(err)
		}
		return n
	}
	before := version()
	if _, err := openedIn(t, dir).Weddings(t.Context()); err != nil {
		t.Fatal(err)
	}
	if after := version(); after != before {
		t.Errorf("data_version was %d and is %d", before, after)
	}
}

// TestTwoHandles write and read one store at once, as an import beside a
// running server does.
func TestTwoHandles(t *testing.T) {
	dir := t.TempDir()
	var all sync.WaitGroup
	for n := range 2 {
		s := openedIn(t, dir)
		all.Go(func() {
			for i := range 8 {
				text := strings.Replace(head, "Maren and Theo", fmt.Sprintf("Wedding %d %d", n, i), 1)
				doc, err := store.ReadPlan("plan", []byte(text))
				if err != nil {
					t.Error(err)
					return
				}
				_, err = s.Import(t.Context(), store.Import{Document: doc}, start)
				_, err2 := s.Openings(t.Context())
				if err := errors.Join(err, err2); err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	ws, err := openedIn(t, dir).Weddings(t.Context())
	if err != nil || len(ws) != 16 {
		t.Errorf("%d weddings, %v", len(ws), err)
	}
}

// state is everything that the tables of a store hold.
func state(t *testing.T, s *store.Store) map[string]int {
	t.Helper()
	all := map[string]int{}
	for _, table := range []string{"wedding", "version", "used_key", "feed", "carries", "address", "ledger", "change"} {
		all[table] = one[int](t, s.DB(), "select count(*) from "+table)
	}
	all["versions"] = one[int](t, s.DB(), "select coalesce(sum(version), 0) from wedding")
	all["revisions"] = one[int](t, s.DB(), "select coalesce(sum(revision), 0) from feed")
	all["sequences"] = one[int](t, s.DB(), "select coalesce(sum(sequence), 0) from ledger")
	return all
}

// TestRefusedImports leave the store as it was.
func TestRefusedImports(t *testing.T) {
	t.Parallel()
	s := opened(t)
	first := exported(t, imported(t, s, string(testdata.Demo), start))
	imported(t, s, edited(t, "on: 2027-07-10", "on: 2027-07-12"), start)
	before := state(t, s)
	for _, row := range []struct {
		name string
		text string
		as   string
		over bool
		want error
	}{
		{"a file without a version", string(testdata.Demo), "", false, store.ErrHeld},
		{"an older version", first, "", false, store.ErrStale},
		{"a version that is yet to come", strings.Replace(first, "version: 1", "version: 7", 1), "", false, store.ErrStale},
		{"another wedding of that name", strings.Replace(head, "title:", "id: 0123456789abcdef, title:", 1), "", false, store.ErrTaken},
		{"another wedding of that name, with --over", strings.Replace(head, "title:", "id: 0123456789abcdef, title:", 1), "Maren and Theo", true, store.ErrTaken},
	} {
		t.Run(row.name, func(t *testing.T) {
			doc, err := store.ReadPlan("plan", []byte(row.text))
			if err != nil {
				t.Fatal(err)
			}
			_, err = s.Import(t.Context(), store.Import{Document: doc, Name: row.as, Over: row.over}, start)
			if !errors.Is(err, row.want) {
				t.Errorf("the import ends with: %v", err)
			}
			if diff := cmp.Diff(before, state(t, s)); diff != "" {
				t.Errorf("the store changed (-was +is):\n%s", diff)
			}
		})
	}
}

// TestFailedPublish: where the ledger cannot be written, the version is not.
func TestFailedPublish(t *testing.T) {
	s := opened(t)
	imported(t, s, string(testdata.Demo), start)
	before := state(t, s)
	if _, err := s.DB().ExecContext(t.Context(), "create trigger full before insert on ledger begin select raise(abort, 'the disk is full'); end"); err != nil {
		t.Fatal(err)
	}
	doc, err := store.ReadPlan("plan", []byte(edited(t, "on: 2027-07-10", "on: 2027-07-12")))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Import(t.Context(), store.Import{Document: doc, Over: true}, start); err == nil || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("the import ends with: %v", err)
	}
	if diff := cmp.Diff(before, state(t, s)); diff != "" {
		t.Errorf("the store changed (-was +is):\n%s", diff)
	}
}

func TestNames(t *testing.T) {
	s := opened(t)
	for _, row := range []struct{ title, as, want string }{
		{"Maren and Theo", "", "maren-and-theo"},
		{"Maren & Theo!", "theirs", "theirs"},
		{"Ann and Bo", "./Ann's plan.yaml", "ann-s-plan-yaml"},
		{"婚礼", "", "wedding"},
	} {
		doc, err := store.ReadPlan("plan", []byte(strings.Replace(head, "Maren and Theo", row.title, 1)))
		if err != nil {
			t.Fatal(err)
		}
		done, err := s.Import(t.Context(), store.Import{Document: doc, Name: row.as}, start)
		if err != nil || done.Name != row.want || !done.New || done.Version != 1 || done.Title != row.title {
			t.Errorf("%s as %q: %+v, %v", row.title, row.as, done, err)
		}
	}
}

func TestUnknown(t *testing.T) {
	s := opened(t)
	doc := imported(t, s, head, start)
	for what, do := range map[string]func(context.Context) error{
		"a wedding":            func(ctx context.Context) error { _, err := s.Load(ctx, "nobody"); return err },
		"addresses":            func(ctx context.Context) error { _, err := s.Addresses(ctx, "nobody"); return err },
		"a feed":               func(ctx context.Context) error { _, err := s.Calendar(ctx, 99); return err },
		"a person's calendar":  func(ctx context.Context) error { _, err := s.Published(ctx, doc.Plan.ID, "nobody"); return err },
		"a wedding's calendar": func(ctx context.Context) error { _, err := s.Published(ctx, "nobody", "maren"); return err },
		"a page": func(ctx context.Context) error {
			_, err := s.Page(ctx, strings.Repeat("a", store.TokenSize))
			return err
		},
		"reminders":        func(ctx context.Context) error { return s.SetReminders(ctx, "", "alarm", start) },
		"a wedding's link": func(ctx context.Context) error { return s.Revoke(ctx, "nobody", "maren", true, start) },
		"a person's link":  func(ctx context.Context) error { return s.Revoke(ctx, doc.Plan.ID, "nobody", true, start) },
	} {
		if err := do(t.Context()); !errors.Is(err, store.ErrUnknown) {
			t.Errorf("%s: %v", what, err)
		}
	}
}
