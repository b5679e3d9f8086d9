package desk_test

import (
	"net/http"
	"net/url"
	"testing"

	"banns/store"
)

// Where two changed the same, what one of them left alone stays as the other
// has it, also when the form is sent once more.
func TestOverlapUndoesNothingElse(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	const day = "/desk/w/maren-and-theo/day"
	first := b.get(day, http.StatusOK)
	b.post(day, http.StatusOK, first.filled(url.Values{"wedding/title": {"Theirs"}, "wedding/start": {"15:00"}}))
	p := b.post(day, http.StatusUnprocessableEntity, first.filled(url.Values{"wedding/title": {"Mine"}}))
	p.has("somebody else has changed this meanwhile", "<q>Theirs</q>")
	p = b.post(day, http.StatusOK, p.form())
	if form := p.form(); form.Get("wedding/title") != "Mine" || form.Get("wedding/start") != "15:00" {
		t.Errorf("it is called %q and begins at %q", form.Get("wedding/title"), form.Get("wedding/start"))
	}
}

// What stands against a form is said in the page's words: no key of a plan
// file, and no place in one.
func TestFormsSpeakOfNoPlanFile(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	const fitting = atWedding + "appointments/priya-fitting"
	for _, row := range []struct {
		sent  url.Values
		has   string
		lacks []string
	}{
		{url.Values{"appointments/priya-fitting/what": {""}}, "nothing is written here; write for instance First fitting", []string{"what is missing", "what: "}},
		{url.Values{"appointments/priya-fitting/on": {""}, "appointments/priya-fitting/when": {""}}, "the day is missing; choose the day", []string{"when: ", "on: ", "2027-07-10, or"}},
		{url.Values{"appointments/priya-fitting/when": {"2 days before the wedding"}}, "its day is given twice, as a date and in words", []string{"on and when"}},
		{url.Values{"appointments/priya-fitting/at": {""}, "appointments/priya-fitting/until": {"12:00"}}, "there is an end and no beginning; write \"17:30\" too", []string{"at: "}},
		{url.Values{"appointments/priya-fitting/on": {""}, "appointments/priya-fitting/when": {"2 days before the wedding by 10:00"}}, "one in the words of its day and one of its own", []string{"under at"}},
	} {
		p := b.post(fitting, http.StatusUnprocessableEntity, b.get(fitting, http.StatusOK).filled(row.sent))
		p.has(row.has)
		p.lacks(row.lacks...)
		p.lacks("appointments/priya-fitting: ")
	}
}

// A fault of something that a form does not ask for names it, and no place of
// a plan file.
func TestFormsNameWhatElseIsAgainstThem(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	sets := []store.Set{{Path: "appointments/talk/what", Value: []string{"Talk of the fitting"}}, {Path: "appointments/talk/when", Value: []string{"1 week after first fitting"}}}
	if _, err := s.store.Update(t.Context(), store.Edit{Wedding: "maren-and-theo", Seen: 1, Sets: sets}, winter); err != nil {
		t.Fatal(err)
	}
	const fitting = atWedding + "appointments/priya-fitting"
	p := b.post(fitting, http.StatusUnprocessableEntity, b.get(fitting, http.StatusOK).filled(url.Values{"appointments/priya-fitting/what": {"Veil and hem"}}))
	p.has("of “Talk of the fitting”: ")
	p.lacks("appointments/talk")
}
