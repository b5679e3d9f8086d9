package desk_test

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"banns/milestones"
	"banns/store"
)

// atDoor is the browser of the owner of a store of invented things: no
// passphrase is reckoned.
func (s *site) atDoor(t testing.TB) *browser {
	t.Helper()
	b := s.browser(t)
	b.get("/desk/door/open-sesame", http.StatusOK)
	return b
}

// agreed is an agreement as the store has it.
func (s *site) agreed(t testing.TB, key string) *milestones.Agreement {
	t.Helper()
	doc, err := s.store.Load(t.Context(), "maren-and-theo")
	if err != nil {
		t.Fatal(err)
	}
	a, ok := doc.Plan.Agreement(key)
	if !ok {
		return nil
	}
	return a
}

const (
	theAgreements = "/desk/w/maren-and-theo/agreements"
	addAgreement  = "/desk/w/maren-and-theo/add/agreement"
)

// under is the text of the element with an id, without line breaks.
func (p seenPage) under(id string) string {
	p.t.Helper()
	for n := range p.root.Descendants() {
		if attr(n, "id") == id {
			return strings.Join(strings.Fields(text(n)), " ")
		}
	}
	p.t.Errorf("%s has no %q", p.URL, id)
	return ""
}

func text(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	all := ""
	for c := range n.ChildNodes() {
		all += text(c)
	}
	if n.Type == html.ElementNode && slices.Contains([]string{"p", "li", "div"}, n.Data) {
		all += " "
	}
	return all
}

// caterer is the two-minute test: three instalments, three steps of leaving.
var caterer = url.Values{
	"agreements/+/with":           {"Plum and Rye"},
	"agreements/+/service":        {"catering"},
	"agreements/+/signed":         {"2026-11-25"},
	"agreements/+/price":          {"12950"},
	"agreements/+/payer":          {"ada"},
	"agreements/+/pay/+1/says":    {"25% on signing"},
	"agreements/+/pay/+2/says":    {"1,500 120 days before the wedding"},
	"agreements/+/pay/+3/says":    {"balance 14 days before the wedding"},
	"agreements/+/cancel/+1/says": {"25% until 181 days before the wedding"},
	"agreements/+/cancel/+2/says": {"50% until 91 days before the wedding"},
	"agreements/+/cancel/+3/says": {"100% after that"},
}

// filled is the form of a page with more written in it.
func (p seenPage) filled(more url.Values) url.Values {
	form := p.form()
	for name, values := range more {
		if _, ok := form[name]; !ok {
			p.t.Errorf("%s has no field %q", p.URL.Path, name)
		}
		form[name] = values
	}
	return form
}

func TestWriteDownAnAgreement(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	form := b.get(addAgreement, http.StatusOK).filled(caterer)

	// What it gives, while it is typed: nothing is kept.
	p := b.post(addAgreement+"/read", http.StatusOK, form)
	for id, want := range map[string]string{
		"gives-agreements-new--price":     "The price comes to $12,950.00.",
		"gives-agreements-new--pay-new-1": "$3,237.50 Due by Wed 25 Nov 2026. due soon",
		"gives-agreements-new--pay-new-2": "$1,500.00 Due by Fri 21 May 2027. to do",
		"gives-agreements-new--pay-new-3": "$8,212.50 Due by Fri 3 Sep 2027. The contract says Sat 4 Sep 2027; banks are closed that day. to do",
		"gives-agreements-new--cancel-new-1": "To cancel, tell Plum and Rye by Fri 19 Mar 2027. The contract says Sun 21 Mar 2027; banks are closed that day. " +
			"Leaving by then costs $3,237.50 in all, counting what is already paid; after that it costs $6,475.00 in all. Leaving by then saves $3,237.50 against leaving later. only if you leave",
		"gives-agreements-new--cancel-new-3": "After the last day above, leaving costs $12,950.00 in all.",
		"gives-agreements-new--pay-new-4":    "", // catering has one usual line more, but whoever wrote some has the contract before them
		"gives-agreements-new--change-new-1": "Such as: menu choice 4 weeks before the wedding",
	} {
		if got := p.under(id); got != want {
			t.Errorf("%s gives %q, want %q", id, got, want)
		}
	}
	if s.agreed(t, "catering-2") != nil {
		t.Fatal("reading has kept it")
	}

	// A public holiday is called by its name.
	holiday := maps.Clone(form)
	holiday.Set("agreements/+/pay/+3/says", "balance on 2027-09-06")
	p = b.post(addAgreement+"/read", http.StatusOK, holiday)
	want := "$8,212.50 Due by Fri 3 Sep 2027. The contract says Mon 6 Sep 2027; banks are closed then for Labor Day. to do"
	if got := p.under("gives-agreements-new--pay-new-3"); got != want {
		t.Errorf("on Labor Day it gives %q, want %q", got, want)
	}

	// Without script, by a button.
	form.Set("do", "read")
	shown := b.post(addAgreement, http.StatusOK, form)
	shown.has("banks are closed that day", "$8,212.50")
	if got := shown.form().Get("agreements/+/pay/+2/says"); got != "1,500 120 days before the wedding" {
		t.Errorf("the line is %q after it was shown", got)
	}

	// The service gives the key, with the version: whether it was taken tells on nobody.
	form.Set("do", "save")
	kept := b.post(addAgreement, http.StatusOK, form)
	if kept.URL.Path != theAgreements+"/catering-2" || kept.URL.Query().Get("kept") != "2" {
		t.Errorf("it leads to %s", kept.URL)
	}
	a := s.agreed(t, "catering-2")
	if a == nil || a.With != "Plum and Rye" || a.Standing != milestones.Signed || a.Payer != "ada" ||
		len(a.Pay) != 3 || len(a.Cancel) != 3 || len(a.Change) != 0 || a.Postpone != nil || a.Signed.String() != "2026-11-25" {
		t.Errorf("it is kept as %+v", a)
	}
	if got := kept.under("gives-agreements-catering-2-pay-pay-3"); !strings.HasPrefix(got, "$8,212.50 Due by Fri 3 Sep 2027.") {
		t.Errorf("the kept balance gives %q", got)
	}
}

func TestQuoteHasNoStandingOfItsOwn(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	form := b.get(addAgreement+"?service=kites", http.StatusOK).filled(url.Values{
		"agreements/+/with": {"Kite Hire"}, "agreements/+/pay/+1/says": {"100 on signing"}})
	p := b.post(addAgreement+"/read", http.StatusOK, form)
	if got := p.under("gives-agreements-new--pay-new-1"); got != "$100.00 No day yet: it waits for the signing of Kite Hire. no day yet" {
		t.Errorf("a quote gives %q", got)
	}
	b.post(addAgreement, http.StatusOK, form).has("only quoted")
	if a := s.agreed(t, "kites-2"); a == nil || a.Standing != milestones.Quoted {
		t.Fatalf("it is kept as %+v", a)
	}
	b.post(addAgreement, http.StatusUnprocessableEntity, url.Values{"seen": {"2"}, "agreements/+/service": {"kites"}}).
		has("With whom: nothing is written here")
}

// TestNothingIsMissingWhileALineIsUnread asks for no payment that stands there,
// not understood yet.
func TestNothingIsMissingWhileALineIsUnread(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	form := b.get(addAgreement+"?service=kites", http.StatusOK).filled(url.Values{
		"agreements/+/with": {"Kite Hire"}, "agreements/+/price": {"800"}, "agreements/+/pay/+1/says": {"100 on 2027-06-01"},
		"agreements/+/pay/+2/says": {"the lot befor we fly"}})
	p := b.post(addAgreement+"/read", http.StatusOK, form)
	p.has("befor")
	p.lacks("come to less than the price")
	form.Set("agreements/+/pay/+2/says", "")
	b.post(addAgreement+"/read", http.StatusOK, form).has("come to less than the price")
}

func TestLineThatIsNotUnderstood(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	page := b.get(theAgreements+"/catering", http.StatusOK)
	form := page.filled(url.Values{
		"agreements/catering/pay/pay-2/says":    {"40% 120 dys before the wedding"},
		"agreements/catering/pay/+1/says":       {"250 by 2027-05-03"},
		"agreements/catering/change/+1/says":    {"high chairs 3 weeks before the weding"},
		"agreements/catering/papers/+1/says":    {"seating chart"},
		"agreements/catering/papers/+1/note":    {"kept all the same"},
		"agreements/catering/pay/pay-1/wording": {"A quarter at signature."},
	})
	p := b.post(theAgreements+"/catering/read", http.StatusOK, form)
	for id, want := range map[string]string{
		"pay-pay-2":    `"dys" is not understood here; did you mean "days"?`,
		"change-new-1": `nothing here is called "weding"; did you mean "wedding"?`,
		"papers-new-1": `"seating chart" stops too early`,
		"pay-new-1":    "$250.00 Due by Mon 3 May 2027. to do", // the others are still read
		"pay-pay-4":    "$500.00 Due by Fri 3 Sep 2027. The contract says Sat 4 Sep 2027; banks are closed that day. to do $500.00 Due back by Sat 2 Oct 2027. to come",
	} {
		if got := p.under("gives-agreements-catering-" + id); !strings.Contains(got, want) {
			t.Errorf("%s gives %q, want %q", id, got, want)
		}
	}
	before := s.agreed(t, "catering")
	refused := b.post(theAgreements+"/catering", http.StatusUnprocessableEntity, form)
	refused.has("Nothing was saved yet.", "Payment 2: ", "Change 4: ", "Paper 2: ", "$250.00")
	for name, values := range form {
		if got := refused.form().Get(name); got != values[0] {
			t.Errorf("%s was typed as %q and is now %q", name, values[0], got)
		}
	}
	if after := s.agreed(t, "catering"); len(after.Pay) != len(before.Pay) {
		t.Error("some of it was kept")
	}
	// What another agreement counts from would be in doubt.
	form = b.get(addAgreement, http.StatusOK).filled(url.Values{
		"agreements/+/pay/+1/says": {"100 by 2027-05-03"}, "agreements/+/change/+1/says": {"final headcount 3 weeks before the wedding"}})
	p = b.post(addAgreement+"/read", http.StatusOK, form)
	if got := p.under("gives-agreements-new--change-new-1"); !strings.HasPrefix(got, `with this line, in the agreement with Lamplighter Pour "final headcount" could be any of catering/change-2 or`) ||
		!strings.HasSuffix(got, "call it something else here") {
		t.Errorf("a second headcount gives %q", got)
	}
	if got := p.under("gives-agreements-new--pay-new-1"); !strings.Contains(got, "Mon 3 May 2027") && !strings.Contains(got, "No day yet") {
		t.Errorf("beside it, a payment gives %q", got)
	}
	// A sum beyond the price is said of the payments together.
	form = page.filled(url.Values{"agreements/catering/pay/+1/says": {"99,999 by 2027-05-03"}})
	got := b.post(theAgreements+"/catering/read", http.StatusOK, form).under("gives-agreements-catering-pay")
	if !strings.HasPrefix(got, "the payments come to ") {
		t.Errorf("too much gives %q", got)
	}
}

func TestChangeAnAgreement(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	// Saved as it stands, nothing changes, however the file had it.
	for _, key := range []string{"catering", "venue", "dress", "rentals", "photography", "strings", "stationery"} {
		before := s.agreed(t, key)
		b.post(theAgreements+"/"+key, http.StatusOK, b.get(theAgreements+"/"+key, http.StatusOK).form())
		after := s.agreed(t, key)
		if !slices.EqualFunc(before.Lines(), after.Lines(), func(a, b *milestones.Line) bool {
			return a.Says == b.Says && a.Key == b.Key && slices.Equal(a.For, b.For) && a.Done == b.Done
		}) || before.Price.Amount() != after.Price.Amount() || !slices.Equal(before.Dates, after.Dates) || before.Note != after.Note {
			t.Errorf("%s was %+v and is %+v", key, before, after)
		}
	}
	form := b.get(theAgreements+"/catering", http.StatusOK).filled(url.Values{
		"agreements/catering/price":               {"14800"},
		"agreements/catering/price/each":          {""},
		"agreements/catering/price/count":         {""},
		"agreements/catering/price/at least":      {""},
		"agreements/catering/price/service":       {""},
		"agreements/catering/price/tax":           {""},
		"agreements/catering/postpone/says":       {"once, for 600"},
		"agreements/catering/postpone/wording":    {"One move is allowed."},
		"agreements/catering/change/change-3/for": {"Theo, Bea Lindqvist, suit-party"},
		"agreements/catering/pay/pay-3/wording":   {"The rest is due a fortnight ahead."},
		"agreements/catering/named/1/name":        {"invoice"},
		"agreements/catering/closed":              {"2027-09-07, 2027-09-06"},
		"agreements/catering/business days":       {"mon-sat"},
	})
	b.post(theAgreements+"/catering", http.StatusOK, form).has("The rest is due a fortnight ahead.", "The price comes to $14,800.00.")
	a := s.agreed(t, "catering")
	if sum, ok := a.Price.Amount().Exact(); !ok || sum != 1480000 || a.Postpone.Wording != "One move is allowed." ||
		!slices.Equal(a.Change[2].For, []string{"theo", "bea", "suit-party"}) || len(a.Dates) != 1 || a.Dates[0].Name != "invoice" ||
		len(a.Closed) != 2 || a.BusinessDays != milestones.MonSat {
		t.Errorf("it is kept as %+v", a)
	}
	// And back to so much a head.
	form = b.get(theAgreements+"/catering", http.StatusOK).filled(url.Values{
		"agreements/catering/price": {""}, "agreements/catering/price/each": {"98"}, "agreements/catering/price/count": {"120"},
		"agreements/catering/price/service": {"22"}, "agreements/catering/price/tax": {"6"},
		"agreements/catering/named/1/name": {"arrival"}, "agreements/catering/postpone/says": {""}, "agreements/catering/postpone/wording": {""}})
	b.post(theAgreements+"/catering", http.StatusOK, form).has("The price comes to $15,208.03.")
	if a := s.agreed(t, "catering"); len(a.Dates) != 1 || a.Dates[0].Name != "arrival" || a.Postpone != nil {
		t.Errorf("it is kept as %+v", a)
	}
	form = b.get(theAgreements+"/catering", http.StatusOK).filled(url.Values{"agreements/catering/price": {"9"}})
	b.post(theAgreements+"/catering", http.StatusUnprocessableEntity, form).has("Price in one sum, in USD: there is one sum, and a price by the head")
}

func TestAgreementsList(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	p := b.get(theAgreements, http.StatusOK)
	p.has("Hollow Oak Table", "$15,208.03", "Bea Lindqvist", "Fri 26 Feb 2027", "Dishes to taste", "only quoted", "replaced", "Tin Gull Brass")
	if strings.Index(p.Text, "Lamplighter") > strings.Index(p.Text, "Wild Vetch") {
		t.Error("they are not in order of service")
	}
	empty := newSite(t, "banns: 1\nwedding: {title: Maren and Theo, date: 2027-09-18, zone: America/Detroit, currency: USD}\n")
	p = empty.atDoor(t).get(theAgreements, http.StatusOK)
	p.has("Write down the first agreement", "add/agreement?service=catering")
	p.lacks("Write down an agreement")
	b.get(theAgreements+"/nobody", http.StatusNotFound)
	b.post(theAgreements+"/nobody/read", http.StatusNotFound, nil)
}

// A surprise: Theo sees no line of it, and cannot write over one.
func TestHiddenAgreements(t *testing.T) {
	s := demoSite(t)
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	theo.get(theAgreements, http.StatusOK).lacks("Tin Gull", "brass", "Brass")
	theo.get(theAgreements+"/brass", http.StatusNotFound)
	dress := theo.get(theAgreements+"/dress", http.StatusOK)
	dress.has("Tern & Thread")
	dress.lacks("neckline", "change-1", "The contract itself")
	theo.get(theAgreements+"/dress/copies", http.StatusNotFound)
	theo.get(theAgreements+"/catering/copies", http.StatusNotFound) // though no line of it is hidden

	form := dress.form()
	form.Set("agreements/dress/change/change-1/says", "no sleeves 1 week before the wedding")
	form.Set("agreements/dress/note", "Ask for a bag.")
	theo.post(theAgreements+"/dress", http.StatusOK, form)
	form.Set("do", "away change/change-1")
	theo.post(theAgreements+"/dress", http.StatusNotFound, form)
	if a := s.agreed(t, "dress"); len(a.Change) != 1 || a.Change[0].Says != "neckline and sleeves 14 weeks before the wedding" || a.Note != "Ask for a bag." {
		t.Errorf("the hidden line is %+v", a.Change)
	}
	// What he comes near to by chance is not told to him.
	for _, says := range []string{"tune 2 days before brass-run-thruogh", "tune with brass/tune for the last sonk", "tune on last-sonng"} {
		form := theo.get(addAgreement, http.StatusOK).filled(url.Values{"agreements/+/with": {"Kite Hire"}, "agreements/+/change/+1/says": {says}})
		for path, status := range map[string]int{"/read": http.StatusOK, "": http.StatusUnprocessableEntity} {
			p := theo.post(addAgreement+path, status, form)
			p.lacks("brass-run-through", "last-song", "last song", "Brass")
			if path == "/read" && !strings.Contains(p.under("gives-agreements-new--change-new-1"), "nothing here is called") {
				t.Errorf("%q gives %q", says, p.under("gives-agreements-new--change-new-1"))
			}
		}
	}
	// Whoever hides an agreement from themselves is led back to the list.
	form = theo.get(theAgreements+"/suits", http.StatusOK).filled(url.Values{"agreements/suits/hide from": {"theo"}})
	if p := theo.post(theAgreements+"/suits", http.StatusOK, form); p.URL.Path != theAgreements+"/" {
		t.Errorf("it leads to %s", p.URL)
	}
}

// Two write at once: what both changed is asked about, and a line that one
// took away can still be kept by the other.
func TestTwoWriteAtOnce(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	first := b.get(theAgreements+"/catering", http.StatusOK)
	theirs := first.filled(url.Values{"agreements/catering/note": {"Theirs."}})
	theirs.Set("do", "away papers/paper-1")
	b.post(theAgreements+"/catering", http.StatusOK, theirs)

	mine := first.filled(url.Values{"agreements/catering/note": {"Mine."}, "agreements/catering/pay/pay-2/says": {"41% 120 days before the wedding"}})
	p := b.post(theAgreements+"/catering", http.StatusUnprocessableEntity, mine)
	p.has("somebody else has changed this meanwhile", "Theirs.")
	b.post(theAgreements+"/catering", http.StatusOK, p.form())
	if a := s.agreed(t, "catering"); a.Note != "Mine." || len(a.Papers) != 0 || !strings.HasPrefix(a.Pay[1].Says, "41%") {
		t.Errorf("it is kept as %+v", a)
	}

	mine = first.filled(url.Values{"agreements/catering/papers/paper-1/says": {"meal list 4 business days after final headcount"}})
	p = b.post(theAgreements+"/catering", http.StatusUnprocessableEntity, mine)
	p.has("somebody has taken a line away that you changed")
	b.post(theAgreements+"/catering", http.StatusOK, p.form())
	if a := s.agreed(t, "catering"); len(a.Papers) != 1 || !strings.HasPrefix(a.Papers[0].Says, "meal list 4") || a.Papers[0].Key == "paper-1" || a.Note != "Mine." {
		t.Errorf("the lines are %q of key %q, beside the note %q", a.Papers[0].Says, a.Papers[0].Key, a.Note)
	}
}

func TestQuestionsStandAtTheirLines(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	p := b.get(theAgreements+"/shuttle", http.StatusOK)
	if got := p.under("gives-agreements-shuttle-change-change-1"); !strings.Contains(got, "does not say which side it means") ||
		!strings.Contains(got, "Sat 28 Aug 2027: at the latest 21 days before the wedding (taken meanwhile)") || !strings.Contains(got, "Sat 9 Oct 2027: at the latest 21 days after") {
		t.Errorf("it gives %q", got)
	}
	p.has(`href="../questions"`)
	if got := b.get(theAgreements+"/stationery", http.StatusOK).under("gives-agreements-stationery"); !strings.Contains(got, "says nothing about leaving it") || !strings.Contains(got, "$980.00: leaving costs the whole price") {
		t.Errorf("stationery is asked %q", got)
	}
}
