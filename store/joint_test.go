package store_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/feed/check"
	"banns/store"
)

// small is a wedding that Noor coordinates, with a surprise that is hidden
// from her.
func small(title, zone string) string {
	return fmt.Sprintf(`banns: 1
wedding: {title: %s, date: 2027-09-18, start: "16:30", zone: %s, currency: USD}
people:
  ann: {name: Ann, part: couple}
  bo: {name: Bo, part: couple}
  noor: {name: Noor, part: planner}
agreements:
  hall:
    with: The Long Barn
    service: venue
    standing: signed
    signed: 2026-10-02
    price: "1000.00"
    pay:
      - {key: p1, says: 25%% 60 days before the wedding}
      - {key: p2, says: balance 14 days before the wedding}
    change:
      - {key: c1, says: "headcount 20 days before the wedding by 17:00"}
appointments:
  tasting: {what: Tasting, on: 2027-05-03, at: "11:00"}
  secret: {what: Brass rehearsal, on: 2027-05-04, at: "18:00", for: [bo], hide from: [planner]}
`, title, zone)
}

// shore, valley and island are three weddings in as many zones.
var shore, valley, island = small("Ann and Bo", "America/Detroit"), small("Cleo and Dee", "Europe/Dublin"), small("Eli and Fay", "Pacific/Auckland")

func pairs(who string, weddings ...string) []store.Pair {
	var all []store.Pair
	for _, w := range weddings {
		all = append(all, store.Pair{Wedding: w, Person: who})
	}
	return all
}

func together(t testing.TB, s *store.Store, now time.Time, who ...store.Pair) store.Joint {
	t.Helper()
	j, err := s.Together(t.Context(), "Noor’s year", "", who, now)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// jointCalendar is the calendar that a joint feed serves.
func jointCalendar(t testing.TB, s *store.Store, j store.Joint) store.Calendar {
	t.Helper()
	openings, err := s.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	o, ok := openings[j.Token]
	if !ok || o.Revoked {
		t.Fatalf("the address of %s is %+v, known: %v", j.Name, o, ok)
	}
	c, err := s.Calendar(t.Context(), o.Feed)
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range check.Calendar(c.Body) {
		t.Error(fault)
	}
	return c
}

func text(c store.Calendar) string { return unfold(string(c.Body)) }

var summaries = regexp.MustCompile(`(?m)^SUMMARY:(.*)\r$`)

// says are the summaries of a calendar that hold a text.
func says(c store.Calendar, part string) []string {
	var all []string
	for _, m := range summaries.FindAllStringSubmatch(text(c), -1) {
		if strings.Contains(m[1], part) {
			all = append(all, m[1])
		}
	}
	return all
}

func TestTogether(t *testing.T) {
	s := opened(t)
	docs := []*store.Document{imported(t, s, shore, start), imported(t, s, valley, start)}
	own := calendars(t, s, docs[0])
	j := together(t, s, start, pairs("noor", "ann-and-bo", "cleo-and-dee")...)
	want := store.Joint{Name: "noor-s-year", Title: "Noor’s year", Token: j.Token, Bytes: j.Bytes, Carries: []store.Carried{
		{Wedding: "ann-and-bo", Title: "Ann and Bo", Person: "noor", Name: "Noor"},
		{Wedding: "cleo-and-dee", Title: "Cleo and Dee", Person: "noor", Name: "Noor"}}}
	if diff := cmp.Diff(want, j); diff != "" {
		t.Errorf("the feed (-want +got):\n%s", diff)
	}
	c := jointCalendar(t, s, j)
	if c.Revision != 1 || len(c.Body) != j.Bytes || c.Whose != "noor-s-year" || !strings.Contains(text(c), "\r\nNAME:Noor’s year\r\n") {
		t.Errorf("revision %d, %d bytes of %d, whose: %q\n%s", c.Revision, len(c.Body), j.Bytes, c.Whose, text(c))
	}
	for part, want := range map[string][]string{
		"Pay The Long Barn $750.00": {"Pay The Long Barn $750.00 (Ann and Bo)", "Pay The Long Barn $750.00 (Cleo and Dee)"},
		"headcount":                 {"The Long Barn: headcount by 17:00 Detroit time (Ann and Bo)", "The Long Barn: headcount by 17:00 Dublin time (Cleo and Dee)"},
		"the wedding":               {"Ann and Bo: the wedding", "Cleo and Dee: the wedding"},
		"Brass":                     nil,
	} {
		got := says(c, part)
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("it says %q, want %q", got, want)
		}
	}
	if changed := changedFor(t, own, calendars(t, s, docs[0])); len(changed) > 0 {
		t.Errorf("the feeds of %v changed", changed)
	}
	if all, err := s.Joints(t.Context()); err != nil || len(all) != 1 || !cmp.Equal(all[0], j) {
		t.Errorf("all are %+v, %v", all, err)
	}
	// Their own feeds are still the ones that everybody is given.
	for _, doc := range docs {
		if token := tokens(t, s, doc)["noor"]; token == j.Token || token == "" {
			t.Errorf("noor's own address is %q", token)
		}
		if body := published(t, s, doc, "noor"); !strings.Contains(body, "\r\nSUMMARY:Pay The Long Barn $750.00\r\n") {
			t.Errorf("her own calendar:\n%s", body)
		}
	}
	// The same again, by its name for commands, changes nothing.
	if _, err := s.Together(t.Context(), "noor-s-year", "", pairs("noor", "ann-and-bo"), start.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	if err := s.PublishAll(t.Context(), start.AddDate(1, 0, 0)); err != nil {
		t.Fatal(err)
	}
	if again := jointCalendar(t, s, j); again.Revision != 1 {
		t.Errorf("it is at revision %d", again.Revision)
	}
}

// TestCountDoesNotMatter: a wedding that joins or leaves changes no byte of
// another's entries.
func TestCountDoesNotMatter(t *testing.T) {
	s := opened(t)
	imported(t, s, shore, start)
	imported(t, s, valley, start)
	j := together(t, s, start, pairs("noor", "ann-and-bo")...)
	alone := events(jointCalendar(t, s, j))
	both := together(t, s, start.Add(time.Hour), pairs("noor", "cleo-and-dee")...)
	c := jointCalendar(t, s, both)
	if both.Token != j.Token || c.Revision != 2 {
		t.Errorf("it is at revision %d; the address is the same: %v", c.Revision, both.Token == j.Token)
	}
	with := events(c)
	if diff := missing(alone, with); diff != "" || len(with) != 2*len(alone) {
		t.Errorf("%d entries became %d: %s", len(alone), len(with), diff)
	}
	if _, err := s.Apart(t.Context(), "noor-s-year", []string{"cleo-and-dee"}, start.Add(2*time.Hour)); err != nil {
		t.Fatal(err)
	}
	c = jointCalendar(t, s, j)
	if diff := cmp.Diff(alone, events(c)); diff != "" || c.Revision != 3 || strings.Contains(text(c), "CANCELLED") {
		t.Errorf("revision %d; apart again (-was +is):\n%s", c.Revision, diff)
	}
}

// events are the entries of a calendar by UID.
func events(c store.Calendar) map[string]string {
	all := map[string]string{}
	for _, part := range strings.Split(text(c), "BEGIN:VEVENT\r\n")[1:] {
		body, _, _ := strings.Cut(part, "END:VEVENT")
		all[line(body, "UID")] = body
	}
	return all
}

// missing is the first entry of some that is not the same in all.
func missing(some, all map[string]string) string {
	for uid, e := range some {
		if all[uid] != e {
			return cmp.Diff(e, all[uid])
		}
	}
	return ""
}

// TestEditOfOneWedding changes that wedding's entries in the joint feed, and
// raises its revision once.
func TestEditOfOneWedding(t *testing.T) {
	s := opened(t)
	for _, text := range []string{shore, valley, island} {
		imported(t, s, text, start)
	}
	j := together(t, s, start, pairs("noor", "ann-and-bo", "cleo-and-dee", "eli-and-fay")...)
	was := jointCalendar(t, s, j)
	for n, row := range []struct {
		old, new string
		changes  int
	}{
		{"says: 25% 60 days", "says: 25% 61 days", 1},
		{"on: 2027-05-03", "on: 2027-05-05", 1},
		{"on: 2027-05-04", "on: 2027-05-06", 0}, // hidden from her
		{"title: Cleo and Dee", "title: Dee and Cleo", 5},
	} {
		valley := strings.Replace(exported(t, loaded(t, s, "cleo-and-dee")), row.old, row.new, 1)
		now := start.AddDate(0, 0, n+1)
		imported(t, s, valley, now)
		is := jointCalendar(t, s, j)
		old, changed := events(was), 0
		for uid, e := range events(is) {
			if e == old[uid] {
				continue
			}
			changed++
			if want := "Cleo and Dee"; n < 3 && !strings.Contains(line(e, "SUMMARY"), want) {
				t.Errorf("%s: changes %s", row.new, e)
			}
			if line(e, "DTSTAMP") != now.Format("20060102T150405Z") || line(e, "SEQUENCE") == line(old[uid], "SEQUENCE") {
				t.Errorf("%s: SEQUENCE was %s and is %s, DTSTAMP is %s", row.new, line(old[uid], "SEQUENCE"), line(e, "SEQUENCE"), line(e, "DTSTAMP"))
			}
		}
		if rose := is.Revision - was.Revision; changed != row.changes || rose != min(changed, 1) {
			t.Errorf("%s: %d entries changed, want %d; the revision rose by %d", row.new, changed, row.changes, rose)
		}
		was = is
	}
}

// TestJoinsLate: a wedding that joins shows nothing of what was off by then,
// and one that comes back nothing of what went off while it was away.
func TestJoinsLate(t *testing.T) {
	s := opened(t)
	imported(t, s, shore, start)
	imported(t, s, valley, start)
	off := func(text string) string {
		return strings.Replace(text, "      - {key: c1, says: \"headcount 20 days before the wedding by 17:00\"}\n", "      - {key: c2, says: songs 3 weeks before the wedding}\n", 1)
	}
	imported(t, s, off(valley), start.AddDate(0, 0, 1))
	if body := published(t, s, loaded(t, s, "cleo-and-dee"), "noor"); !strings.Contains(body, "CANCELLED") {
		t.Fatal("nothing was called off")
	}
	j := together(t, s, start.AddDate(0, 0, 2), pairs("noor", "ann-and-bo", "cleo-and-dee")...)
	if got := text(jointCalendar(t, s, j)); strings.Contains(got, "CANCELLED") {
		t.Errorf("it tells of what it never carried:\n%s", got)
	}
	apart := func() {
		t.Helper()
		if _, err := s.Apart(t.Context(), "Noor’s year", []string{"ann-and-bo"}, start.AddDate(0, 0, 3)); err != nil {
			t.Fatal(err)
		}
	}
	sequences := func() (all []string) {
		for _, e := range events(jointCalendar(t, s, j)) {
			all = append(all, line(e, "UID")+" "+line(e, "SEQUENCE"))
		}
		slices.Sort(all)
		return all
	}
	before := sequences()
	apart()
	imported(t, s, off(shore), start.AddDate(0, 0, 4))
	together(t, s, start.AddDate(0, 0, 5), pairs("noor", "ann-and-bo")...)
	c := jointCalendar(t, s, j)
	if len(says(c, "Withdrawn")) > 0 || len(says(c, "headcount")) > 0 || len(says(c, "songs")) != 2 {
		t.Errorf("after it came back:\n%s", text(c))
	}
	// What it carries when it goes off is shown; and what comes back goes on
	// from its old sequence.
	imported(t, s, shore, start.AddDate(0, 0, 6))
	if got := says(jointCalendar(t, s, j), "Withdrawn"); len(got) != 1 || got[0] != "Withdrawn: The Long Barn: songs (Ann and Bo)" {
		t.Errorf("withdrawn are %q", got)
	}
	apart()
	together(t, s, start.AddDate(0, 0, 8), pairs("noor", "ann-and-bo")...)
	if diff := cmp.Diff(before, sequences()); diff != "" {
		t.Errorf("sequences (-was +is):\n%s", diff)
	}
	if err := s.Tick(t.Context(), start.AddDate(1, 0, 0)); err != nil {
		t.Fatal(err)
	}
}

// TestPlannerLeaves: who leaves one plan sees it called off, and the others
// as they were.
func TestPlannerLeaves(t *testing.T) {
	s := opened(t)
	imported(t, s, shore, start)
	imported(t, s, valley, start)
	j := together(t, s, start, pairs("noor", "ann-and-bo", "cleo-and-dee")...)
	imported(t, s, strings.Replace(shore, "  noor: {name: Noor, part: planner}\n", "", 1), start.AddDate(0, 0, 1))
	c := jointCalendar(t, s, j)
	if got, all := len(says(c, "Withdrawn: ")), len(says(c, "Ann and Bo")); got != 5 || all != 5 || len(says(c, "Cleo and Dee")) != 5 {
		t.Errorf("%d of %d entries are withdrawn:\n%s", got, all, text(c))
	}
	if err := s.Tick(t.Context(), start.AddDate(0, 0, 1).Add(feed.WithdrawnFor)); err != nil {
		t.Fatal(err)
	}
	if c := jointCalendar(t, s, j); strings.Contains(text(c), "Ann and Bo") || len(says(c, "Cleo and Dee")) != 5 {
		t.Errorf("two months later:\n%s", text(c))
	}
	got, err := s.Joint(t.Context(), "noor-s-year")
	if err != nil || got.Carries[0] != (store.Carried{Wedding: "ann-and-bo", Title: "Ann and Bo", Person: "noor", Left: true}) {
		t.Errorf("it carries %+v, %v", got.Carries, err)
	}
	all, err := s.Addresses(t.Context(), "ann-and-bo")
	if last := all[len(all)-1]; err != nil || last.Person != "noor" || !last.Left || last.Token == "" || len(all) != 3 {
		t.Errorf("addresses of ann-and-bo: %+v, %v", all, err)
	}
}

// TestUnreadableWedding keeps what was published of it, and stops neither the
// others nor what is done with the feed.
func TestUnreadableWedding(t *testing.T) {
	s := opened(t)
	imported(t, s, shore, start)
	imported(t, s, valley, start)
	j := together(t, s, start, pairs("noor", "ann-and-bo", "cleo-and-dee")...)
	was, own := events(jointCalendar(t, s, j)), tokens(t, s, loaded(t, s, "ann-and-bo"))["noor"]
	if _, err := s.DB().ExecContext(t.Context(), `update version set document = ? where wedding = (select id from wedding where name = 'ann-and-bo')`,
		store.Pack([]byte("banns: 1\nwedding: {titel: no}\n"))); err != nil {
		t.Fatal(err)
	}
	imported(t, s, strings.Replace(valley, "on: 2027-05-03", "on: 2027-05-05", 1), start.AddDate(0, 0, 1))
	is, changed := events(jointCalendar(t, s, j)), 0
	for uid := range was {
		if is[uid] != was[uid] {
			changed++
		}
	}
	if changed != 1 || len(is) != len(was) {
		t.Errorf("%d entries of %d changed", changed, len(is))
	}
	if p, err := s.Page(t.Context(), own); err != nil || len(p.Entries) != 5 || p.Name != "" {
		t.Errorf("her own page has %d entries for %q, %v", len(p.Entries), p.Name, err)
	}
	if p, err := s.Page(t.Context(), j.Token); err != nil || len(p.Entries) != len(was) {
		t.Errorf("the page has %d entries, %v", len(p.Entries), err)
	}
	if err := s.SetReminders(t.Context(), j.Token, feed.ByNone, start.AddDate(0, 0, 2)); err != nil {
		t.Error(err)
	}
	if got, err := s.Joint(t.Context(), j.Name); err != nil || len(got.Carries) != 2 {
		t.Errorf("it is listed as %+v, %v", got, err)
	}
	if _, err := s.Apart(t.Context(), j.Name, []string{"ann-and-bo"}, start.AddDate(0, 0, 3)); err != nil {
		t.Error(err)
	}
	if c := jointCalendar(t, s, j); len(says(c, "Ann and Bo")) > 0 || len(says(c, "Cleo and Dee")) != 5 || strings.Contains(text(c), "VALARM") {
		t.Errorf("apart from it:\n%s", text(c))
	}
}

// TestTickPastAFault: a wedding whose plan this release cannot read stops no
// other from dropping what has been shown as withdrawn for long enough.
func TestTickPastAFault(t *testing.T) {
	s := opened(t)
	for _, plan := range []string{shore, valley} {
		imported(t, s, plan, start)
		imported(t, s, strings.Replace(plan, "  tasting:", "  # tasting:", 1), start.Add(time.Hour))
	}
	if _, err := s.DB().ExecContext(t.Context(), `update version set document = ? where wedding = (select id from wedding where name = 'ann-and-bo')`,
		store.Pack([]byte("banns: 1\nwedding: {titel: no}\n"))); err != nil {
		t.Fatal(err)
	}
	if body := published(t, s, loaded(t, s, "cleo-and-dee"), "noor"); !strings.Contains(body, "CANCELLED") {
		t.Fatal("nothing was withdrawn")
	}
	if err := s.Tick(t.Context(), start.Add(time.Hour+feed.WithdrawnFor)); err == nil {
		t.Error("nobody is told of the plan that cannot be read")
	}
	if body := published(t, s, loaded(t, s, "cleo-and-dee"), "noor"); strings.Contains(body, "CANCELLED") {
		t.Error("it is shown for longer")
	}
}
