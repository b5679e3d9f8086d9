package store_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/store"
	"banns/testdata"
)

// tokens are the addresses of everybody in doc by key.
func tokens(t testing.TB, s *store.Store, doc *store.Document) map[string]string {
	t.Helper()
	all, err := s.Addresses(t.Context(), doc.Plan.ID)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for _, a := range all {
		found[a.Person] = a.Token
	}
	return found
}

// calendars are the feeds of everybody in doc by key.
func calendars(t testing.TB, s *store.Store, doc *store.Document) map[string]store.Calendar {
	t.Helper()
	openings, err := s.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]store.Calendar{}
	for key, token := range tokens(t, s, doc) {
		o, ok := openings[token]
		if !ok {
			t.Fatalf("%s has no address", key)
		}
		c, err := s.Calendar(t.Context(), o.Feed)
		if err != nil {
			t.Fatal(err)
		}
		if c.Revision != o.Revision {
			t.Errorf("%s's address opens revision %d, and the feed is at %d", key, o.Revision, c.Revision)
		}
		all[key] = c
	}
	return all
}

func published(t testing.TB, s *store.Store, doc *store.Document, key string) string {
	t.Helper()
	return unfold(string(calendars(t, s, doc)[key].Body))
}

func unfold(body string) string { return strings.ReplaceAll(body, "\r\n ", "") }

// event is the part of a calendar with text in its summary, or empty.
func event(body, text string) string {
	for part := range strings.SplitSeq(body, "BEGIN:VEVENT") {
		if i := strings.Index(part, "SUMMARY:"); i >= 0 && strings.Contains(strings.SplitN(part[i:], "\r\n", 2)[0], text) {
			return part
		}
	}
	return ""
}

// line is the value of a property of an event, its parameters in front.
func line(event, name string) string {
	for l := range strings.Lines(event) {
		if rest, ok := strings.CutPrefix(l, name); ok && (rest[0] == ':' || rest[0] == ';') {
			return strings.TrimSuffix(rest[1:], "\r\n")
		}
	}
	return ""
}

// edited is the demo with one text in place of another, which must be there.
func edited(t testing.TB, pairs ...string) string {
	t.Helper()
	text := string(testdata.Demo)
	for i := 0; i < len(pairs); i += 2 {
		if strings.Count(text, pairs[i]) != 1 {
			t.Fatalf("%q stands %d times in the demo", pairs[i], strings.Count(text, pairs[i]))
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

// changedFor are the people whose feeds differ, and checks that a feed's
// revision rises with its bytes and never else.
func changedFor(t *testing.T, was, is map[string]store.Calendar) map[string]bool {
	t.Helper()
	changed := map[string]bool{}
	for key := range was {
		same := bytes.Equal(was[key].Body, is[key].Body)
		if rose := is[key].Revision - was[key].Revision; same && rose != 0 || !same && rose != 1 {
			t.Errorf("%s: revision %d became %d; same bytes: %v", key, was[key].Revision, is[key].Revision, same)
		}
		if same && (!is[key].Changed.Equal(was[key].Changed) || !bytes.Equal(is[key].Gzip, was[key].Gzip)) {
			t.Errorf("%s: the same calendar, and its row differs", key)
		}
		if !same && !is[key].Changed.After(was[key].Changed) {
			t.Errorf("%s: changed at %s, before that at %s", key, is[key].Changed, was[key].Changed)
		}
		if !same {
			changed[key] = true
		}
	}
	return changed
}

func TestEverybodyHasOneFeed(t *testing.T) {
	s := opened(t)
	var doc *store.Document
	for range 2 {
		doc = imported(t, s, string(testdata.Demo), start)
	}
	openings, err := s.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	feeds := map[int64]bool{}
	for key, token := range tokens(t, s, doc) {
		o, ok := openings[token]
		if !ok || o.Revoked || o.Revision != 1 || feeds[o.Feed] {
			t.Errorf("%s: %+v, known: %v", key, o, ok)
		}
		feeds[o.Feed] = true
	}
	if n := len(doc.Plan.People); len(openings) != n || len(feeds) != n {
		t.Errorf("%d people have %d addresses of %d feeds", n, len(openings), len(feeds))
	}
}

// TestNothingChanged: neither a second import nor a start of the server, on
// any day, changes a byte.
func TestNothingChanged(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	was := calendars(t, s, doc)
	imported(t, s, exported(t, doc), start.AddDate(0, 5, 0))
	if err := s.PublishAll(t.Context(), start.AddDate(2, 0, 0)); err != nil {
		t.Fatal(err)
	}
	if changed := changedFor(t, was, calendars(t, s, doc)); len(changed) > 0 {
		t.Errorf("changed for %v", changed)
	}
}

// TestEditChangesWhoSeesIt has edits of the demo and the people whose feeds
// they change; everybody else's rows are as they were, to the byte. Each edit
// is made on top of those before it.
func TestEditChangesWhoSeesIt(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	was, edits := calendars(t, s, doc), []string{}
	for _, row := range []struct {
		name string
		edit []string
		want string // keys, sorted
	}{
		{"a payment that the bride's aunt makes", []string{"40% 8 weeks before the wedding", "40% 9 weeks before the wedding"}, "ada maren odile theo"},
		{"a surprise", []string{"tune for the last song 3 weeks", "tune for the last song 4 weeks"}, "bram odile tomas"},
		{"a fitting that the groom must not know of", []string{"on: 2027-07-10", "on: 2027-07-11"}, "maren odile priya"},
		{"a quote", []string{"people to be interviewed 3 weeks", "people to be interviewed 4 weeks"}, "maren odile theo"},
		{"a clothes size", []string{"{dress: US 8}", "{dress: US 10}"}, ""},
		{"a comment", []string{"# Not signed yet:", "# Not yet:"}, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			edits = append(edits, row.edit...)
			imported(t, s, edited(t, edits...), start.Add(time.Duration(len(edits))*time.Hour))
			is := calendars(t, s, doc)
			got := changedFor(t, was, is)
			was = is
			want := map[string]bool{}
			for _, key := range strings.Fields(row.want) {
				want[key] = true
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("whose feeds changed (-want +got):\n%s", diff)
			}
		})
	}
}

// TestMovedDate: SEQUENCE, DTSTAMP and LAST-MODIFIED move together, and with
// no other entry; the UID never does.
func TestMovedDate(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	was := published(t, s, doc, "priya")
	later := start.Add(90 * time.Minute)
	imported(t, s, edited(t, "on: 2027-07-10", "on: 2027-07-12"), later)
	is := published(t, s, doc, "priya")
	old, moved := event(was, "First fitting"), event(is, "First fitting")
	for _, p := range []struct{ name, was, is string }{
		{"SEQUENCE", "0", "1"},
		{"DTSTAMP", "20261125T090000Z", "20261125T103000Z"},
		{"LAST-MODIFIED", "20261125T090000Z", "20261125T103000Z"},
		{"DTSTART", "TZID=America/Detroit:20270710T110000", "TZID=America/Detroit:20270712T110000"},
		{"UID", line(old, "UID"), line(old, "UID")},
	} {
		if line(old, p.name) != p.was || line(moved, p.name) != p.is {
			t.Errorf("%s was %q and is %q; want %q and %q", p.name, line(old, p.name), line(moved, p.name), p.was, p.is)
		}
	}
	if strings.Replace(was, old, moved, 1) != is {
		t.Error("more than that one entry changed")
	}
	if got := calendars(t, s, doc)["priya"].Changed; !got.Equal(later) {
		t.Errorf("the feed changed at %s, want %s", got, later)
	}
}

// TestClockSetBack: what changes is later than what was before, whatever the
// clock says.
func TestClockSetBack(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	imported(t, s, edited(t, "on: 2027-07-10", "on: 2027-07-12"), start.AddDate(0, -1, 0))
	if got, want := line(event(published(t, s, doc, "priya"), "First fitting"), "DTSTAMP"), "20261125T090001Z"; got != want {
		t.Errorf("DTSTAMP is %s, want %s", got, want)
	}
	if got, want := calendars(t, s, doc)["priya"].Changed, start.Add(time.Second); !got.Equal(want) {
		t.Errorf("the feed changed at %s, want %s", got, want)
	}
}

// TestWithdrawn: an entry that goes is shown as off for 60 days, and comes
// back, if it does, from where it was.
func TestWithdrawn(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	first := event(published(t, s, doc, "idris"), "shot list")
	gone := start.AddDate(0, 0, 1)
	imported(t, s, edited(t, "      - {says: shot list", "      # - {says: shot list"), gone)
	off := event(published(t, s, doc, "idris"), "shot list")
	for _, p := range [][2]string{{"STATUS", "CANCELLED"}, {"SEQUENCE", "1"}, {"UID", line(first, "UID")}, {"DTSTART", line(first, "DTSTART")}, {"DESCRIPTION", ""}} {
		if got := line(off, p[0]); got != p[1] {
			t.Errorf("withdrawn, its %s is %q, want %q", p[0], got, p[1])
		}
	}
	for _, at := range []struct {
		when  time.Time
		shown bool
	}{{gone.Add(feed.WithdrawnFor - time.Second), true}, {gone.Add(feed.WithdrawnFor), false}} {
		if err := s.Tick(t.Context(), at.when); err != nil {
			t.Fatal(err)
		}
		if shown := event(published(t, s, doc, "idris"), "shot list") != ""; shown != at.shown {
			t.Errorf("on %s it is shown: %v", at.when, shown)
		}
	}
	imported(t, s, edited(t, "{says: shot list", "{key: change-1, says: shot list"), gone.AddDate(0, 3, 0))
	back := event(published(t, s, doc, "idris"), "shot list")
	if line(back, "UID") != line(first, "UID") || line(back, "SEQUENCE") != "2" || line(back, "STATUS") != "CONFIRMED" {
		t.Errorf("it comes back as\n%s", back)
	}
}

// TestNewcomer: somebody added later sees nothing of what was off by then,
// and a person who leaves the plan keeps a calendar, of withdrawn entries.
func TestNewcomer(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	imported(t, s, edited(t, "when: 1 day after the wedding, at", "when: 2 days after the wedding, at"), start.AddDate(0, 0, 1))
	cut := edited(t, "  brunch: ", "  # brunch: ")
	imported(t, s, cut, start.AddDate(0, 0, 2))
	if off := event(published(t, s, doc, "kofi"), "brunch"); line(off, "STATUS") != "CANCELLED" {
		t.Errorf("kofi is not told that the brunch is off: %q", off)
	}
	with := imported(t, s, strings.Replace(cut, "  kofi: ", "  zoe: {name: Zoe, part: attendant}\n  kofi: ", 1), start.AddDate(0, 0, 3))
	body := published(t, s, with, "zoe")
	if strings.Contains(body, "CANCELLED") || event(body, "Ceremony") == "" {
		t.Errorf("the newcomer's calendar:\n%s", body)
	}
	token := tokens(t, s, with)["zoe"]
	imported(t, s, cut, start.AddDate(0, 0, 4))
	openings, err := s.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	left, err := s.Calendar(t.Context(), openings[token].Feed)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(left.Body), "BEGIN:VEVENT"); n == 0 || n != strings.Count(string(left.Body), "STATUS:CANCELLED") {
		t.Errorf("whoever left has %d entries:\n%s", n, left.Body)
	}
}

// TestUIDsStay through every edit that is no other thing: title, date, words,
// the order of the file, and a new address.
func TestUIDsStay(t *testing.T) {
	t.Parallel()
	uids := regexp.MustCompile(`(?m)^UID:.*$`)
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	was := uids.FindAllString(published(t, s, doc, "june"), -1)
	if err := s.Revoke(t.Context(), doc.Plan.ID, "june", true, start); err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer("2027-09-18", "2027-10-02", "menu choice 60 days", "Menu  Choice 59 days",
		"part: couple", "part: couple, note: A", "Menu tasting,", "Tasting the menu,", "menu tasting", "tasting").Replace(string(testdata.Demo))
	doc = imported(t, s, text, start.Add(time.Hour))
	is := uids.FindAllString(published(t, s, doc, "june"), -1)
	if sorted := cmp.Diff(setOf(was), setOf(is)); sorted != "" || len(was) < 5 {
		t.Errorf("%d UIDs (-was +is):\n%s", len(was), sorted)
	}
}

func setOf(all []string) map[string]bool {
	set := map[string]bool{}
	for _, s := range all {
		set[s] = true
	}
	return set
}
