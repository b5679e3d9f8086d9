package web

import (
	"errors"
	"net/http"
	"slices"

	"banns/feed"
	"banns/store"
)

// choice is one way to be reminded, as it is offered.
type choice struct {
	Value  feed.Reminders
	Name   string
	Means  string
	Chosen bool
}

var reminderWords = map[feed.Reminders]struct{ name, means string }{
	feed.ByAlarm:  {"An alarm", "It rings at nine the morning before; where there is an hour, two hours ahead. Many calendars drop the alarms of a subscription."},
	feed.ByNotice: {"An early notice", "A date of its own, a week before anything is due. Every calendar shows it."},
	feed.ByBoth:   {"Both", "An alarm, and an early notice."},
	feed.ByNone:   {"Neither", "The dates alone."},
}

// Reminds says how somebody is reminded.
func Reminds(by feed.Reminders) string {
	return reminderWords[by].name + ". " + reminderWords[by].means
}

func choices(now feed.Reminders) []choice {
	var all []choice
	for _, r := range feed.AllReminders {
		all = append(all, choice{r, reminderWords[r].name, reminderWords[r].means, r == now})
	}
	return all
}

// formLimit is the most that the form can come to.
const formLimit = 1 << 10

// reminders answers POST of /p/TOKEN/reminders: it keeps the choice, and
// sends the reader back to their page.
func (s *Server) reminders(w http.ResponseWriter, r *http.Request, token string, _ store.Opening) error {
	if !s.ours(r) {
		return Trouble(w, r, http.StatusForbidden, "Nothing was changed",
			"The choice came from another site. Open your own page from your link, and choose there.")
	}
	r.Body = http.MaxBytesReader(w, r.Body, formLimit)
	err := r.ParseForm()
	var tooLong *http.MaxBytesError
	choice := feed.Reminders(r.PostForm.Get("reminders"))
	switch {
	case errors.As(err, &tooLong):
		return Trouble(w, r, http.StatusRequestEntityTooLarge, "Nothing was changed", "The form was longer than it can be. Go back, and choose again.")
	case err != nil || !slices.Contains(feed.AllReminders, choice):
		return Trouble(w, r, http.StatusBadRequest, "Nothing was changed", "Go back, and choose one of the four ways to be reminded.")
	}
	if err := s.Store.SetReminders(r.Context(), token, choice, s.Now()); err != nil {
		return err
	}
	if err := s.shelf.refresh(r.Context()); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Location", "../"+token+"?kept#kept") // relative, since a proxy may put us under a path (RFC 9110 10.2.2)
	h.Set("Cache-Control", "private, no-store")
	h["Referrer-Policy"] = noReferrer
	w.WriteHeader(http.StatusSeeOther)
	return nil
}

// ours reports whether a form was sent from a page of ours. Over plain http,
// as in a home's own network, a browser sends no Sec-Fetch-Site; and since
// our pages refer to nothing, their Origin is then "null" (Fetch 3.2). That
// is let pass: no other site knows the token in the path.
func (s *Server) ours(r *http.Request) bool {
	if r.Header.Get("Sec-Fetch-Site") == "" && r.Header.Get("Origin") == "null" {
		return true
	}
	return s.forms.Check(r) == nil
}
