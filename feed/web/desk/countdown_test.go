package desk_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"banns/store"
	"banns/testdata"
)

func TestCountdown(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	p := b.get(demoDesk+"countdown", http.StatusOK)
	p.order("Planned from Mon 10 Aug 2026", "July 2027</h3>", "Sat 17 Jul", "to do, can slip 21 days", "Post the invitations", "The couple; it holds everything up",
		"to do, cannot slip", "Draw up the seating plan", "Fern Castelow, Jonah Okafor", "Done: 3",
		"What holds everything up", "21 days can be lost along the way", "Last day to apply", "Tue 14 Sep 2027", "ask it before you rely on these days",
		"Left out", "Hold the engagement party", "Already in the plan", "Choose the menu: Hollow Oak Table: menu choice, Tue 20 Jul 2027")
	p.lacks("too few", "Late</h3>")
	b.get(demoDesk+"countdown/none", http.StatusNotFound)
	b.post(demoDesk+"countdown/none/drop", http.StatusNotFound, nil)
}

// In one long evening: ticked off, moved, left out and brought back.
func TestKeepTheCountdown(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	b.post(demoDesk+"countdown/rings/tick", http.StatusOK, nil).has("Done: 4")
	if got := s.plan(t).At("countdown/done/rings"); !slices.Equal(got, []string{"2026-11-25"}) {
		t.Errorf("the rings were bought on %v", got)
	}
	const path = demoDesk + "countdown/invitations"
	form := b.get(path, http.StatusOK).form()
	form.Set("countdown/move/invitations", "9 weeks before the weding")
	b.post(path, http.StatusUnprocessableEntity, form).has(`href="#countdown-move-invitations"`, "did you mean")
	form.Set("countdown/move/invitations", "10 weeks before the wedding")
	b.post(path, http.StatusOK, form).has("Sat 10 Jul 2027")
	form = b.get(path, http.StatusOK).form()
	form.Set("countdown/move/invitations", "")
	b.post(path, http.StatusOK, form)
	form = b.get(path, http.StatusOK).form()
	form.Set("do", "done")
	for value, says := range map[string]string{"": "Write the day on which it was.", "soon": `"soon" is no day of the calendar; write it as 2027-09-18`} {
		form.Set("step/done/on", value)
		b.post(path, http.StatusUnprocessableEntity, form).has("Nothing was saved yet", `href="#step-done-on"`, says)
	}
	form.Set("step/done/on", "2026-11-24")
	form.Set("countdown/move/invitations", "11 weeks before the wedding") // typed beside, it is kept too
	p := b.post(path, http.StatusOK, form)
	p.has("settled</span>: Tue 24 Nov 2026", "Undo: done on Tue 24 Nov 2026")
	p.lacks("It was done</summary>")
	form = p.form()
	form.Set("do", "undo")
	p = b.post(path, http.StatusOK, form)
	p.has("It was done</summary>", `name="step/done/on" type="date" value="2026-11-25"`)
	p.lacks("Undo:")
	if done, moved := s.plan(t).At("countdown/done/invitations"), s.plan(t).At("countdown/move/invitations"); done != nil || !slices.Equal(moved, []string{"11 weeks before the wedding"}) {
		t.Errorf("the invitations were posted on %v, and are moved to %v", done, moved)
	}
	form = p.form()
	form.Set("do", "gone")
	b.post(path, http.StatusNotFound, form)

	b.post(demoDesk+"countdown/place-cards/drop", http.StatusOK, nil).has("Bring it back: Write the place cards")
	b.get(demoDesk+"countdown/place-cards", http.StatusNotFound)
	b.post(demoDesk+"countdown/welcome-bags/drop", http.StatusOK, nil).has("Bring it back: Fill the welcome bags")
	b.post(demoDesk+"countdown/place-cards/back", http.StatusOK, nil).lacks("Bring it back: Write the place cards")
	b.post(demoDesk+"countdown/engagement-party/back", http.StatusOK, nil)
	b.post(demoDesk+"countdown/welcome-bags/back", http.StatusOK, nil).lacks("Bring it back: Fill")
	if got := s.plan(t).At("countdown/drop"); !slices.Equal(got, []string{"first-fitting", "second-fitting", "last-fitting"}) {
		t.Errorf("still left out are %v", got)
	}
}

func TestAddToTheCountdown(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	const path, at = demoDesk + "add/milestone", "countdown/add/+/"
	form := b.get(path, http.StatusOK).form()
	form.Set(at+"what", "Wrap the favors")
	form.Set(at+"when", "5 days before the wedding")
	form.Set(at+"takes", "a while")
	form[at+"after"] = []string{"", "count"}
	form[at+"for"] = []string{"", "setup"}
	p := b.post(path, http.StatusUnprocessableEntity, form)
	p.has(`href="#countdown-add-new--takes"`, "write it as 1 day or 2 weeks")
	form = p.form()
	form.Set(at+"takes", "1 day")
	p = b.post(path, http.StatusOK, form)
	p.has("Wrap the favors</h1>", "Mon 13 Sep 2027", "It waits for the number of guests", "Setup.")
	form = p.form()
	done := strings.TrimPrefix(p.URL.Path, demoDesk+"countdown/")
	form.Set("do", "done")
	form.Set("step/done/on", "2026-11-20")
	form.Set("countdown/add/"+done+"/note", "In blue paper")
	b.post(p.URL.Path, http.StatusOK, form).has("settled", "In blue paper")
	if m := s.plan(t).Plan.Countdown.Add; m[len(m)-1].What != "Wrap the favors" || !slices.Equal(m[len(m)-1].After, []string{"count"}) {
		t.Errorf("the plan has %+v", m[len(m)-1])
	}
}

// Late ones say what gives, and planning anew is one edit.
func TestPlanAnew(t *testing.T) {
	s := demoSite(t)
	s.pass(time.Date(2027, 8, 20, 9, 0, 0, 0, time.UTC).Sub(winter))
	b := s.opened(t)
	p := b.get(demoDesk+"countdown", http.StatusOK)
	p.has("should have been done by now", `value="2027-08-20"`)
	form := p.form()
	p = b.post(demoDesk+"countdown", http.StatusOK, form)
	p.has("Planned from Fri 20 Aug 2027")
	p.order("Late</h3>", "days too late", "Post the invitations", "What would give: ")
	p.has("2 should have been done by now") // the invitations and the insurance, which have days of their own
	b.post(demoDesk+"countdown", http.StatusUnprocessableEntity, url.Values{"seen": {"2"}, "countdown/planning from": {"soon"}}).has("Nothing was saved yet", `value="soon"`)
}

func TestCountdownFromNothing(t *testing.T) {
	s := newSite(t, emptyPlan)
	b := s.opened(t)
	const path = "/desk/w/ada-and-finn/"
	p := b.get(path+"countdown", http.StatusOK)
	p.has("No countdown yet", "The plan does not say yet how your office gives the licence", "<button>Begin</button>")
	b.post(path+"countdown", http.StatusOK, p.form()).has("Planned from Wed 25 Nov 2026", "Without a day yet", "waits for the wedding date")
	b.get(path, http.StatusOK).has("First steps", "The first agreement")

	form := b.get(path+"licence", http.StatusOK).form()
	form.Set("licence/office", "Alder County Clerk")
	form.Set("licence/waits", "a while")
	b.post(path+"licence", http.StatusUnprocessableEntity, form).has(`href="#licence-waits"`, "Alder County Clerk")
	form.Set("licence/waits", "3 days")
	form.Set("licence/lasts", "33 days")
	b.post(path+"licence", http.StatusOK, form).has("once the wedding has its day", "ask it before you rely on these days")
	day := b.get(path+"day", http.StatusOK).form()
	day.Set("wedding/date", "2027-09-18")
	b.post(path+"day", http.StatusOK, day)
	b.get(path+"licence", http.StatusOK).has("Tue 14 Sep 2027", "does not say whether the 3 days of waiting", "ask how many days it gives")
}

// Theo sees neither a milestone that is hidden from him, nor what of the plan
// stands for one, nor the chain.
func TestHiddenMilestones(t *testing.T) {
	plan := strings.Replace(string(testdata.Demo), "  add:\n", "  add:\n    his-watch: {what: Have the watch engraved, when: 8 weeks before the wedding, hide from: [theo]}\n", 1)
	s := newSite(t, plan)
	s.opened(t).get(demoDesk+"countdown/his-watch", http.StatusOK).has("Have the watch engraved")
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	theo.get(demoDesk+"countdown/his-watch", http.StatusNotFound)
	theo.post(demoDesk+"countdown/his-watch", http.StatusNotFound, url.Values{"countdown/add/his-watch/what": {"x"}})
	for _, do := range []string{"tick", "drop", "back"} {
		theo.post(demoDesk+"countdown/his-watch/"+do, http.StatusNotFound, nil)
	}
	theo.get(demoDesk+"countdown", http.StatusOK).lacks("watch", "last fitting, Sat", "Already in the plan", "What holds everything up")
	theo.get(demoDesk+"add/milestone", http.StatusOK).lacks("watch")
}
