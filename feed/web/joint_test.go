package web_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"banns/feed"
	"banns/feed/check"
	"banns/store"
)

// elsewherePlan is another wedding that the demo's planner coordinates, in
// another zone.
const elsewherePlan = `banns: 1
wedding: {title: Ida and Ivo, date: 2027-09-25, start: "15:00", zone: Europe/Dublin, currency: EUR}
people:
  ida:   {name: Ida Rook, part: couple}
  ivo:   {name: Ivo Rook, part: couple}
  odile: {name: Odile Marsh, part: planner}
agreements:
  food:
    with: The Copper Ladle
    service: catering
    standing: signed
    signed: 2026-10-02
    price: "1200.00"
    pay:
      - {key: p1, says: balance 14 days before the wedding}
    change:
      - {key: c1, says: "final headcount 10 business days before the wedding by 17:00"}
appointments:
  tasting: {what: Tasting, on: 2027-09-03, at: "11:00", until: "12:30", place: The Copper Ladle}
  secret:  {what: Sword dance, on: 2027-09-04, at: "18:00", for: [ivo], hide from: [planner]}
`

// jointSite serves the demo and other weddings, and their planner's joint
// feed as "joint".
func jointSite(t testing.TB, others ...string) *site {
	t.Helper()
	s := demoSite(t)
	who := []store.Pair{{Wedding: s.name, Person: "odile"}}
	for _, plan := range others {
		who = append(who, store.Pair{Wedding: s.take(t, s.store, plan), Person: "odile"})
	}
	j, err := s.store.Together(t.Context(), "Odile’s weddings", "", who, winter)
	if err != nil {
		t.Fatal(err)
	}
	s.tokens["joint"] = j.Token
	return s
}

func TestJointPage(t *testing.T) {
	s := jointSite(t, elsewherePlan)
	s.goTo(august)
	d := read(t, get(t, s.page("joint")).wants(t, 200))
	for selector, want := range map[string]string{
		"h1":                    "Odile’s weddings",
		"title":                 "Odile’s weddings",
		"header .wedding":       "2 weddings; the next is Maren and Theo, Sat 18 Sep 2027",
		"footer .asof":          "As of Wed 25 Aug 2027, 13:00 (UTC), revision 1.",
		"fieldset > .means":     "This is for the calendar of this page alone. One that you keep of a single wedding has its own choice, on its own page.",
		".screen .qr title, h1": "Odile’s weddings",
	} {
		if got := d.one(t, selector); got != want {
			t.Errorf("%s says %q, want %q", selector, got, want)
		}
	}
	rows := d.all("section > .dates > .date")
	for _, want := range []string{
		"Fri 3 Sep to attend Tasting 11:00 to 12:30 Dublin time, The Copper Ladle Ida and Ivo",
		"Fri 3 Sep due soon Pay Hollow Oak Table $5,322.81 Due by Fri 3 Sep 2027.",
		"Mon 13 Sep to do The Copper Ladle: final headcount by 17:00 Dublin time Due by Mon 13 Sep 2027, 17:00 Dublin time.",
		"Thu 2 Sep due soon Hollow Oak Table: final headcount by 17:00 Detroit time",
		"Sat 25 Sep to attend Ida and Ivo: the wedding 15:00 Dublin time",
		"Sat 18 Sep to attend Maren and Theo: the wedding 16:30 Detroit time",
	} {
		if !slices.ContainsFunc(rows, func(row string) bool { return strings.HasPrefix(row, want) }) {
			t.Errorf("no date says %q", want)
		}
	}
	for _, row := range d.all(".date") {
		if n := strings.Count(row, "Ida and Ivo") + strings.Count(row, "Maren and Theo"); n == 0 {
			t.Errorf("%q does not say which wedding it is of", row)
		}
	}
	for _, where := range d.all(".date > .what > .where:last-child") {
		if where == "Maren and Theo" || where == "Ida and Ivo" {
			return
		}
	}
	t.Error("no line names its wedding by itself")
}

// In one zone, hours name no city; the page says once whose they are.
func TestJointPageOfOneZone(t *testing.T) {
	s := jointSite(t, strings.Replace(elsewherePlan, "Europe/Dublin", "America/Detroit", 1))
	s.goTo(august)
	d := read(t, get(t, s.page("joint")).wants(t, 200))
	if got := d.one(t, "[aria-labelledby=coming] > .note:not(.opens)"); got != "Hours are those of Detroit, unless another city stands beside them." {
		t.Errorf("the note on hours says %q", got)
	}
	if all := strings.Join(d.all(".date"), "\n"); strings.Contains(all, "Detroit time") || !strings.Contains(all, "final headcount by 17:00") {
		t.Error("hours name their city")
	}
	if got, want := d.one(t, "footer .asof"), "As of Wed 25 Aug 2027, 09:00 (Detroit), revision 1."; got != want {
		t.Errorf("says %q, want %q", got, want)
	}
	s.goTo(time.Date(2028, 1, 1, 0, 0, 0, 0, time.UTC))
	if got := read(t, get(t, s.page("joint"))).one(t, "header .wedding"); got != "2 weddings" {
		t.Errorf("when all are over it says %q", got)
	}
}

// What is hidden from the planner in one wedding, and all of a wedding that
// the feed does not carry, changes nothing of it.
func TestHiddenFromTheJointFeed(t *testing.T) {
	for name, edit := range map[string]func(*site){
		"nothing":   func(*site) {},
		"a secret":  func(s *site) { s.take(t, s.store, strings.Replace(elsewherePlan, "2027-09-04", "2027-09-05", 1)) },
		"a removal": func(s *site) { s.take(t, s.store, elsewherePlan[:strings.Index(elsewherePlan, "  secret:")]) },
		"a wedding": func(s *site) { s.take(t, s.store, strings.Replace(elsewherePlan, "Ida and Ivo", "Jo and Kit", 1)) },
	} {
		s := jointSite(t, elsewherePlan)
		before := served(t, s, "joint")
		edit(s)
		s.serve(t, "")
		after := served(t, s, "joint")
		for part := range before {
			if after[part] != before[part] {
				t.Errorf("%s shows in the %s:\n%s", name, part, difference(before[part], after[part]))
			}
		}
		if said := strings.Join([]string{after["page"], after["calendar"]}, ""); strings.Contains(said, "Sword dance") || strings.Contains(said, "Jo and Kit") ||
			!strings.Contains(said, "Copper Ladle") {
			t.Errorf("%s: the planner reads what is not hers", name)
		}
	}
}

// Choices of one page are not those of another, and a closed address is.
func TestJointFeedOverHTTP(t *testing.T) {
	s := jointSite(t, elsewherePlan)
	own := served(t, s, "odile")
	tag := get(t, s.calendar("joint")).wants(t, 200).Header.Get("Etag")
	get(t, s.calendar("joint"), "If-None-Match", tag).wants(t, http.StatusNotModified)
	ask(t, http.MethodPost, s.page("joint")+"/reminders", "reminders=notice", formType...).wants(t, http.StatusSeeOther)
	body := get(t, s.calendar("joint"), "If-None-Match", tag).wants(t, 200).body
	for _, fault := range check.Calendar([]byte(body)) {
		t.Error(fault)
	}
	if flat := strings.ReplaceAll(body, "\r\n ", ""); strings.Contains(flat, "VALARM") || !strings.Contains(flat, "SUMMARY:By Mon 13 Sep\\, 17:00 Dublin time: The Copper Ladle: final headcount (Ida and Ivo)\r\n") {
		t.Error("its early notices are missing, or there are alarms")
	}
	if got := read(t, get(t, s.page("joint")+"?kept")).one(t, "input[checked] + label"); got != "An early notice" {
		t.Errorf("chosen is %q", got)
	}
	for part, was := range own {
		if is := served(t, s, "odile")[part]; is != was {
			t.Errorf("her own %s changed:\n%s", part, difference(was, is))
		}
	}
	if err := s.store.RevokeJoint(t.Context(), "Odile’s weddings", false, winter); err != nil {
		t.Fatal(err)
	}
	s.serve(t, "")
	get(t, s.calendar("joint")).wants(t, http.StatusGone)
	get(t, s.page("joint")).wants(t, http.StatusGone)
	get(t, s.page("odile")).wants(t, 200)
}

// A calendar that is too long for some phones is told in the log, by its
// name.
func TestTooLongIsLogged(t *testing.T) {
	plan := strings.Replace(elsewherePlan, "appointments:\n", "appointments:\n"+longAppointments(700), 1)
	s := jointSite(t, plan)
	body := get(t, s.calendar("joint")).wants(t, 200).body
	if len(body) <= feed.MostBytes {
		t.Fatalf("it has %d bytes: nothing is proved", len(body))
	}
	if log := s.log.String(); !strings.Contains(log, "larger than some phones take") || !strings.Contains(log, "whose=odile-s-weddings") {
		t.Errorf("the log says %q", log)
	}
}

func longAppointments(n int) string {
	var b strings.Builder
	for i := range n {
		day := winter.AddDate(0, 1, i)
		b.WriteString("  a" + day.Format("20060102") + ": {what: " + strings.Repeat("Long ", 160) + ", on: " + day.Format("2006-01-02") + "}\n")
	}
	return b.String()
}
