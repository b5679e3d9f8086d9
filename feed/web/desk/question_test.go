package desk_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

func TestQuestions(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	p := b.get(atWedding+"questions", http.StatusOK)
	p.has("Sedge Line Coaches", "route and stops within 21 days of the wedding", "Sat 28 Aug 2027", "Sat 9 Oct 2027", "taken until it is settled",
		"Inkwater Press", "$0.00", "$980.00", "Or add what leaving costs to the agreement")
	p.lacks("Settled:")

	const at = atWedding + "questions/shuttle.change-1.side"
	form := b.get(at, http.StatusOK).form()
	if form.Get("on") != "2026-11-25" || form.Has("reads") {
		t.Fatalf("the form begins with %v", form)
	}
	form.Set("says", "Weeks before, of course")
	bad := b.post(at, http.StatusUnprocessableEntity, form)
	bad.has("choose one", "write who answered", `href="#reads"`, `href="#who"`, "Weeks before, of course")

	form.Set("reads", "after")
	form.Set("who", "Odile Marchbank")
	form.Set("on", "2026-02-30")
	bad = b.post(at, http.StatusUnprocessableEntity, form)
	bad.has(`id="on-fault"`, `href="#on"`, `value="2026-02-30"`)
	form.Set("on", "2026-11-24")
	b.post(at, http.StatusOK, form).has("Saved as version 2", "Settled: 1", "Settled by Odile Marchbank on Tue 24 Nov 2026", "“Weeks before, of course”")
	answers := s.plan(t).Plan.Agreements
	shuttle := answers[slices.IndexFunc(answers, func(a milestones.Agreement) bool { return a.Key == "shuttle" })]
	if got := shuttle.Change[0].Answers; len(got) != 1 || got[0].Who != "odile" || got[0].Reads != "after" {
		t.Errorf("the answer is kept as %+v", got)
	}
	b.get(atWedding+"dates", http.StatusOK).has("Fri 8 Oct") // the last open day

	// Somebody else was let to change it, and both saw the same.
	mine, theirs := b.get(at, http.StatusOK).form(), b.get(at, http.StatusOK).form()
	if mine.Get("who") != "Odile Marchbank" || mine.Get("reads") != "after" {
		t.Fatalf("the answer comes back as %v", mine)
	}
	theirs.Set("says", "Theirs")
	b.post(at, http.StatusOK, theirs).has("“Theirs”")
	mine.Set("says", "Mine")
	over := b.post(at, http.StatusUnprocessableEntity, mine)
	over.has("somebody else has changed this", "Theirs</q>", "Mine</textarea>")
	b.post(at, http.StatusOK, over.form()).has("“Mine”")

	again := url.Values{"seen": {b.get(at, http.StatusOK).form().Get("seen")}, "again": {"1"}}
	p = b.post(at, http.StatusOK, again)
	p.lacks("Settled:")
	b.get(atWedding+"questions/shuttle.change-1.midnight", http.StatusNotFound)
}

// doubtful is a plan that leaves all open that can be answered, and one line
// of which leaves several things open.
const doubtful = `banns: 1
wedding: {title: Ada and Finn, date: 2026-07-20, zone: America/Detroit, region: US-MI, currency: USD}
people:
  ada:  {name: Ada Quince, part: couple}
  finn: {name: Finn Quince, part: couple}
  lute: {name: Lou Tenn, part: vendor}
agreements:
  hall:
    with: The Hall
    service: venue
    standing: signed
    signed: 2026-02-01
    price: "900.00"
    contact: lute
    pay: [50% on signing, "balance by midnight 15 business days before the wedding", "security 100 on the wedding, back within 7 days of the wedding"]
    cancel: ["25% from 2026-03-01 to 2026-04-01", "50% from 2026-03-15 to 2026-05-01", "75% from 2026-05-10 to 2026-06-01"]
    change: ["headcount within 10 days of the wedding by midnight", "menu 400 days before the wedding"]
    papers: ["plan by midnight 14 days before the wedding"]
    postpone: once, with 15 business days' notice, for 50, to a date within 12 months
  silent: {with: The Silent, service: music, standing: signed, signed: 2026-02-01, price: "10.00", pay: [balance on the wedding]}
appointments:
  tasting: {what: Tasting, when: within 30 days of the wedding, for: [couple]}
  fitting: {what: Fitting, on: 2026-04-20, for: [ada]}
countdown:
  add: {bags: {what: Fill the bags, when: within 3 days of the wedding}}
away:
  - {who: ada, from: 2026-04-18, to: 2026-04-22}
`

// Each question there is can be answered, and taken back; one answer settles
// one question, and the others stay.
func TestEveryQuestionIsAnswered(t *testing.T) {
	s := newSite(t, doubtful)
	b := s.planner(t)
	closures, _ := conflicts.ClosuresFor("US-MI")
	open := func() map[string]string { // how each was answered
		doc, err := s.store.Load(t.Context(), "ada-and-finn")
		if err != nil {
			t.Fatal(err)
		}
		all := map[string]string{}
		for _, q := range milestones.Questions(doc.Plan, closures) {
			if q.Settles() {
				all[q.ID] = ""
				if q.Answer != nil {
					all[q.ID] = q.Answer.Reads + " " + q.Answer.Who
				}
			}
		}
		return all
	}
	name := strings.NewReplacer("/", ".", "#", ".").Replace
	before := open()
	doubts := map[string]bool{}
	for id := range before {
		_, doubt, _ := strings.Cut(id, "#")
		doubts[doubt] = true
	}
	for _, want := range []string{"side", "midnight", "business-days", "signing", "gap", "overlap", "before-the-first-step", "after-the-last-step", "leaving", "ada"} {
		if !doubts[want] {
			t.Errorf("nothing here leaves %q open: %v", want, before)
		}
	}
	answered := map[string]string{}
	for id := range before {
		if open()[id] != "" {
			t.Fatalf("%s was answered with another", id)
		}
		form := b.get(atAda+"questions/"+name(id), http.StatusOK).form()
		p := b.get(atAda+"questions/"+name(id), http.StatusOK)
		for n := range p.root.Descendants() {
			if attr(n, "name") == "reads" {
				form.Set("reads", attr(n, "value")) // the last
			}
		}
		form.Set("who", "Lou Tenn")
		b.post(atAda+"questions/"+name(id), http.StatusOK, form)
		answered[id] = form.Get("reads") + " lute"
		for one, how := range open() {
			if how != answered[one] {
				t.Fatalf("after the answer to %s, %s is answered %q and not %q", id, one, how, answered[one])
			}
		}
	}
	b.get(atAda+"questions", http.StatusOK).lacks("Write the answer")
	for id := range before {
		form := b.get(atAda+"questions/"+name(id), http.StatusOK).form()
		b.post(atAda+"questions/"+name(id), http.StatusOK, url.Values{"seen": {form.Get("seen")}, "again": {"1"}})
		delete(answered, id)
		for one, how := range open() {
			if how != answered[one] {
				t.Fatalf("after %s was taken back, %s is answered %q and not %q", id, one, how, answered[one])
			}
		}
	}
}

// A partner is asked about what they see, and about nothing else.
func TestQuestionsOfWhatIsSeen(t *testing.T) {
	s := newSite(t, replaced(t, doubtful, `"50% from 2026-03-15 to 2026-05-01"`, `{says: 50% from 2026-03-15 to 2026-05-01, hide from: [finn]}`,
		"for: [couple]}", "for: [couple], hide from: [finn]}", `"plan by midnight`, `{says: "plan by midnight`, `14 days before the wedding"`, `14 days before the wedding", hide from: [finn]}`,
		"service: music,", "service: music, hide from: [finn],"))
	finn := s.comesIn(t, "Finn", store.Invitation{Wedding: "ada-and-finn", Person: "finn"})
	p := finn.get(atAda+"questions", http.StatusOK)
	p.has("headcount", "These are the questions about what you may see")
	p.lacks("Silent", "steps hold", "Tasting", "plan by midnight", "50% from")
	for _, name := range []string{"hall.cancel-2.overlap", "hall.cancel-3.gap", "silent.leaving", "appointments.tasting.side", "hall.paper-1.midnight"} {
		finn.get(atAda+"questions/"+name, http.StatusNotFound)
		finn.post(atAda+"questions/"+name, http.StatusNotFound, url.Values{"reads": {"before"}, "who": {"x"}, "on": {"2026-11-25"}})
		s.planner(t).get(atAda+"questions/"+name, http.StatusOK)
	}
	newSite(t, adaPlan).planner(t).get(atAda+"questions", http.StatusOK).has("Nothing is open", "with the days and sums that each way gives")
}
