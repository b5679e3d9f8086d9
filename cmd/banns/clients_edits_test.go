package main

import (
	"encoding/json"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/feed/check"
	"banns/milestones"
)

const annAndBo = `banns: 1
wedding: {title: Ann and Bo, date: 2027-09-18, start: "15:00", zone: America/Detroit, currency: USD}
people:
  ann: {name: Ann Hale, part: couple}
  bo: {name: Bo Lund, part: couple}
  cy: {name: Cy Lund, part: family}
agreements:
  catering:
    with: Plum and Rye
    service: catering
    standing: signed
    signed: 2026-10-02
    price: "6000.00"
    payer: cy
    pay:
      - 40% 120 days before the wedding
      - balance 14 days before the wedding
    cancel:
      - 50% until 91 days before the wedding
      - 100% after that
    change:
      - {says: final headcount 10 business days before the wedding by 17:00, for: [cy]}
appointments:
  tasting: {what: Menu tasting, on: 2027-05-08, at: "11:00", until: "12:30", for: [bo, cy]}
occasions:
  rehearsal: {what: Rehearsal, when: 1 day before the wedding, at: "17:00", until: "18:00", for: [couple, family]}
  ceremony: {what: Ceremony, when: on the day, at: "15:00", until: "15:45", for: [couple, family]}
`

const deeAndEli = `banns: 1
wedding: {title: Dee and Eli, date: 2027-10-02, start: "14:00", zone: America/Detroit, currency: USD}
people:
  dee: {name: Dee Marsh, part: couple}
  cy: {name: Cy Lund, part: family}
occasions:
  supper: {what: Supper, when: on the day, at: "19:00", until: "22:00", for: [couple, family]}
`

// TestEdits has a real client that subscribes show exactly what the plan has
// after every edit, and after a restore: nothing twice, and what was taken
// back struck.
func TestEdits(t *testing.T) {
	needClients(t)
	r := &reader{data: t.TempDir(), today: "2026-11-25", person: "cy"}
	r.save(t, annAndBo)
	r.save(t, deeAndEli)
	r.run(t, "feeds", "together", "both", "ann-and-bo/cy", "dee-and-eli/cy")
	at := freePort(t)
	serve := []string{"--data", r.data, "serve", "--listen", at, "--no-backups"}
	c := start(t, append(serve, "--today", r.today)...)
	r.subscribe(t, at)
	r.compare(t, "subscribed",
		"2027-05-21|2027-05-21|Pay Plum and Rye $2,400.00|", // 120 days before Sat 18 Sep
		"2027-09-06 16:30|2027-09-06 17:00|Plum and Rye: final headcount by 17:00|",
		"2027-09-17 17:00|2027-09-17 18:00|Rehearsal|")

	backup := filepath.Join(t.TempDir(), "b.zip")
	r.run(t, "backup", backup)
	r.today = "2026-11-26"

	r.edit(t, "date: 2027-09-18", "date: 2027-09-25")
	r.compare(t, "the date moved",
		"2027-05-28|2027-05-28|Pay Plum and Rye $2,400.00|", // 120 days before Sat 25 Sep
		"2027-09-13 16:30|2027-09-13 17:00|Plum and Rye: final headcount by 17:00|",
		"2027-09-24 17:00|2027-09-24 18:00|Rehearsal|",
		"2027-05-08 11:00|2027-05-08 12:30|Menu tasting|")

	r.edit(t, "      - {key: pay-1, says: 40% 120 days before the wedding}\n", "")
	r.compare(t, "a term was removed",
		"2027-05-28|2027-05-28|Withdrawn: Pay Plum and Rye|CANCELLED ",
		"2027-09-10|2027-09-10|Pay Plum and Rye $6,000.00|") // the banks' last day before Sat 11 Sep

	r.edit(t, `  rehearsal: {what: Rehearsal, when: 1 day before the wedding, at: "17:00", until: "18:00", for: [couple, family]}`+"\n", "")
	r.compare(t, "an occasion was cancelled",
		"2027-09-24 17:00|2027-09-24 18:00|Withdrawn: Rehearsal|CANCELLED ")

	r.person = "cyril"
	r.edit(t, "  cy: {name: Cy Lund,", "  cyril: {was: cy, name: Cyril Lund,", "payer: cy", "payer: cyril", "[cy]", "[cyril]", "[bo, cy]", "[bo, cyril]")
	r.compare(t, "a person was renamed",
		"2027-09-13 16:30|2027-09-13 17:00|Plum and Rye: final headcount by 17:00|")

	r.edit(t, "[bo, cyril]", "[bo, cyril], hide from: [cyril]")
	r.compare(t, "an item was hidden",
		"2027-05-08 11:00|2027-05-08 12:30|Withdrawn: Menu tasting|CANCELLED ")

	r.edit(t, ", hide from: [cyril]", "", "    change:\n", "    change:\n      - {says: menu choice 60 days before the wedding, for: [cyril]}\n")
	r.compare(t, "it is seen again, beside a term that is new",
		"2027-05-08 11:00|2027-05-08 12:30|Menu tasting|",
		"2027-07-27|2027-07-27|Plum and Rye: menu choice|")

	c.stop(t)
	r.today, r.person = "2026-12-01", "cy"
	r.run(t, "restore", backup)
	c = start(t, append(serve, "--today", r.today)...)
	r.compare(t, "the store was restored",
		"2027-05-21|2027-05-21|Pay Plum and Rye $2,400.00|",
		"2027-09-17 17:00|2027-09-17 18:00|Rehearsal|",
		"2027-05-08 11:00|2027-05-08 12:30|Menu tasting|",
		"2027-07-27|2027-07-27|Withdrawn: Plum and Rye: menu choice|CANCELLED ")
	c.stop(t)
}

// reader is a subscriber beside a store, who knows from "banns list" alone
// what should be shown.
type reader struct {
	*subscriber
	data   string
	today  string
	person string            // key of one family member, in Ann and Bo's wedding
	had    map[string]listed // all that was to be shown, by calendar, wedding and item
	links  map[string]string // by calendar
}

func (r *reader) run(t *testing.T, args ...string) string {
	t.Helper()
	return banns(t, r.data, 0, append(args, "--today", r.today)...)
}

func (r *reader) save(t *testing.T, plan string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "plan.yaml")
	write(t, file, plan)
	r.run(t, "import", file)
}

// edit saves Ann and Bo's plan anew, with each old text, which must be there
// once, replaced by the new one behind it.
func (r *reader) edit(t *testing.T, oldnew ...string) {
	t.Helper()
	plan := r.run(t, "export", "ann-and-bo")
	for pair := range slices.Chunk(oldnew, 2) {
		if strings.Count(plan, pair[0]) != 1 {
			t.Fatalf("%q is not once in\n%s", pair[0], plan)
		}
		plan = strings.Replace(plan, pair[0], pair[1], 1)
	}
	r.save(t, plan)
}

// subscribe subscribes to what the server at at has for one of the couple,
// for the family member, and for them of both weddings.
func (r *reader) subscribe(t *testing.T, at string) {
	t.Helper()
	r.links = map[string]string{}
	for name, list := range map[string][]string{
		"ann":  {"ann-and-bo", "--for", "ann"},
		"own":  {"ann-and-bo", "--for", "cy"},
		"both": {"both"},
	} {
		said := r.run(t, append([]string{"feeds", "list"}, list...)...)
		u, err := url.Parse(calendarLink.FindStringSubmatch(said)[1])
		if err != nil {
			t.Fatal(err)
		}
		u.Host = at
		r.links[name] = u.String()
	}
	get(t, r.links["own"], "")
	r.subscriber = subscribe(t, r.links)
}

// compare fetches all calendars and compares them with "banns list", which
// must have the lines that were counted by hand in the family member's own.
func (r *reader) compare(t *testing.T, after string, byHand ...string) {
	t.Helper()
	for name, who := range map[string]string{"ann": "ann", "own": r.person} {
		eventually(t, func() bool { // a server follows within a second
			_, served := get(t, r.links[name], "")
			return string(served) == r.run(t, "ics", "ann-and-bo", "--for", who)
		})
	}
	for name, link := range r.links {
		_, served := get(t, link, "")
		if faults := check.Calendar(served); len(faults) > 0 {
			t.Errorf("%s: %s: %v", after, name, faults)
		}
	}
	want := r.expected(t)
	for _, line := range byHand {
		if !slices.Contains(want, "own|"+line) {
			t.Errorf("%s: %q is not to be shown, but\n%s", after, line, strings.Join(want, "\n"))
		}
	}
	r.sync(t)
	shown := r.shows(t, "{calendar}|{start}|{end}|{title}|{cancelled}")
	slices.Sort(shown)
	if diff := cmp.Diff(want, shown); diff != "" {
		t.Errorf("%s, should be and is shown:\n%s", after, diff)
	}
}

// expected is what the calendars should show, sorted: what is listed now, and
// as withdrawn what was listed before.
func (r *reader) expected(t *testing.T) []string {
	t.Helper()
	var want []string
	now := map[string]listed{}
	for _, l := range []struct{ calendar, wedding, person, among string }{
		{"ann", "ann-and-bo", "ann", ""},
		{"own", "ann-and-bo", r.person, ""},
		{"both", "ann-and-bo", r.person, "Ann and Bo"},
		{"both", "dee-and-eli", "cy", "Dee and Eli"},
	} {
		var rows []row
		if err := json.Unmarshal([]byte(r.run(t, "list", l.wedding, "--for", l.person, "--json")), &rows); err != nil {
			t.Fatal(err)
		}
		for _, one := range rows {
			if one.Date != nil {
				entry := listed{calendar: l.calendar, among: l.among, row: one}
				if l.calendar == "ann" && one.Title == "Menu tasting" { // she sees it, and is not asked
					entry.others = map[string]string{"cy": "Bo Lund, Cy Lund", "cyril": "Bo Lund, Cyril Lund"}[r.person]
				}
				now[l.calendar+"|"+l.wedding+"|"+one.ID] = entry
				want = append(want, entry.shown(t, false))
			}
		}
	}
	for key, entry := range r.had {
		if _, there := now[key]; !there {
			now[key] = entry // it stays withdrawn for weeks
			want = append(want, entry.shown(t, true))
		}
	}
	r.had = now
	slices.Sort(want)
	return want
}

// listed is a row of "banns list" in a calendar; among is its wedding, where
// the calendar is of several; others are who is asked to it, where the reader
// is not.
type listed struct {
	calendar, among, others string
	row
}

// shown is the row as khal shows it.
func (l listed) shown(t *testing.T, withdrawn bool) string {
	t.Helper()
	title, struck := l.Title, ""
	switch {
	case l.Kind == milestones.KindWedding:
		title += ": the wedding"
	case l.Amount != nil && withdrawn:
	case l.Kind == milestones.KindCancelBy:
		title += " for $" + thousands(*l.Amount)
	case l.Amount != nil:
		title += " $" + thousands(*l.Amount)
	case l.Kind == milestones.KindChangeBy && l.Time != nil:
		title += " by " + *l.Time
		if l.among != "" {
			title += " Detroit time"
		}
	}
	if l.others != "" {
		title += " (for " + l.others + ")"
	}
	if l.among != "" && l.Kind != milestones.KindWedding {
		title += " (" + l.among + ")"
	}
	if withdrawn {
		title, struck = "Withdrawn: "+title, "CANCELLED "
	}
	return strings.Join([]string{l.calendar, l.span(t), title, struck}, "|")
}

// span is when the row stands in a calendar: a deadline with an hour for the
// half hour before it, anything else without an end for an hour.
func (l listed) span(t *testing.T) string {
	t.Helper()
	day := *l.Date
	if l.ActBy != nil {
		day = *l.ActBy
	}
	if l.Time == nil {
		return day + "|" + day
	}
	start, end := *l.Time, ""
	switch {
	case l.Kind == milestones.KindChangeBy:
		start, end = later(t, start, -30*time.Minute), start
	case l.Until != nil:
		end = *l.Until
	default:
		end = later(t, start, time.Hour)
	}
	return day + " " + start + "|" + day + " " + end
}

func later(t *testing.T, clock string, by time.Duration) string {
	t.Helper()
	at, err := time.Parse("15:04", clock)
	if err != nil {
		t.Fatal(err)
	}
	return at.Add(by).Format("15:04")
}

// thousands is an amount of four figures, such as 2400.00, as people write it.
func thousands(amount string) string {
	if n := len(amount) - len("000.00"); n > 0 {
		return amount[:n] + "," + amount[n:]
	}
	return amount
}
