package store_test

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/store"
	"banns/testdata"
)

// glance is what a phone has seen of an entry.
type glance struct {
	sequence int
	stamp    string
	modified time.Time // of the feed
}

// seen notes the newest that phones have of every entry of everybody.
func seen(t *testing.T, all map[string]glance, s *store.Store, doc *store.Document) map[string]glance {
	t.Helper()
	return seenAt(t, all, s, tokens(t, s, doc))
}

// seenAt notes the newest that phones have of every entry of the feeds at
// these addresses.
func seenAt(t *testing.T, all map[string]glance, s *store.Store, addresses map[string]string) map[string]glance {
	t.Helper()
	openings, err := s.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for key, token := range addresses {
		if o, ok := openings[token]; !ok || o.Revoked {
			continue
		}
		c, err := s.Calendar(t.Context(), openings[token].Feed)
		if err != nil {
			t.Fatal(err)
		}
		for uid, e := range events(c) {
			n, err := strconv.Atoi(line(e, "SEQUENCE"))
			if err != nil {
				t.Fatal(err)
			}
			all[key+" "+uid] = glance{n, line(e, "DTSTAMP"), c.Changed}
		}
	}
	return all
}

// newer wants what s publishes to be newer than what phones have seen, and
// reports how many entries there are that they know.
func newer(t *testing.T, was, is map[string]glance) (known int) {
	t.Helper()
	for uid, now := range is {
		had, ok := was[uid]
		if !ok {
			continue
		}
		known++
		if now.sequence <= had.sequence || now.stamp <= had.stamp || !now.modified.After(had.modified) {
			t.Errorf("%s: a phone has %+v and is sent %+v", uid, had, now)
		}
	}
	return known
}

// of is the calendar of one person, by the key they had first.
func of(t testing.TB, s *store.Store, doc *store.Document, person string) string {
	t.Helper()
	body, err := s.Published(t.Context(), doc.Plan.ID, person)
	if err != nil {
		t.Fatal(err)
	}
	return unfold(string(body))
}

// people are who is meant, in one line.
func people(all []store.Who) string {
	var s []string
	for _, w := range all {
		s = append(s, strings.TrimSpace(w.Wedding+" "+w.Name))
	}
	return strings.Join(s, ", ")
}

func restored(t testing.TB, file, dir string, now time.Time) store.Restored {
	t.Helper()
	done, err := store.Restore(t.Context(), file, dir, now)
	if err != nil {
		t.Fatal(err)
	}
	return done
}

// TestRestoreToAnEmptyFolder: where nothing is known of what came after the
// backup, every entry is newer than what any phone has, and every address is
// the same.
func TestRestoreToAnEmptyFolder(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := openedIn(t, dir)
	doc := imported(t, s, string(testdata.Demo), start)
	addresses := tokens(t, s, doc)
	file := backedUp(t, s, start.Add(time.Minute))
	phones := seen(t, map[string]glance{}, s, doc)
	// A burst of edits, in which stamps run ahead of the clock.
	texts, last := []string{}, start.Add(7*time.Hour-time.Second)
	for n := range 5 {
		texts = append(texts, edited(t, "on: 2027-07-10", fmt.Sprint("on: 2027-07-", 12+n), "appointments:\n", "appointments:\n  found: {what: Found, on: 2027-07-30, for: [bea]}\n"))
		imported(t, s, texts[n], last)
		seen(t, phones, s, doc)
	}
	now, empty := start.Add(7*time.Hour), filepath.Join(t.TempDir(), "new", "store")
	done := restored(t, file, empty, now)
	if done.Aside != "" || done.Against || len(done.People) != len(doc.Plan.People) || !done.Made.Equal(start.Add(time.Minute)) || done.Behind != nil {
		t.Errorf("it came to %+v", done)
	}
	if got := names(t, empty); !slices.Equal(got, []string{"banns.db", "banns.key"}) {
		t.Errorf("in the folder there is %q", got)
	}
	fresh := openedIn(t, empty)
	if diff := cmp.Diff(addresses, tokens(t, fresh, doc)); diff != "" {
		t.Errorf("addresses (-was +is):\n%s", diff)
	}
	is := seen(t, map[string]glance{}, fresh, doc)
	if known := newer(t, phones, is); known < 100 || known != len(is) {
		t.Errorf("%d of %d entries are known", known, len(is))
	}
	if day := line(event(published(t, fresh, doc, "priya"), "First fitting"), "DTSTART"); !strings.Contains(day, "20270710") {
		t.Errorf("the fitting is on %s", day)
	}
	// What was new since, and what changes now, is newer too.
	for n, text := range texts {
		imported(t, fresh, text, now.Add(time.Duration(n)*time.Minute))
	}
	if known := newer(t, phones, seen(t, map[string]glance{}, fresh, doc)); known != len(phones) {
		t.Errorf("%d of %d entries are known", known, len(phones))
	}
	if event(published(t, fresh, doc, "bea"), "Found") == "" {
		t.Error("the new appointment is not published again")
	}
}

// TestRestoreOver has a store at hand that is newer than the backup: what must
// not be undone is taken over from it, and all of it is kept.
func TestRestoreOver(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	s := openedIn(t, dir)
	if err := s.SetPublic(t.Context(), "https://old.example.org", start); err != nil {
		t.Fatal(err)
	}
	doc := imported(t, s, string(testdata.Demo), start)
	first := tokens(t, s, doc)
	if err := s.Revoke(t.Context(), "maren-and-theo", "theo", false, start); err != nil {
		t.Fatal(err)
	}
	file := backedUp(t, s, start.Add(time.Minute))
	phones := seen(t, map[string]glance{}, s, doc)

	later := start.Add(48 * time.Hour)
	for who, again := range map[string]bool{"bea": true, "priya": false, "theo": true} {
		if err := s.Revoke(t.Context(), "maren-and-theo", who, again, later); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.SetReminders(t.Context(), first["june"], feed.ByNotice, later); err != nil {
		t.Fatal(err)
	}
	text := edited(t, "on: 2027-07-10", "on: 2027-07-12", "  june:", "  zoe: {name: Zoe Zander, part: helper}\n  june:")
	doc2 := imported(t, s, strings.Replace(text, "appointments:\n", "appointments:\n  found: {what: Found, on: 2027-07-30, for: [june]}\n", 1), later)
	imported(t, s, strings.Replace(head, "Maren and Theo", "Ann and Bo", 1), later)
	if err := s.SetPublic(t.Context(), "https://new.example.org", later); err != nil {
		t.Fatal(err)
	}
	was := tokens(t, s, doc2)
	seen(t, phones, s, doc2)
	before := state(t, s)
	s.Close()

	now := start.Add(72 * time.Hour)
	done := restored(t, file, dir, now)
	for _, row := range []struct{ what, got, want string }{
		{"given", people(done.Given), "maren-and-theo Bea Lindqvist, maren-and-theo Theo Lindqvist, maren-and-theo Zoe Zander"},
		{"closed", people(done.Closed), "maren-and-theo Bea Lindqvist, maren-and-theo Priya Nair"},
		{"broken", people(done.Broken), "ann-and-bo June, ann-and-bo Maren"},
		{"lost", fmt.Sprint(len(done.Lost), done.Lost[0].Name, done.Lost[0].All, done.Lost[1].Name, done.Lost[1].Saved), fmt.Sprint(2, "ann-and-bo", true, "maren-and-theo", []store.Saved{{Version: 2, At: later}})},
	} {
		if row.got != row.want {
			t.Errorf("%s: %s\nwant %s", row.what, row.got, row.want)
		}
	}

	fresh := openedIn(t, dir)
	is := tokens(t, fresh, doc)
	for key, token := range is {
		if want := was[key]; token != want {
			t.Errorf("%s's address is %q, and was %q", key, token, want)
		}
	}
	openings, err := fresh.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"bea", "priya", "theo"} {
		if o, ok := openings[first[key]]; !ok || !o.Revoked {
			t.Errorf("%s's first address is open: %+v, known: %v", key, o, ok)
		}
	}
	zoe, err := fresh.Calendar(t.Context(), openings[was["zoe"]].Feed)
	if err != nil || !bytes.Contains(zoe.Body, []byte("STATUS:CANCELLED")) || bytes.Contains(zoe.Body, []byte("STATUS:CONFIRMED")) {
		t.Errorf("zoe, who is not in the backup, is told: %v\n%s", err, zoe.Body)
	}
	if newer(t, phones, seen(t, map[string]glance{}, fresh, doc)) < 100 {
		t.Error("few entries are known")
	}
	june := of(t, fresh, doc, "june")
	if line(event(june, "Found"), "STATUS") != "CANCELLED" {
		t.Errorf("june is not told that what was new is off:\n%s", june)
	}
	if p, err := fresh.Page(t.Context(), is["june"]); err != nil || p.Reminders != feed.ByNotice {
		t.Errorf("june is reminded by %q, %v", p.Reminders, err)
	}
	if base, err := fresh.Public(t.Context()); base != "https://new.example.org" || err != nil {
		t.Errorf("the public address is %q, %v", base, err)
	}

	aside := openedIn(t, done.Aside)
	if diff := cmp.Diff(before, state(t, aside)); diff != "" {
		t.Errorf("what was kept (-was +kept):\n%s", diff)
	}
	if diff := cmp.Diff(was, tokens(t, aside, doc2)); diff != "" {
		t.Errorf("addresses of what was kept:\n%s", diff)
	}
	if got := imported(t, fresh, exported(t, loaded(t, aside, "maren-and-theo")), now.Add(time.Hour)); got.Plan.Version != 3 {
		t.Errorf("what was lost comes back as version %d, though 2 had a number of its own", got.Plan.Version)
	}
	if got := tokens(t, fresh, doc2); got["zoe"] != was["zoe"] {
		t.Errorf("then zoe's address is %q, and was %q", got["zoe"], was["zoe"])
	}
	if back := event(of(t, fresh, doc, "june"), "Found"); line(back, "STATUS") == "CANCELLED" || back == "" {
		t.Errorf("and what was new is\n%s", back)
	}
}

// TestKeysAreNotGivenTwice: a line that is new after a restore does not get
// the key of one that was new before it.
func TestKeysAreNotGivenTwice(t *testing.T) {
	dir := t.TempDir()
	s := openedIn(t, dir)
	const venue = hall + "    papers:\n      - floor plan 30 days before the wedding\n"
	imported(t, s, venue, start)
	file := backedUp(t, s, start)
	two := exported(t, imported(t, s, venue+"      - list of guests 20 days before the wedding\n", start.Add(time.Hour)))
	s.Close()
	restored(t, file, dir, start.Add(2*time.Hour))
	next := exported(t, imported(t, openedIn(t, dir), venue+"      - seating 10 days before the wedding\n", start.Add(3*time.Hour)))
	if !strings.Contains(two, "key: paper-2") || strings.Contains(next, "key: paper-2") || !strings.Contains(next, "key: paper-3") {
		t.Errorf("the keys were\n%s\nand are\n%s", two, next)
	}
}
