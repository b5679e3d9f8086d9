package desk_test

import (
	"net/http"
	"strings"
	"testing"

	"banns/store"
)

// An owner begins weddings at the desk: nothing but a name and a clock is
// asked for, and what else is known is kept.
func TestBeginAWedding(t *testing.T) {
	s := newSite(t)
	b := s.opened(t)
	p := b.get("/desk/", http.StatusOK) // it leads to where the first is begun
	p.has("The first wedding")
	p.lacks("All weddings")

	form := p.form()
	form.Set("wedding/place/name", "The Net Loft")
	form.Set("wedding/region", "Michigander")
	wrong := b.post("/desk/new", http.StatusUnprocessableEntity, form)
	wrong.has("the wedding has no name yet", "which clock the hours are of is not said", "the currency is not said", `"Michigander" is no country, state or province that is known by name`, `value="Michigander"`, "Nothing was saved yet", `value="The Net Loft"`)

	form = wrong.form()
	form.Set("wedding/title", "Ada and Finn")
	form.Set("wedding/zone", "Amerika/Detroit")
	form.Set("wedding/region", "Michigan")
	form["candidates"] = []string{"2027-06-12", "", "2027-06-05"}
	wrong = b.post("/desk/new", http.StatusUnprocessableEntity, form)
	wrong.has(`"Amerika/Detroit" is no time zone`, `value="2027-06-12"`, `value="2027-06-05"`)

	form = wrong.form()
	form.Set("wedding/zone", "detroit")
	form["candidates"] = []string{"2027-06-12", "", "2027-06-05"}
	begun := b.post("/desk/new", http.StatusOK, form)
	begun.has("Ada and Finn", "Saved as version 1", "to be chosen among 2 days", "The Net Loft")
	if at := begun.URL.Path; at != "/desk/w/ada-and-finn/" {
		t.Errorf("it leads to %s", at)
	}
	doc, err := s.store.Load(t.Context(), "ada-and-finn")
	if err != nil {
		t.Fatal(err)
	}
	w := doc.Plan.Wedding
	if !w.Date.IsZero() || w.Currency != "USD" || w.Region != "US-MI" || w.Zone != "America/Detroit" || w.Place.Name != "The Net Loft" || len(doc.Plan.Candidates) != 2 {
		t.Errorf("it is kept as %+v, to be chosen among %v", w, doc.Plan.Candidates)
	}

	// Sent twice, it begins one; another of the same name is another.
	b.post("/desk/new", http.StatusOK, form).has("Ada and Finn")
	form.Set("id", b.get("/desk/new", http.StatusOK).form().Get("id"))
	form.Set("wedding/region", "IE")
	form.Del("candidates")
	form.Set("wedding/date", "2027-08-07")
	if at := b.post("/desk/new", http.StatusOK, form).URL.Path; at != "/desk/w/ada-and-finn-2/" {
		t.Errorf("the second leads to %s", at)
	}
	if doc, err = s.store.Load(t.Context(), "ada-and-finn-2"); err != nil || doc.Plan.Wedding.Currency != "EUR" || doc.Plan.Wedding.Date.String() != "2027-08-07" {
		t.Errorf("the second is kept as %+v: %v", doc.Plan.Wedding, err)
	}
	all := b.get("/desk/", http.StatusOK)
	all.has("Begin another wedding")
	if n := strings.Count(all.Text, `<li class="lack">`); n != 2 {
		t.Errorf("%d weddings, not 2", n)
	}
	form.Set("id", "../../etc")
	b.post("/desk/new", http.StatusBadRequest, form)

	// A country whose holidays are not known is taken, and that is said where
	// days are weighed.
	form.Set("id", b.get("/desk/new", http.StatusOK).form().Get("id"))
	form.Set("wedding/region", "JP")
	form.Set("wedding/title", "Hana and Jun")
	b.post("/desk/new", http.StatusOK, form)
	far := b.get("/desk/w/hana-and-jun/weigh", http.StatusOK)
	far.has("No public holidays are known for this wedding")
	far.lacks("It is on no holiday weekend")
	b.get("/desk/w/ada-and-finn/weigh", http.StatusOK).lacks("No public holidays are known")
}

// Whoever was let in to one wedding begins no other.
func TestOnlyOwnersBegin(t *testing.T) {
	s := newSite(t, emptyPlan)
	b := s.comesIn(t, "Pia", store.Invitation{Wedding: "ada-and-finn"})
	form := s.opened(t).get("/desk/new", http.StatusOK).form()
	form.Set("wedding/title", "Uninvited")
	form.Set("wedding/zone", "UTC")
	form.Set("wedding/currency", "USD")
	b.get("/desk/new", http.StatusNotFound)
	b.post("/desk/new", http.StatusNotFound, form)
	if all, err := s.store.Weddings(t.Context()); err != nil || len(all) != 1 {
		t.Errorf("there are %d weddings: %v", len(all), err)
	}
}

// No key that a plan may hold is an address of something else.
func TestKeysThatAreWords(t *testing.T) {
	s := newSite(t, `banns: 1
wedding: {title: Ada and Finn, date: 2027-06-12, zone: UTC, currency: EUR}
people: {new: {name: Nan Quince, part: family}, add: {name: Ada Quince, part: couple}}
agreements:
  new: {with: The Slow Lute, service: music, standing: signed, signed: 2026-10-01, price: "500.00", pay: [balance 7 days before the wedding]}
  read: {with: The Reed, service: music, standing: quoted}
appointments: {new: {what: Dancing lesson, on: 2027-05-01, for: [add]}}
`)
	b := s.opened(t)
	const at = "/desk/w/ada-and-finn/"
	for path, says := range map[string]string{"agreements/new": "The Slow Lute", "agreements/read": "The Reed", "people/new": "Nan Quince",
		"people/add": "Ada Quince", "appointments/new": "Dancing lesson", "add/agreement": "A new agreement", "add/person": "Add somebody"} {
		b.get(at+path, http.StatusOK).has(says)
	}
	form := b.get(at+"agreements/new", http.StatusOK).form()
	form.Set("agreements/new/note", "By the door")
	form.Set("do", "save")
	b.post(at+"agreements/new", http.StatusOK, form).has("The Slow Lute")
}
