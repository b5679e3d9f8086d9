package desk_test

import (
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"banns/store"
	"banns/testdata"
)

const demoDesk = "/desk/w/maren-and-theo/"

// emptyPlan is a wedding of which nothing is known but its name.
const emptyPlan = "banns: 1\nwedding: {title: Ada and Finn, zone: America/Detroit, currency: USD, region: US-MI}\n"

// opened is the browser of the owner of an invented store.
func (s *site) opened(t testing.TB) *browser {
	t.Helper()
	b := s.browser(t)
	b.get("/desk/door/open-sesame", http.StatusOK)
	return b
}

// order fails where the texts do not follow each other on the page.
func (p seenPage) order(texts ...string) {
	p.t.Helper()
	at := 0
	for _, text := range texts {
		n := strings.Index(p.Text[at:], text)
		if n < 0 {
			p.t.Fatalf("%s lacks %q behind what comes before it", p.URL.Path, text)
		}
		at += n + len(text)
	}
}

func TestFrontPage(t *testing.T) {
	s := demoSite(t)
	p := s.opened(t).get(demoDesk, http.StatusOK)
	p.order("To do next", "Pay Bolt and Barrow $312.00", "What costs money if it is missed", "Money due", "Questions", "Still missing")
	p.has("late</span>: Fri 20 Nov 2026, 5 days ago. Theo Lindqvist pays.", "If it is late, they may treat it as leaving",
		"Pay Sedge Line Coaches $444.00", "due soon, in 14 days",
		"Last day to cancel Tern & Thread for $1,225.00", "After that day leaving costs $1,960.00 in all, $735.00 more.",
		"Only quoted: Slow Kettle Films, film", "Waiting for the invoice of Marram Tent and Table:",
		"2 open", `href="../../../desk/w/maren-and-theo/questions"`)
	if n := strings.Count(p.Text, "Last day to cancel"); n != 1 {
		t.Errorf("%d last days to cancel are told, and none is near", n)
	}
	// Nov: nothing more; Dec: the coaches (444.00) and the quartet (150.00).
	p.order("The couple</th>", "<td></td>", "<td>$594.00</td>", "Theo Lindqvist</th>", "$312.00</td>", "In all</th>", "<td>$312.00</td>", "<td>$0.00</td>", "<td>$594.00</td>")
}

// Whatever is late says what that may cost, in full once, and so do payments and
// papers that are due soon.
func TestFrontPageTellsWhatMissingCosts(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	const pay, paper = "they may treat it as leaving; see what the contract says.", "they may refuse to work on the day."
	late := func(p seenPage, first, second string) {
		p.order(first, "late</span>", "If it is late, "+pay, second, "The couple pays", "They may treat it as leaving.", "What costs money if it is missed")
	}
	s.pass(20 * 24 * time.Hour)
	p := b.get(demoDesk, http.StatusOK)
	late(p, "Pay Bolt and Barrow $312.00", "Pay Sedge Line Coaches $444.00")
	if n := strings.Count(p.Text, pay); n != 1 {
		t.Errorf("the cost of late payments is told in full %d times", n)
	}
	s.pass(time.Date(2027, 8, 26, 9, 0, 0, 0, time.UTC).Sub(s.now()))
	p = s.opened(t).get(demoDesk, http.StatusOK)
	p.order("What costs money if it is missed", "Pay Sedge Line Coaches $1,036.00", "If it is late, "+pay,
		"The Net Loft: certificate of insurance", "If it is missing, "+paper, "Hollow Oak Table: final headcount", "they may hold you to what was last agreed.",
		"Last day to cancel Lamplighter Pour", "After that day leaving costs", "The Net Loft: vendor arrival times", "They may refuse to work on the day.",
		"Pay Hollow Oak Table $5,322.81", "They may treat it as leaving.", "Money due")
	p.lacks("Pay Marram Tent and Table $750.00") // in 15 days
}

// What a partner is not to know is in none of their pages: not the brass, of
// which the couple pays nothing and sees nothing.
func TestFrontPageHides(t *testing.T) {
	s := demoSite(t)
	s.pass(time.Date(2027, 8, 26, 9, 0, 0, 0, time.UTC).Sub(winter)) // when the brass is near
	whole := s.opened(t).get(demoDesk+"dates", http.StatusOK)
	whole.has("Tin Gull Brass", "Run-through with the brass", "Maren's last fitting")
	maren := s.comesIn(t, "Maren", store.Invitation{Wedding: "maren-and-theo", Person: "maren"})
	for _, path := range []string{"", "dates", "dates?month=2027-09", "dates?person=bea", "dates?agreement=brass", "countdown"} {
		maren.get(demoDesk+path, http.StatusOK).lacks("Tin Gull", "brass", "Brass")
	}
	maren.get(demoDesk+"dates", http.StatusOK).has("Maren's last fitting")
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	for _, path := range []string{"", "dates", "dates?month=2027-08", "dates?person=maren", "countdown"} {
		theo.get(demoDesk+path, http.StatusOK).lacks("Maren's last fitting", "Second fitting")
	}
}

// A question about what is hidden is hidden too.
func TestFrontPageHidesQuestions(t *testing.T) {
	s := newSite(t, strings.Replace(string(testdata.Demo), "away:\n", "away:\n  - {who: priya, from: 2027-07-09, to: 2027-07-11}\n", 1))
	s.opened(t).get(demoDesk, http.StatusOK).has("3 open", "Priya Nair is away from Fri 9 Jul 2027")
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	p := theo.get(demoDesk, http.StatusOK)
	p.has("2 open")
	p.lacks("First fitting", "Priya Nair is away")
}

func TestFrontPageOfNothing(t *testing.T) {
	s := newSite(t, emptyPlan)
	p := s.opened(t).get("/desk/w/ada-and-finn/", http.StatusOK)
	p.has("The day is still open", "First steps", "Nothing falls due in Nov 2026 or Dec 2026.", "Nothing is in doubt")
	p.lacks("What costs money", "To do next", "most dates wait for it", "Nothing is late")
	want := []string{"done The wedding: Ada and Finn", "to do The day: open yet, or weigh some days first", "to do The place: or the town, while the place is open",
		"to do The first agreement: with the contract or the quote before you: whom you pay, what, and by when",
		"to do The first person: the two who marry, then whoever pays, helps or has to be somewhere",
		"to do The first phone: send somebody their link, and their calendar keeps their dates"}
	if is := p.firstSteps(); !slices.Equal(is, want) {
		t.Errorf("the first steps are %q, not %q", is, want)
	}
}

// firstSteps are those on a page, each with its mark's name.
func (p seenPage) firstSteps() (is []string) {
	for n := range p.root.Descendants() {
		if n.Data == "li" && n.Parent != nil && attr(n.Parent, "class") == "first-steps" {
			for c := range n.Descendants() {
				if c.Data == "svg" {
					is = append(is, attr(c, "aria-label")+strings.TrimRight(" "+strings.TrimSpace(text(n)), " "))
				}
			}
		}
	}
	return is
}

// step is one of the first steps on a page.
func (p seenPage) step(n int) string {
	p.t.Helper()
	all := p.firstSteps()
	if len(all) <= n {
		p.t.Fatalf("the first steps are %q", all)
	}
	return all[n]
}

// Each first step is ticked as it is taken, and leads to where it can be seen.
func TestFirstSteps(t *testing.T) {
	s := newSite(t, emptyPlan)
	b := s.opened(t)
	const at = "/desk/w/ada-and-finn/"
	take := func(seen int, sets ...store.Set) {
		if _, err := s.store.Update(t.Context(), store.Edit{Wedding: "ada-and-finn", Seen: seen, Sets: sets}, s.now()); err != nil {
			t.Fatal(err)
		}
	}
	steps := func(n int) string { return b.get(at, http.StatusOK).step(n) }
	take(1, store.Set{Path: "candidates", Value: []string{"2027-06-05", "2027-06-12"}, List: true})
	if is := steps(1); is != "begun The day: to be chosen among 2 days" {
		t.Errorf("with candidates: %q", is)
	}
	take(2, store.Set{Path: "wedding/place/city", Value: []string{"Alder Harbor"}}, store.Set{Path: "people/ada/name", Value: []string{"Ada Quince"}},
		store.Set{Path: "people/ada/part", Value: []string{"couple"}})
	if is := steps(2); is != "done The place: Alder Harbor" {
		t.Errorf("with a town: %q", is)
	}
	if is := steps(4); is != "done The first person: Ada Quince" {
		t.Errorf("with a person: %q", is)
	}
	b.get(at, http.StatusOK).has(`people/ada/link">The first phone`)
	b.get(at+"people", http.StatusOK).has("no calendar yet")
	b.get(at+"people/ada", http.StatusOK).has("No calendar has asked for these dates yet.")
	openings, err := s.store.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range openings { // of Ada, who is alone in the store
		if err := s.store.NoteAsked(t.Context(), []int64{o.Feed}, s.now()); err != nil {
			t.Fatal(err)
		}
	}
	if is := steps(5); is != "done The first phone: subscribed" {
		t.Errorf("with a phone: %q", is)
	}
	b.get(at+"people", http.StatusOK).has("subscribed")
	s.pass(15 * 24 * time.Hour)
	b.get(at+"people", http.StatusOK).has("not heard of since Wed 25 Nov 2026")
	b.get(at+"people/ada", http.StatusOK).has("last asked for these dates on Wed 25 Nov 2026. Ask whether it is still on their phone.")
	s.pass(-15 * 24 * time.Hour)

	// All done: they give way to what is to be done next.
	take(3, store.Set{Path: "agreements/hall/with", Value: []string{"The Net Loft"}}, store.Set{Path: "agreements/hall/standing", Value: []string{"quoted"}},
		store.Set{Path: "wedding/date", Value: []string{"2027-06-05"}})
	p := b.get(at, http.StatusOK)
	p.lacks("First steps", "No phone has asked")
	p.has("To do next")
}

// What falls due counts on the day to pay: Mon 30 Nov is still November's,
// Fri 1 Jan is a holiday, so that its payment is December's, and Mon 1 Feb is
// told only where nothing else is.
func TestMoneyDue(t *testing.T) {
	pay := func(lines string) string {
		return strings.Replace(shortPlan, "[25% on signing, balance 30 days before the wedding]", lines, 1)
	}
	s := newSite(t, pay("[100 on 2026-11-30, 200 on 2026-12-31, 300 on 2027-01-01, balance on 2027-02-01]"))
	s.opened(t).get(demoDesk, http.StatusOK).order("Nov 2026</th><th scope=\"col\">Dec 2026", "The couple</th>", "<td>$100.00</td>", "<td>$500.00</td>", "</tbody>")
	s = newSite(t, pay("[100 on 2027-02-01, balance on 2027-03-01]"))
	s.opened(t).get(demoDesk, http.StatusOK).has("Nothing falls due in Nov 2026 or Dec 2026. The next payment is on Mon 1 Feb 2027.")
}

// What was replaced or has ended is to be done no more, but for what is owed.
func TestWhatWasReplaced(t *testing.T) {
	s := newSite(t, strings.NewReplacer("standing: signed", "standing: replaced", "balance 30 days", "100 14 days").Replace(shortPlan))
	b := s.opened(t)
	for _, path := range []string{"", "dates"} {
		b.get(demoDesk+path, http.StatusOK).lacks("Pay The Net Loft")
	}
}

func TestAllWeddings(t *testing.T) {
	other := strings.NewReplacer("Maren and Theo", "Ada and Finn", "2027-09-18", "2027-03-06").Replace(shortPlan)
	s := newSite(t, shortPlan, other)
	p := s.opened(t).get("/desk/", http.StatusOK)
	p.order("What is due", "Late", "Pay The Net Loft $1,000.00", "Ada and Finn: The couple pays", "Pay The Net Loft $1,000.00", "Maren and Theo: The couple pays",
		"Today, Wed 25 Nov 2026", "Measuring", "Weddings", "1 late", "1 within two weeks")
	p.has("Sat 6 Mar 2027, in 101 days", "Sat 18 Sep 2027, in 297 days")
	ours := s.comesIn(t, "Maren", store.Invitation{Wedding: "maren-and-theo", Person: "maren"})
	if at := ours.get("/desk/", http.StatusOK).URL.Path; at != demoDesk {
		t.Errorf("who sees one wedding is sent to %s", at)
	}
}

// Who plans two weddings of three finds nothing of the third, wherever links
// lead.
func TestTwoWeddingsOfThree(t *testing.T) {
	other := strings.NewReplacer("Maren and Theo", "Ada and Finn", "2027-09-18", "2027-03-06").Replace(shortPlan)
	third := strings.NewReplacer("Maren and Theo", "Cleo and Sven", "The Net Loft", "The Salt Barn", "Lindqvist", "Halvorsen", "Measuring", "Haircut").Replace(shortPlan)
	s := newSite(t, shortPlan, other, third)
	s.opened(t).get("/desk/", http.StatusOK).has("Cleo and Sven", "The Salt Barn", "Haircut")
	b := s.comesIn(t, "Odile", store.Invitation{Wedding: "maren-and-theo"})
	secret, err := s.store.Invite(t.Context(), store.Invitation{Wedding: "ada-and-finn"}, winter)
	if err != nil {
		t.Fatal(err)
	}
	b.post("/desk/in/"+secret, http.StatusOK, url.Values{"name": {"Odile"}, "passphrase": {long}})
	p := b.get("/desk/", http.StatusOK)
	p.has("Maren and Theo", "Ada and Finn", "1 late")
	p.lacks("Begin another wedding")
	seen := map[string]bool{}
	for next := []string{"/desk/"}; len(next) > 0; next = next[1:] {
		at, _, _ := strings.Cut(next[0], "?")
		if at, _, _ = strings.Cut(at, "#"); seen[at] || !strings.HasPrefix(at, "/desk/") || strings.Contains(at, "/weigh/") {
			continue // each day that is weighed leads to the next
		}
		seen[at] = true
		a := b.ask(http.MethodGet, at, nil)
		if word := a.tells("Cleo", "Sven", "Salt Barn", "Halvorsen", "Haircut"); word != "" || a.status != http.StatusOK {
			t.Errorf("%s answers %d, and tells of %q", at, a.status, word)
		}
		page, err := url.Parse(at)
		if err != nil {
			t.Fatal(err)
		}
		for _, link := range regexp.MustCompile(`<a[^>]* href="([^"]*)"`).FindAllStringSubmatch(string(a.raw), -1) {
			if to, err := page.Parse(link[1]); err == nil && to.Host == "" {
				next = append(next, to.Path)
			}
		}
	}
	if len(seen) < 40 {
		t.Errorf("links lead to %d pages alone", len(seen))
	}
	for _, at := range []string{"", "people", "history", "people/theo/link"} {
		b.get("/desk/w/cleo-and-sven/"+at, http.StatusNotFound).lacks("Cleo", "Halvorsen")
	}
}

// shortPlan has one payment that is late in winter, and one appointment today.
const shortPlan = `banns: 1
wedding: {title: Maren and Theo, date: 2027-09-18, zone: America/Detroit, region: US-MI, currency: USD}
people:
  maren: {name: Maren Okafor, part: couple}
  theo: {name: Theo Lindqvist, part: couple}
  bea: {name: Bea Lindqvist, part: family}
agreements:
  venue: {with: The Net Loft, service: venue, standing: signed, signed: 2026-11-02, price: "4000.00", pay: [25% on signing, balance 30 days before the wedding]}
appointments:
  measuring: {what: Measuring, on: 2026-11-25, at: "10:00", for: theo}
`
