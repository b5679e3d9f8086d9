package store_test

import (
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"banns/feed"
	"banns/store"
)

// gus is a wedding that no backup has.
var gus = small("Gus and Hal", "UTC")

// carries are the weddings of a joint feed.
func carries(t testing.TB, s *store.Store, name string) string {
	t.Helper()
	j, err := s.Joint(t.Context(), name)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, c := range j.Carries {
		all = append(all, c.Wedding)
	}
	return strings.Join(all, ", ")
}

// joined makes the joint feed called name carry noor's dates, and is its
// address.
func joined(t testing.TB, s *store.Store, name string, now time.Time, weddings ...string) string {
	t.Helper()
	j, err := s.Together(t.Context(), name, "", pairs("noor", weddings...), now)
	if err != nil {
		t.Fatal(err)
	}
	return j.Token
}

// jointTokens are the addresses of all joint feeds.
func jointTokens(t testing.TB, s *store.Store) map[string]string {
	t.Helper()
	joints, err := s.Joints(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for _, j := range joints {
		all[j.Name] = j.Token
	}
	return all
}

// TestRestoreOverJointFeeds: their links are as they were last, and they
// carry what they did last, as far as the backup has it.
func TestRestoreOverJointFeeds(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := openedIn(t, dir)
	for _, text := range []string{shore, valley, island} {
		imported(t, s, text, start)
	}
	year := joined(t, s, "year", start, "ann-and-bo", "eli-and-fay")
	shut := joined(t, s, "shut", start, "ann-and-bo")
	first := joined(t, s, "anew", start, "ann-and-bo", "cleo-and-dee")
	file := backedUp(t, s, start.Add(time.Minute))
	phones := seenAt(t, map[string]glance{}, s, jointTokens(t, s))

	later := start.Add(time.Hour)
	imported(t, s, gus, later)
	imported(t, s, strings.NewReplacer("60 days", "61 days", "2027-05-03", "2027-05-05").Replace(shore), later)
	seenAt(t, phones, s, jointTokens(t, s))
	joined(t, s, "year", later, "cleo-and-dee", "gus-and-hal")
	seenAt(t, phones, s, jointTokens(t, s))
	if _, err := s.Apart(t.Context(), "year", []string{"eli-and-fay"}, later); err != nil {
		t.Fatal(err)
	}
	late := joined(t, s, "late", later, "cleo-and-dee", "eli-and-fay")
	joined(t, s, "elsewhere", later, "ann-and-bo", "gus-and-hal")
	for name, again := range map[string]bool{"shut": false, "anew": true} {
		if err := s.RevokeJoint(t.Context(), name, again, later); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.SetReminders(t.Context(), year, feed.ByBoth, later); err != nil {
		t.Fatal(err)
	}
	if _, err := s.DB().ExecContext(t.Context(), "update feed set brief = 1, title = 'My year' where name = 'year'"); err != nil {
		t.Fatal(err)
	}
	anew := jointTokens(t, s)["anew"]
	seenAt(t, phones, s, jointTokens(t, s))
	s.Close()

	now := start.Add(2 * time.Hour)
	done := restored(t, file, dir, now)
	fresh := openedIn(t, dir)
	page, err := fresh.Page(t.Context(), year)
	if err != nil {
		t.Fatal(err)
	}
	is := jointTokens(t, fresh)
	for _, row := range []struct{ what, got, want string }{
		{"given", people(done.Given), "anew, late"},
		{"closed", people(done.Closed), "anew, shut"},
		{"broken", people(done.Broken), "elsewhere, gus-and-hal Ann, gus-and-hal Bo, gus-and-hal Noor"},
		{"lacking", people(done.Lacking), "year"},
		{"addresses", fmt.Sprint(is), fmt.Sprint(map[string]string{"year": year, "shut": "", "anew": anew, "late": late})},
		{"year carries", carries(t, fresh, "year"), "ann-and-bo, cleo-and-dee"},
		{"late carries", carries(t, fresh, "late"), "cleo-and-dee, eli-and-fay"},
		{"anew carries", carries(t, fresh, "anew"), "ann-and-bo, cleo-and-dee"},
		{"its page", fmt.Sprint(page.Joint, page.Reminders, page.Entries[0].Brief), fmt.Sprint("My year", feed.ByBoth, true)},
	} {
		if row.got != row.want {
			t.Errorf("%s: %s\nwant %s", row.what, row.got, row.want)
		}
	}
	openings, err := fresh.Openings(t.Context())
	if err != nil || !openings[shut].Revoked || !openings[first].Revoked {
		t.Errorf("what was closed opens %+v and %+v, %v", openings[shut], openings[first], err)
	}
	if known := newer(t, phones, seenAt(t, map[string]glance{}, fresh, is)); known != 8*2+5*2+5*2 {
		t.Errorf("%d entries are known", known)
	}
	if body := text(jointCalendar(t, fresh, store.Joint{Token: year})); strings.Contains(body, "CANCELLED") || strings.Contains(body, "Gus") || strings.Contains(body, "Eli") || !strings.Contains(body, "20270503") {
		t.Errorf("it says\n%s", body)
	}
	// What was taken out comes back newer than it was seen, and tells of
	// nothing that went off while it was away.
	imported(t, fresh, strings.Replace(island, "  tasting:", "  # tasting:", 1), now)
	joined(t, fresh, "year", now.Add(time.Hour), "eli-and-fay")
	body := jointCalendar(t, fresh, store.Joint{Token: year})
	if known := newer(t, phones, seenAt(t, map[string]glance{}, fresh, map[string]string{"year": year})); known != 8*2+4 || strings.Contains(text(body), "CANCELLED") {
		t.Errorf("then %d entries are known:\n%s", known, text(body))
	}
}

// TestBlindRestoreOfJointFeeds: where nothing is known of what came after the
// backup, a joint feed is as it was, and newer than any phone has seen it.
func TestBlindRestoreOfJointFeeds(t *testing.T) {
	t.Parallel()
	s := opened(t)
	imported(t, s, shore, start)
	imported(t, s, valley, start)
	year := joined(t, s, "year", start, "ann-and-bo")
	file := backedUp(t, s, start.Add(time.Minute))
	phones := seenAt(t, map[string]glance{}, s, jointTokens(t, s))
	last := start.Add(time.Hour)
	for n := range 5 { // stamps run ahead of the clock
		imported(t, s, strings.Replace(shore, "60 days", fmt.Sprint(61+n, " days"), 1), last)
	}
	joined(t, s, "year", last, "cleo-and-dee")
	seenAt(t, phones, s, jointTokens(t, s))

	now, dir := last.Add(time.Second), filepath.Join(t.TempDir(), "new")
	restored(t, file, dir, now)
	fresh := openedIn(t, dir)
	if got := jointTokens(t, fresh)["year"]; got != year || carries(t, fresh, "year") != "ann-and-bo" {
		t.Errorf("its address is the same: %v; it carries %s", got == year, carries(t, fresh, "year"))
	}
	if known := newer(t, phones, seenAt(t, map[string]glance{}, fresh, jointTokens(t, fresh))); known != 5 {
		t.Errorf("%d entries are known", known)
	}
	joined(t, fresh, "year", now, "cleo-and-dee")
	if known := newer(t, phones, seenAt(t, map[string]glance{}, fresh, jointTokens(t, fresh))); known != 10 {
		t.Errorf("then %d entries are known", known)
	}
}

// TestRestoreUnderAnOldKey: whoever came under a key since the backup is not
// taken for the one who had it then, nor they for whoever comes later.
func TestRestoreUnderAnOldKey(t *testing.T) {
	t.Parallel()
	without := strings.Replace(shore, "  noor: {name: Noor, part: planner}\n", "", 1)
	nora := strings.Replace(shore, "name: Noor,", "name: Nora Lind,", 1)
	dir := t.TempDir()
	s := openedIn(t, dir)
	doc := imported(t, s, shore, start)
	imported(t, s, valley, start)
	joined(t, s, "year", start, "ann-and-bo", "cleo-and-dee")
	noor := tokens(t, s, doc)["noor"]
	file := backedUp(t, s, start)
	imported(t, s, without, start.Add(time.Minute))
	imported(t, s, nora+"  visit: {what: Visit, on: 2027-05-09}\n", start.Add(2*time.Minute))
	joined(t, s, "hers", start.Add(2*time.Minute), "ann-and-bo")
	second := tokens(t, s, doc)["noor"]
	s.Close()

	done := restored(t, file, dir, start.Add(time.Hour))
	if people(done.Closed) != "ann-and-bo Noor" || people(done.Broken) != "hers, ann-and-bo Nora Lind" || len(done.Given) > 0 {
		t.Errorf("closed %v, broken %v, given %v", done.Closed, done.Broken, done.Given)
	}
	fresh := openedIn(t, dir)
	openings, err := fresh.Openings(t.Context())
	if err != nil || !openings[noor].Revoked {
		t.Errorf("noor's link opens %+v, %v", openings[noor], err)
	}
	if o, ok := openings[second]; ok {
		t.Errorf("nora's link opens %+v", o)
	}
	if got := carries(t, fresh, "year"); got != "cleo-and-dee" {
		t.Errorf("the joint feed carries %s", got)
	}
	// Numbers are left out, and whoever left is known by name past them.
	imported(t, fresh, without, start.Add(2*time.Hour))
	got := saved(t, fresh, store.Import{Over: true}, nora, start.Add(3*time.Hour))
	if got.Version != 5 || len(got.Newcomers) != 1 || got.Newcomers[0].Was != "Noor" || got.Newcomers[0].Left != 4 {
		t.Errorf("the import comes to %+v", got)
	}
}

// TestNewcomerAfterARestore: whoever was new since the backup, and is in no
// plan after it, is still told from who comes under their key.
func TestNewcomerAfterARestore(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := openedIn(t, dir)
	doc := imported(t, s, shore, start)
	file := backedUp(t, s, start)
	with := func(name string) string {
		return strings.Replace(shore, "  noor:", "  zoe: {name: "+name+", part: helper}\n  noor:", 1)
	}
	imported(t, s, with("Zoe"), start.Add(time.Minute))
	zoe := tokens(t, s, doc)["zoe"]
	s.Close()
	restored(t, file, dir, start.Add(time.Hour))
	restored(t, file, dir, start.Add(2*time.Hour)) // what the first took over goes on
	fresh := openedIn(t, dir)
	got := saved(t, fresh, store.Import{Over: true}, with("Zoltan"), start.Add(3*time.Hour))
	if want := []store.Newcomer{{Key: "zoe", Name: "Zoltan", Was: "Zoe"}}; !slices.EqualFunc(got.Newcomers, want, func(a, b store.Newcomer) bool { return fmt.Sprint(a) == fmt.Sprint(b) }) {
		t.Errorf("newcomers are %+v", got.Newcomers)
	}
	openings, err := fresh.Openings(t.Context())
	if err != nil || !openings[zoe].Revoked || tokens(t, fresh, doc)["zoe"] == "" {
		t.Errorf("zoe's link opens %+v, %v", openings[zoe], err)
	}
}

// TestRestoreOverOldForms: what is there may be of a release that had another
// form; its reminders, links and stamps are taken over all the same.
func TestRestoreOverOldForms(t *testing.T) {
	t.Parallel()
	dir, copied := t.TempDir(), t.TempDir()
	for _, to := range []string{dir, copied} {
		if err := os.CopyFS(to, os.DirFS("../testdata/store/v1")); err != nil {
			t.Fatal(err)
		}
	}
	s := openedIn(t, copied)
	file := backedUp(t, s, start)
	db, err := sql.Open("sqlite", "file:"+filepath.Join(dir, "banns.db"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.ExecContext(t.Context(), `insert into reader select wedding, person, 'both' from carries where person = 'ann';
		update address set revoked_at = '2026-11-25T09:00:00Z' where feed = (select feed from carries where person = 'bo');
		update ledger set sequence = 7, changed = '2030-01-01T00:00:00Z' where person = 'ann'`); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	done := restored(t, file, dir, start.AddDate(0, 1, 0))
	if done.Unread != nil || !done.Against || people(done.Closed) != "ann-and-bo Bo" {
		t.Errorf("it came to %+v", done)
	}
	fresh := openedIn(t, dir)
	if p, err := fresh.Page(t.Context(), oldToken); err != nil || p.Reminders != feed.ByBoth {
		t.Errorf("ann is reminded by %q, %v", p.Reminders, err)
	}
	if e := event(of(t, fresh, loaded(t, fresh, "ann-and-bo"), "ann"), "$750.00"); line(e, "DTSTAMP") <= "20300101T000000Z" {
		t.Errorf("her payment:\n%s", e)
	}
	loaded(t, openedIn(t, done.Aside), "ann-and-bo")
}
