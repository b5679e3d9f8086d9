package desk_test

import (
	"net/http"
	"strings"
	"testing"
)

// What is far too long, or no mail address, is refused beside its field.
func TestTooLongIsRefused(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	form := b.get(atWedding+"people/priya", http.StatusOK).form()
	form.Set("people/priya/name", strings.Repeat("m", 5000))
	form.Set("people/priya/email", "nobody")
	form.Set("people/priya/phone", "555 call me")
	form.Set("people/priya/note", strings.Repeat("n ", 30000))
	p := b.post(atWedding+"people/priya", http.StatusUnprocessableEntity, form)
	p.has("Name: it has 5000 letters, and 100 is the most", "Mail address: this is no mail address", "Note: it has 59999 letters, and 5000 is the most", `href="#people-priya-name"`, "say it shorter")
	p.lacks("Telephone: it")
	form = b.get(atWedding+"add/person", http.StatusOK).form()
	form.Set("people/+/name", strings.Repeat("m", 5000))
	form.Set("people/+/part", "helper")
	b.post(atWedding+"add/person", http.StatusUnprocessableEntity, form).has("Name: it has 5000 letters", `href="#people-new--name"`)
	form = b.get(addAgreement, http.StatusOK).form()
	form.Set("agreements/+/with", strings.Repeat("m", 5000))
	form.Set("do", "save")
	b.post(addAgreement, http.StatusUnprocessableEntity, form).has("With whom: it has 5000 letters, and 100 is the most")
}
