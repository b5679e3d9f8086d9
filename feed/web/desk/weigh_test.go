package desk_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"

	"golang.org/x/net/html"

	"banns/store"
	"banns/testdata"
)

// townSite is the demo, with what is on in its city.
func townSite(t testing.TB, plan string) *site {
	t.Helper()
	s := newSite(t, plan)
	if _, _, err := s.store.AddSource(t.Context(), store.Source{Wedding: "maren-and-theo", Name: "alder-harbor", Body: testdata.DemoEvents}, winter); err != nil {
		t.Fatal(err)
	}
	return s
}

// seen is the text of the first element that has a class, or an id.
func (p seenPage) seen(name string) string {
	p.t.Helper()
	for n := range p.root.Descendants() {
		if n.Type == html.ElementNode && (attr(n, "id") == name || slices.Contains(strings.Fields(attr(n, "class")), name)) {
			return strings.Join(strings.Fields(textOf(n)), " ")
		}
	}
	p.t.Fatalf("%s has no %s", p.URL, name)
	return ""
}

// days are the links of a year, by the day, with what they say.
func (p seenPage) days() map[string]string {
	all := map[string]string{}
	for n := range p.root.Descendants() {
		if _, path, ok := strings.Cut(attr(n, "href"), "/weigh/"); ok && n.Data == "a" && n.Parent.Parent != nil && strings.Contains(attr(n.Parent.Parent, "class"), "weighed") {
			day, _, _ := strings.Cut(path, "?")
			all[day] = strings.Join(strings.Fields(textOf(n)), " ")
		}
	}
	return all
}

const weighPath = "/desk/w/maren-and-theo/weigh"

func TestWeighYear(t *testing.T) {
	s := townSite(t, string(testdata.Demo))
	b := s.planner(t)
	p := b.get(weighPath, http.StatusOK)
	days := p.days()
	for day, want := range map[string]string{"2027-09-18": "Sat 18 clear the wedding", "2027-09-25": "Sat 25 watch listed", "2027-10-02": "Sat 2 avoid listed", "2027-09-19": "Sun 19 clear"} {
		if days[day] != want {
			t.Errorf("%s is %q, not %q", day, days[day], want)
		}
	}
	if len(days) != 104 {
		t.Errorf("%d days are weighed, and 2027 has 104 on weekends", len(days))
	}
	for _, means := range []string{"clearnothing known speaks against it", "watchit can be done", "avoidchoose another", "blockedsomebody or something"} {
		if !strings.Contains(p.seen("legend"), means) {
			t.Errorf("the legend lacks %q: %s", means, p.seen("legend"))
		}
	}
	p.has("Weighed: Saturdays and Sundays", "What is expected is a guess", "Holidays that only US-MI keeps are not included")

	// A tradition's days count where they are asked for, and stay in the links.
	p = b.get(weighPath+"?year=2027&on=sat&mind=jewish", http.StatusOK)
	if day := p.days()["2027-07-24"]; day != "Sat 24 avoid" || days["2027-07-24"] != "Sat 24 clear" || len(p.days()) != 52 {
		t.Errorf("24 July is %q by the Jewish year, and %q without it; %d days", day, days["2027-07-24"], len(p.days()))
	}
	p.has("with Jewish days", "/weigh/2027-07-24?mind=jewish&on=sat&year=2027", "weigh?mind=jewish&on=sat&year=2028")

	// The year that runs: what is past is not weighed.
	p = b.get(weighPath+"?year=2026", http.StatusOK)
	if days := p.days(); len(days) != 37 || !strings.Contains(p.Text, "Tue 24 <span class=\"word\">past") { // 25 November to 31 December
		t.Errorf("%d days of 2026 are weighed", len(days))
	}
	b.get(weighPath+"?year=2025", http.StatusOK).has("Every day of 2025 that is asked for is past")
	b.get(weighPath+"?year=2029&on=sat", http.StatusOK).has("No event of 2029 has been read")
}

// A couple who know no more than "a Saturday in June or September" ask for
// that, in the form of the page and by a link that says so.
func TestWeighMonths(t *testing.T) {
	s := townSite(t, string(testdata.Demo))
	b := s.planner(t)
	b.get(weighPath, http.StatusOK).has(`name="month" value="jun"><label`, `name="on" value="sat" checked`, `name="year" type="number"`)
	p := b.get(weighPath+"?year=2027&month=jun&month=sep&on=sat", http.StatusOK)
	days := p.days()
	if len(days) != 8 {
		t.Errorf("June and September 2027 have eight Saturdays, not %d: %v", len(days), days)
	}
	for day := range days {
		if month := day[5:7]; month != "06" && month != "09" {
			t.Errorf("%s is shown", day)
		}
	}
	p.has("Weighed: Saturdays of June and September", "/weigh/2027-06-26?month=jun&month=sep&on=sat&year=2027", "weigh?month=jun&month=sep&on=sat&year=2028",
		`value="jun" checked`, "The best of them: ")
	p.lacks("July 2027", `value="jul" checked`)
	// From day to day it goes on where the months do.
	b.get(weighPath+"/2027-06-26?month=jun&month=sep&on=sat&year=2027", http.StatusOK).has("weigh/2027-06-19?", "weigh/2027-09-04?")
	b.get(weighPath+"/2027-06-05?month=jun&on=sat&year=2027", http.StatusOK).has("weigh/2026-06-27?", "weigh/2027-06-12?")
	// Where nothing is chosen yet, the question stands open.
	b.get(weighPath, http.StatusOK).lacks(`<details class="fold" open><summary>Weighed:`)
	open := newSite(t, "banns: 1\nwedding: {title: Maren and Theo, zone: America/Detroit, currency: USD}\npeople: {maren: {name: Maren, part: couple}}\n")
	open.planner(t).get(weighPath, http.StatusOK).has(`<details class="fold" open><summary>Weighed:`)
	// What is no month asks for nothing.
	if days := b.get(weighPath+"?year=2027&on=sat&month=juno", http.StatusOK).days(); len(days) != 52 {
		t.Errorf("a month that is none leaves %d Saturdays of 52", len(days))
	}
}

// Every reason opens to where it comes from.
func TestWeighDay(t *testing.T) {
	s := townSite(t, string(testdata.Demo))
	b := s.planner(t)
	p := b.get(weighPath+"/2027-09-25?year=2027&on=sat", http.StatusOK)
	p.has("Two Piers Marathon (Quay Street, 07:00 to 14:30) is expected on that day: streets are closed or full.", "none in 2020",
		"the latest of them in alder-harbor, line 17", "It is a guess until the organiser publishes", "Read in alder-harbor, line 45.", "Take it off the shortlist",
		"weigh/2027-09-18?on=sat&year=2027", "weigh/2027-10-02?on=sat&year=2027")
	// Beyond the first and the last day that can be asked for there are none.
	b.get(weighPath+"/1900-01-01", http.StatusOK).lacks(`rel="prev"`)
	b.get(weighPath+"/2200-12-31", http.StatusOK).lacks(`rel="next"`)
	b.get(weighPath+"/2027-09-05", http.StatusOK).has("Long weekend of Labor Day", "Worked out from the calendar")
	b.get(weighPath+"/2026-11-21", http.StatusOK).has("The day is past.", "blocked")
	// Any number of things may be on: the worst are told.
	var matches strings.Builder
	for n := range 200 {
		fmt.Fprintf(&matches, "\nMatch no %d,2027-06-05,,,,Gull Field,match,", n)
	}
	table := strings.Replace(string(testdata.DemoEvents), "\nHome match", matches.String()+"\nHome match", 1)
	if _, _, err := s.store.AddSource(t.Context(), store.Source{Wedding: "maren-and-theo", Name: "full", Body: []byte(table)}, winter); err != nil {
		t.Fatal(err)
	}
	p = b.get(weighPath+"/2027-06-05", http.StatusOK)
	if n := strings.Count(p.Text, " (Gull Field) is on that day"); n != 15 {
		t.Errorf("%d matches are told of", n)
	}
	p.has("more, none of them worse", "avoid")
	for _, day := range []string{"2027-02-29", "27", "0001-01-01", "2027-09-25x"} {
		b.get(weighPath+"/"+day, http.StatusNotFound)
	}
}

// leads are where what is told against a day leads, by what is told.
func (p seenPage) leads() map[string]string {
	all := map[string]string{}
	for n := range p.root.Descendants() {
		if n.Type != html.ElementNode || n.Data != "details" || n.Parent.Parent == nil || attr(n.Parent.Parent, "class") != "against" {
			continue
		}
		for a := range n.Descendants() {
			if a.Type == html.ElementNode && a.Data == "a" {
				all[strings.Join(strings.Fields(textOf(n.FirstChild)), " ")] = attr(a, "href")
			}
		}
	}
	return all
}

// Each reason leads to what it is about, and there it is.
func TestWeighLeads(t *testing.T) {
	s := townSite(t, guarded(t))
	b := s.planner(t)
	for _, row := range []struct{ day, says, to, has string }{
		{"2027-09-25", "Two Piers Marathon", "events#alder-harbor", "line 17"},
		{"2027-09-25", "Hanneke Dolman (officiant) is away until", "dates#away", "Hanneke Dolman"},
		{"2027-10-02", "Tin Gull Brass is closed on that day.", "agreements/brass", "Tin Gull Brass"},
		{"2027-06-26", "Suit measuring, booked for", "appointments/suit-measuring", "Suit measuring"},
		{"2027-09-18", "Sugar Plover Cakes: number of servings would fall on", "agreements/cake", "Sugar Plover Cakes"},
		{"2027-01-16", "would come", "countdown", "What to do by when"},
	} {
		to := ""
		for says, link := range b.get(weighPath+"/"+row.day, http.StatusOK).leads() {
			if strings.Contains(says, row.says) {
				to = link
			}
		}
		at, ok := strings.CutPrefix(to, "../../../../desk/w/maren-and-theo/")
		if !ok || at != row.to {
			t.Errorf("%s: %q leads to %q, want %s", row.day, row.says, to, row.to)
			continue
		}
		path, _, _ := strings.Cut("/desk/w/maren-and-theo/"+at, "#")
		b.get(path, http.StatusOK).has(row.has)
	}
	if leads := b.get(weighPath, http.StatusOK).leads(); len(leads) < 2 {
		t.Errorf("the shortlist leads to %v", leads)
	}
}

func TestShortlist(t *testing.T) {
	s := townSite(t, string(testdata.Demo))
	b := s.planner(t)
	list := func() string {
		return strings.Join(s.plan(t).At("candidates"), " ")
	}
	p := b.get(weighPath, http.StatusOK)
	if got := p.seen("compared"); strings.Index(got, "18 Sep") > strings.Index(got, "25 Sep") || strings.Index(got, "25 Sep") > strings.Index(got, "2 Oct") {
		t.Errorf("the best do not come first: %s", got)
	}
	p = b.post(weighPath+"/shortlist", http.StatusOK, url.Values{"day": {"2027-06-26"}, "asked": {"?on=sat&year=2027"}})
	if p.URL.Query().Get("on") != "sat" || list() != "2027-06-26 2027-09-18 2027-09-25 2027-10-02" {
		t.Errorf("it leads to %s, and the list is %s", p.URL, list())
	}
	p.has("Saved as version 2", "Suit measuring, booked for Sat 26 Jun 2027, and 5 more meetings after it would have to move.")
	b.post(weighPath+"/shortlist", http.StatusOK, url.Values{"day": {"2027-06-26"}, "here": {""}}) // once more changes nothing
	p = b.post(weighPath+"/shortlist", http.StatusOK, url.Values{"day": {"2027-06-26"}, "do": {"off"}, "here": {""}})
	if !strings.HasSuffix(p.URL.Path, "/weigh/2027-06-26") || list() != "2027-09-18 2027-09-25 2027-10-02" {
		t.Errorf("it leads to %s, and the list is %s", p.URL, list())
	}
	for text, fault := range map[string]string{"": "no day is chosen; choose one to put on the shortlist", "2027-02-30": `"2027-02-30" is no day of the calendar`, "2026-11-24": "Tue 24 Nov 2026 is past"} {
		p := b.post(weighPath+"/shortlist", http.StatusUnprocessableEntity, url.Values{"day": {text}})
		if p.has(fault); p.form().Get("day") != text {
			t.Errorf("%q is not kept", text)
		}
	}
	for _, day := range []string{"2027-09-18", "2027-09-25", "2027-10-02"} {
		b.post(weighPath+"/shortlist", http.StatusOK, url.Values{"day": {day}, "do": {"off"}})
	}
	b.get(weighPath, http.StatusOK).has("Here stand the days that you choose among")
	b.post(weighPath+"/share", http.StatusUnprocessableEntity, url.Values{}).has("put one on the shortlist first")
}

// Two who put days on the shortlist at the same moment both have theirs.
func TestShortlistTogether(t *testing.T) {
	s := newSite(t, string(testdata.Demo))
	b := s.planner(t)
	var all sync.WaitGroup
	for _, day := range []string{"2027-06-05", "2027-06-12"} {
		all.Go(func() {
			a := b.ask(http.MethodPost, weighPath+"/shortlist", url.Values{"day": {day}})
			if a.status != http.StatusSeeOther {
				t.Errorf("%s: %d", day, a.status)
			}
		})
	}
	all.Wait()
	if got := s.plan(t).At("candidates"); len(got) != 5 {
		t.Errorf("the list is %v", got)
	}
}

// guarded is the demo with absences and closed days on its candidates, some
// of them of an agreement that is hidden from the couple.
func guarded(t testing.TB) string {
	return replaced(t, string(testdata.Demo),
		"  - {who: kofi, from: 2027-02-13", "  - {who: hanneke, from: 2027-09-20, to: 2027-09-28}\n  - {who: kofi, from: 2027-02-13",
		"    contact: bram\n", "    contact: bram\n    closed: [2027-10-02]\n")
}

// What is shared names nobody, no agreement and no sum, and tells of nothing
// that is hidden from anybody.
func TestShared(t *testing.T) {
	s := townSite(t, guarded(t))
	b := s.planner(t)
	p := b.get(weighPath, http.StatusOK)
	p.has("Hanneke Dolman (officiant) is away until", "Tin Gull Brass is closed on that day.")
	p = b.post(weighPath+"/share", http.StatusOK, url.Values{"asked": {"?mind=jewish&on=sat&year=2027"}})
	link := p.form().Get("") // inputs without a name are not sent
	for n := range p.root.Descendants() {
		if strings.HasPrefix(attr(n, "id"), "link-") {
			link = attr(n, "value")
		}
	}
	if !strings.HasPrefix(link, s.URL+"/d/") || !strings.Contains(p.URL.RawQuery, "mind=jewish") {
		t.Fatalf("the link is %q, on %s", link, p.URL)
	}
	path := strings.TrimPrefix(link, s.URL)
	nobody := s.browser(t)
	shown := nobody.get(path, http.StatusOK)
	shown.has("Sat 18 Sep 2027", "Sat 25 Sep 2027", "Sat 2 Oct 2027", "blocked", "Somebody who is needed is away.", "Homecoming match (Gull Field", "Read in alder-harbor, line 32", "Jewish: customs vary")
	shown.lacks("Hanneke", "Dolman", "officiant", "Okafor", "Priya", "Kofi", "Lindqvist", "Tin Gull", "brass", "Sugar Plover", "Vetch", "Labor Day, Mon", "agreement", "$", "desk/", "fitting", "28 Sep", "Net Loft")
	if leads := shown.leads(); len(leads) > 0 || strings.Contains(shown.seen("compared"), "What was read in") {
		t.Errorf("it leads to %v", leads)
	}
	text := shown.seen("2027-10-02")
	if strings.Contains(text, "away") {
		t.Errorf("2 October tells of a day on which somebody hidden is closed: %s", text)
	}
	for name, value := range map[string]string{"X-Robots-Tag": "noindex", "Referrer-Policy": "no-referrer", "Cache-Control": "private, no-store"} {
		if got := shown.Head.Get(name); got != value {
			t.Errorf("%s is %q", name, got)
		}
	}
	if len(shown.Head.Values("Set-Cookie")) > 0 {
		t.Error("it sets a cookie")
	}

	// It shows the days that it was made for, as they come out now.
	b.post(weighPath+"/shortlist", http.StatusOK, url.Values{"day": {"2027-06-26"}})
	b.post("/desk/w/maren-and-theo/events/alder-harbor/remove", http.StatusOK, url.Values{})
	again := nobody.get(path, http.StatusOK)
	again.lacks("26 Jun", "Homecoming")
	again.has("No event of 2027 has been read")

	for _, bad := range []string{"/d/", "/d/" + strings.Repeat("a", store.TokenSize), path[:len(path)-1] + "a", path + "a", "/c/" + path[3:] + ".ics", "/p/" + path[3:]} {
		if bad != path {
			nobody.get(bad, http.StatusNotFound)
		}
	}
	token := strings.TrimPrefix(path, "/d/")
	b.post(weighPath+"/share/close", http.StatusOK, url.Values{"token": {token}}).lacks(token)
	closed := nobody.get(path, http.StatusGone)
	closed.has("This address was closed")
	closed.lacks("2027", "Maren")
	if strings.Contains(s.log.String(), token) {
		t.Error("the log has the token")
	}
}

// A partner does not learn from a day what is hidden from them.
func TestPartnersWeigh(t *testing.T) {
	s := townSite(t, guarded(t))
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	for _, path := range []string{weighPath, weighPath + "/2027-10-02"} {
		p := theo.get(path, http.StatusOK)
		p.has("Homecoming match")
		p.lacks("Tin Gull", "brass")
	}
}

// Where nothing is known yet there is a first step, and no fault.
func TestWeighNothingKnown(t *testing.T) {
	s := newSite(t, "banns: 1\nwedding: {title: Ada and Finn, zone: Europe/Dublin, currency: EUR}\npeople:\n  ada: {name: Ada Quince, part: couple}\n")
	b := s.planner(t)
	const at = "/desk/w/ada-and-finn/"
	p := b.get(at+"weigh", http.StatusOK)
	p.has("Here stand the days that you choose among", "Nothing is known of the city yet", "No region is given", "no latitude and longitude", "2027, day by day")
	if days := p.days(); days["2027-06-12"] != "Sat 12 clear" {
		t.Errorf("12 June is %q", days["2027-06-12"])
	}
	b.get(at+"weigh/2027-06-12", http.StatusOK).lacks("Sunset", "Nothing is known that fills")
	b.get(at+"events", http.StatusOK).has("Nothing is known of the city yet", "Add a file", "Add an address")
	b.post(at+"weigh/shortlist", http.StatusOK, url.Values{"day": {"2027-06-12"}}).has("Sat 12 Jun 2027", "Make a link")
}
