package desk_test

import (
	"net/http"
	"net/url"
	"testing"
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
