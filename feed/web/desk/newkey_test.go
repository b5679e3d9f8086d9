package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"banns/milestones"
	"banns/store"
)

// What Finn adds gets a key that tells nothing of what he does not see: one
// that is taken in secret makes no difference.
func TestNewKeysTellNothing(t *testing.T) {
	secret := strings.NewReplacer("agreements:\n", "  bram: {name: Bram Vane, part: vendor}\nagreements:\n",
		"    with: The Brass\n", "    with: The Brass\n    contact: bram\n").Replace(surprised)
	s := newSite(t, secret)
	finn := s.comesIn(t, "Finn", store.Invitation{Wedding: "ada-and-finn", Person: "finn"})
	finn.get(atAda+"people", http.StatusOK).lacks("Bram")
	for _, row := range []struct {
		add  string
		sent url.Values
		at   string
	}{
		{"agreement", url.Values{"agreements/+/service": {"Brass"}, "agreements/+/with": {"DJ Cole"}}, "agreements/brass-2"},
		{"agreement", url.Values{"agreements/+/service": {""}, "agreements/+/with": {"The Hall"}}, "agreements/the-hall-3"},
		{"person", url.Values{"people/+/name": {"Bram"}, "people/+/part": {"helper"}}, "people/bram-4"},
		{"person", url.Values{"people/+/name": {"Nan"}, "people/+/part": {"helper"}}, "people/nan-5"},
		{"appointment", url.Values{"appointments/+/what": {"Flight"}, "appointments/+/on": {"2027-05-02"}}, "appointments/flight-6"},
		{"occasion", url.Values{"occasions/+/what": {"Hens"}, "occasions/+/on": {"2027-05-02"}}, "occasions/hens-7"},
	} {
		form := finn.get(atAda+"add/"+row.add, http.StatusOK).filled(row.sent)
		if p := finn.post(atAda+"add/"+row.add, http.StatusOK, form); p.URL.Path != strings.TrimSuffix(atAda, "/")+"/"+row.at {
			t.Errorf("%v is kept at %s, not %s", row.sent, p.URL.Path, row.at)
		}
	}
}

// An agreement that is sent twice is kept once, until its writer says that
// they mean another.
func TestAgreementSentTwice(t *testing.T) {
	s := newSite(t, surprised)
	b := s.planner(t)
	form := b.get(atAda+"add/agreement", http.StatusOK).filled(url.Values{"agreements/+/service": {"flowers"}, "agreements/+/with": {"Wild Vetch"}, "agreements/+/pay/+1/says": {"50 on 2027-05-03"}})
	b.post(atAda+"add/agreement", http.StatusOK, form)
	p := b.post(atAda+"add/agreement", http.StatusUnprocessableEntity, form)
	p.has("this page was sent before, and the agreement with Wild Vetch was kept")
	if n := len(adaAndFinn(t, s).Agreements); n != 3 {
		t.Errorf("there are %d agreements", n)
	}
	b.post(atAda+"add/agreement", http.StatusOK, p.form())
	if n := len(adaAndFinn(t, s).Agreements); n != 4 {
		t.Errorf("there are %d agreements once another was meant", n)
	}
}

// People whom an agreement lists stand there by their names.
func TestListedByName(t *testing.T) {
	s := newSite(t, surprised)
	b := s.planner(t)
	p := b.get(atAda+"agreements/brass", http.StatusOK)
	p.has(`value="Finn Quince"`)
	b.post(atAda+"agreements/brass", http.StatusOK, p.filled(url.Values{"agreements/brass/note": {"Loud."}}))
	if a, _ := adaAndFinn(t, s).Agreement("brass"); len(a.Hide) != 1 || a.Hide[0] != "finn" {
		t.Errorf("it is hidden from %v", a.Hide)
	}
}

func adaAndFinn(t *testing.T, s *site) *milestones.Plan {
	t.Helper()
	doc, err := s.store.Load(t.Context(), "ada-and-finn")
	if err != nil {
		t.Fatal(err)
	}
	return doc.Plan
}
