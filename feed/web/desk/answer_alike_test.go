package desk_test

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

// answered is how the questions of a plan were answered that begin so.
func (s *site) answered(t *testing.T, wedding, like string) map[string]string {
	t.Helper()
	doc, err := s.store.Load(t.Context(), wedding)
	if err != nil {
		t.Fatal(err)
	}
	closures, _ := conflicts.ClosuresFor(doc.Plan.Wedding.Region)
	all := map[string]string{}
	for _, q := range milestones.Questions(doc.Plan, closures) {
		if a := q.Answer; a != nil && strings.Contains(q.ID, like) {
			all[q.ID] = a.Reads + ", " + a.Who + ", " + a.On.String() + ", " + a.Says
		}
	}
	return all
}

// answering is the form of an answer, filled in: of a choice, what was chosen
// is a field of its own.
func answering(p seenPage, with url.Values) url.Values {
	form := p.form()
	maps.Copy(form, with)
	return form
}

// One answer settles the lines that are ticked, each by an answer of its own.
func TestOneAnswerForManyLines(t *testing.T) {
	s := newSite(t, doubtful)
	b := s.planner(t)
	const at = atAda + "questions/hall.pay-2.midnight"
	p := b.get(at, http.StatusOK)
	p.has("headcount within 10 days of the wedding by midnight (Fri 10 Jul 2026, 00:00, or Fri 10 Jul 2026, 23:59)", "plan by midnight 14 days before the wedding")
	p.lacks("menu 400 days")
	says := url.Values{"reads": {"end of day"}, "who": {"Lou Tenn"}, "on": {"2026-02-30"}, "says": {"At the day’s end, always"},
		"too": {"hall.change-1.midnight", "hall.paper-1.midnight"}}
	bad := b.post(at, http.StatusUnprocessableEntity, answering(p, says))
	bad.has(`href="#on"`)
	if n := strings.Count(bad.Text, `href="#on"`); n != 1 {
		t.Errorf("one fault is told %d times", n)
	}
	if got := bad.form()["too"]; !slices.Equal(slices.DeleteFunc(got, func(v string) bool { return v == "" }), says["too"]) {
		t.Errorf("of what was ticked, %v is left", got)
	}
	says.Set("on", "2026-03-01")
	b.post(at, http.StatusOK, answering(bad, says)).has("Settled: 3")
	const want = "end of day, lute, 2026-03-01, At the day’s end, always"
	got := s.answered(t, "ada-and-finn", "midnight")
	for _, id := range []string{"hall/pay-2#midnight", "hall/change-1#midnight", "hall/paper-1#midnight"} {
		if got[id] != want {
			t.Errorf("%s is answered by %q", id, got[id])
		}
	}
	doc, err := s.store.Load(t.Context(), "ada-and-finn")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"pay/pay-2", "change/change-1", "papers/paper-1"} {
		if reads := doc.At("agreements/hall/" + line + "/answer/reads"); !slices.Equal(reads, []string{"end of day"}) {
			t.Errorf("%s has %v on its own line", line, reads)
		}
	}

	// What was settled together is changed together, unless a tick is taken out.
	p = b.get(at, http.StatusOK)
	says = url.Values{"reads": {"start of day"}, "too": {"", "hall.paper-1.midnight"}}
	b.post(at, http.StatusOK, answering(p, says))
	got = s.answered(t, "ada-and-finn", "midnight")
	if !strings.HasPrefix(got["hall/paper-1#midnight"], "start") || !strings.HasPrefix(got["hall/change-1#midnight"], "end") {
		t.Errorf("they are answered %v", got)
	}

	// When a deposit comes back is asked by a name of its own, and a line that
	// has an answer already keeps it.
	const side = atAda + "questions/hall.change-1.side"
	says = url.Values{"reads": {"after"}, "who": {"Lou Tenn"}, "on": {"2026-03-01"}, "too": {"hall.pay-3.back.side"}}
	b.post(side, http.StatusOK, answering(b.get(side, http.StatusOK), says))
	got = s.answered(t, "ada-and-finn", "hall/")
	if !strings.HasPrefix(got["hall/pay-3/back#side"], "back after, lute") || !strings.HasPrefix(got["hall/change-1#side"], "after, lute") || got["hall/change-1#midnight"] != want {
		t.Errorf("they are answered %v", got)
	}
	b.get(atAda+"questions/appointments.tasting.side", http.StatusOK).has("Fill the bags: within 3 days of the wedding")
}

// A line that the visitor does not see is not among those to be settled.
func TestOneAnswerForNoHiddenLine(t *testing.T) {
	s := newSite(t, strings.Replace(doubtful, `papers: ["plan by midnight 14 days before the wedding"]`,
		`papers: [{says: "plan by midnight 14 days before the wedding", hide from: [finn]}]`, 1))
	s.planner(t)
	finn := s.comesIn(t, "Finn", store.Invitation{Wedding: "ada-and-finn", Person: "finn"})
	const at = atAda + "questions/hall.pay-2.midnight"
	p := finn.get(at, http.StatusOK)
	p.has("headcount within 10 days")
	p.lacks("plan by midnight", "hall.paper-1")
	says := url.Values{"reads": {"end of day"}, "who": {"Lou Tenn"}, "on": {"2026-03-01"}, "too": {"hall.paper-1.midnight"}}
	finn.post(at, http.StatusOK, answering(p, says))
	if got := s.answered(t, "ada-and-finn", "hall/paper"); len(got) > 0 {
		t.Errorf("what is hidden from whoever answered is settled: %v", got)
	}
}
