package desk_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"banns/store"
)

func TestChangeAnOccasion(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	const path = demoDesk + "occasions/rehearsal"
	p := b.get(path, http.StatusOK)
	p.has("Fri 17 Sep 2027, 17:30 to 18:30, The Net Loft, in 296 days.")
	form := p.form()
	if got := form["occasions/rehearsal/for"]; !slices.Equal(got, []string{"", "couple", "attendant", "officiant", "readers"}) {
		t.Errorf("ticked are %v", got)
	}
	b.post(path, http.StatusOK, form)
	if v := s.plan(t).Plan.Version; v != 1 {
		t.Errorf("what did not change made version %d", v)
	}
	form.Set("occasions/rehearsal/when", "2 days before the wedding")
	form["occasions/rehearsal/for"] = []string{"", "officiant", "bea", "couple"}
	p = b.post(path, http.StatusOK, form)
	p.has("Saved as version 2", "Thu 16 Sep 2027, 17:30 to 18:30", `history#v2">What it changed`)
	b.get(atWedding+"history", http.StatusOK).has(`id="v2"`, "Thu 16 Sep 2027")
	doc := s.plan(t)
	if got := doc.At("occasions/rehearsal/for"); !slices.Equal(got, []string{"couple", "officiant", "bea"}) {
		t.Errorf("the plan asks %v", got)
	}
	form = b.get(path, http.StatusOK).form()
	form["occasions/rehearsal/for"] = []string{""}
	b.post(path, http.StatusOK, form)
	if got := s.plan(t).At("occasions/rehearsal/for"); got != nil {
		t.Errorf("nobody is ticked, and the plan asks %v", got)
	}
}

// One name that stands there without a list is left as it is.
func TestOneWhoIsAsked(t *testing.T) {
	s := newSite(t, shortPlan)
	b := s.opened(t)
	const path = demoDesk + "appointments/measuring"
	b.post(path, http.StatusOK, b.get(path, http.StatusOK).form())
	if v := s.plan(t).Plan.Version; v != 1 {
		t.Errorf("what did not change made version %d", v)
	}
}

func TestFaultsOfAMeeting(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	const path, at = demoDesk + "appointments/tasting", "appointments/tasting/"
	for _, r := range []struct{ field, value, says, beside string }{
		{"when", "1 day before the weding", `nothing here is called "weding"`, "when"},
		{"when", "1 day before the wedding", "its day is given twice", "on"},
		{"on", "", "the day is missing", "on"},
		{"what", "", "what", "what"},
		{"at", "", "there is an end and no beginning", "until"},
	} {
		form := b.get(path, http.StatusOK).form()
		form.Set(at+r.field, r.value)
		if r.says == `nothing here is called "weding"` {
			form.Set(at+"on", "")
		}
		p := b.post(path, http.StatusUnprocessableEntity, form)
		id := strings.ReplaceAll(at+r.beside, "/", "-")
		p.has(r.says, `href="#`+id+`"`, `id="`+id+`-fault"`)
		if got := p.form().Get(at + r.field); got != r.value {
			t.Errorf("%s: %q came back as %q", r.field, r.value, got)
		}
	}
	if v := s.plan(t).Plan.Version; v != 1 {
		t.Errorf("faults made version %d", v)
	}
}

func TestAddAnAppointment(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	const path, at = demoDesk + "add/appointment", "appointments/+/"
	form := b.get(path, http.StatusOK).form()
	b.post(path, http.StatusUnprocessableEntity, form).has("it has no name yet", `href="#appointments-new--what"`)
	form.Set(at+"what", "Visit to the mill")
	form.Set(at+"at", "14:00")
	form.Set(at+"place/name", "The Mill")
	form.Set(at+"place/city", "Alder Harbor")
	form.Set(at+"place/at", "44.76, -85.62")
	form[at+"for"] = []string{"", "bea", "readers"}
	p := b.post(path, http.StatusUnprocessableEntity, form)
	p.has("The day: the day is missing", `href="#appointments-new--on"`, `value="Visit to the mill"`)
	form = p.form()
	if got := form[at+"for"]; !slices.Equal(got, []string{"", "readers", "bea"}) {
		t.Errorf("ticked are %v", got)
	}
	form.Set(at+"when", "the Tuesday before menu tasting")
	p = b.post(path, http.StatusOK, form)
	p.has("Saved as version 2", "Tue 9 Mar 2027, 14:00, The Mill, Alder Harbor", "Visit to the mill</h1>", `value="44.76, -85.62"`)
	first := p.URL.Path
	// Sent twice, it adds one; another of the same name gets a key of its own.
	if again := b.post(path, http.StatusOK, form).URL.Path; again != first {
		t.Errorf("sent twice, it is at %s and %s", first, again)
	}
	form.Set("seen", "2")
	if other := b.post(path, http.StatusOK, form).URL.Path; other == first {
		t.Errorf("two of one name are both at %s", other)
	}
	if n := len(s.plan(t).Plan.Appointments); n != 14 {
		t.Errorf("the plan has %d appointments", n)
	}
	p = b.post(first+"/remove", http.StatusOK, url.Values{"seen": {"3"}})
	p.has("Saved as version 4")
	b.get(first, http.StatusNotFound)
}

// What is hidden is not there for whom it is hidden from, and an edit of
// theirs tells nothing of it either.
func TestHiddenMeetings(t *testing.T) {
	s := demoSite(t)
	maren := s.comesIn(t, "Maren", store.Invitation{Wedding: "maren-and-theo", Person: "maren"})
	for _, path := range []string{"appointments/brass-run-through", "occasions/last-song", "appointments/none"} {
		maren.get(demoDesk+path, http.StatusNotFound)
		maren.post(demoDesk+path, http.StatusNotFound, url.Values{"seen": {"1"}, path + "/what": {"Mine"}})
		maren.post(demoDesk+path+"/remove", http.StatusNotFound, url.Values{"seen": {"1"}})
	}
	const path = demoDesk + "appointments/tasting"
	form := maren.get(path, http.StatusOK).form()
	form.Set("appointments/tasting/on", "")
	form.Set("appointments/tasting/when", "1 day before run-through with the bras")
	p := maren.post(path, http.StatusUnprocessableEntity, form)
	p.lacks("run-through with the brass", "brass-run-through")

	// She does not hide anything from herself.
	if p := maren.get(path, http.StatusOK); strings.Count(p.Text, `value="maren"`) != 1 || strings.Count(p.Text, `value="theo"`) != 2 {
		t.Error("somebody can hide things from themselves")
	}
	form = maren.get(demoDesk+"add/occasion", http.StatusOK).form()
	form.Set("occasions/+/what", "Last song")
	form.Set("occasions/+/when", "on the day")
	form["occasions/+/hide from"] = []string{"", "theo"}
	at := maren.post(demoDesk+"add/occasion", http.StatusOK, form).URL.Path
	if doc := s.plan(t); doc.At("occasions/last-song/what")[0] != "Brass for the last song" {
		t.Error("something new stands in the place of something hidden")
	}
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	theo.get(at, http.StatusNotFound)
}

// What something else counts from cannot be taken out, and the page says why;
// to somebody from whom that is hidden it does not say what it is.
func TestRemoveWhatIsCountedFrom(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	p := b.post(demoDesk+"appointments/cake-tasting/remove", http.StatusUnprocessableEntity, url.Values{"seen": {"1"}})
	p.has("Nothing was saved yet", "nothing here is called", "cake tasting", "Cake tasting</h1>")

	form := b.get(demoDesk+"appointments/brass-run-through", http.StatusOK).form()
	form.Set("appointments/brass-run-through/when", "1 day before planning the ceremony")
	b.post(demoDesk+"appointments/brass-run-through", http.StatusOK, form)
	maren := s.comesIn(t, "Maren", store.Invitation{Wedding: "maren-and-theo", Person: "maren"})
	p = maren.post(demoDesk+"appointments/ceremony-talk/remove", http.StatusUnprocessableEntity, url.Values{"seen": {"2"}})
	p.has("something that this page does not show stands against it")
	p.lacks("brass")
}

// plan is the demo's newest plan.
func (s *site) plan(t testing.TB) *store.Document {
	t.Helper()
	doc, err := s.store.Load(t.Context(), "maren-and-theo")
	if err != nil {
		t.Fatal(err)
	}
	return doc
}
