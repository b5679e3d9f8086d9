package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"banns/store"
)

const goneSays = "somebody has taken this out of the plan meanwhile; saving brings it back, as it stands here"

// What was typed about something outlives that somebody else took it out:
// the form is shown again, and sent once more it brings the thing back under
// the key that it had.
func TestWhatIsGoneComesBack(t *testing.T) {
	s := demoSite(t)
	for _, row := range []struct{ at, field, typed, out string }{
		{"appointments/dress-fitting", "appointments/dress-fitting/note", "Bring the shoes and the veil", "appointments/dress-fitting"},
		{"occasions/brunch", "occasions/brunch/note", "Coffee first", "occasions/brunch"},
		{"countdown/suits-back", "countdown/add/suits-back/note", "By noon", "countdown/add/suits-back"},
		{"countdown/welcome-bags", "countdown/add/welcome-bags/note", "Twelve of them", ""},
		{"countdown/invitations", "countdown/move/invitations", "10 weeks before the wedding", ""},
		{"people/arvid", "people/arvid/note", "Sings alto", "people/arvid"},
		{"agreements/shuttle", "agreements/shuttle/note", "Ask about prams.", "agreements/shuttle"},
	} {
		t.Run(row.at, func(t *testing.T) {
			b := s.atDoor(t)
			was := b.get(atWedding+row.at, http.StatusOK)
			form := was.filled(url.Values{row.field: {row.typed}})
			form.Set("do", "save")
			if row.out == "" {
				b.post(atWedding+row.at+"/drop", http.StatusOK, url.Values{})
			} else {
				s.takenOut(t, row.out)
			}
			b.get(atWedding+row.at, http.StatusNotFound)

			p := b.post(atWedding+row.at, http.StatusUnprocessableEntity, form)
			p.has(goneSays, "Nothing was saved yet", row.typed)
			p.lacks("/remove", "/drop\"", "/out\"", "Take it all away")
			form = p.form()
			if got := form.Get(row.field); got != row.typed {
				t.Fatalf("what was typed came back as %q", got)
			}
			form.Set("do", "save")
			b.post(atWedding+row.at, http.StatusOK, form).has("Saved as version", row.typed)
			after := b.get(atWedding+row.at, http.StatusOK).form()
			for name, values := range was.form() {
				if name != "seen" && name != row.field && !strings.HasPrefix(name, "step/") && strings.Join(after[name], ", ") != strings.Join(values, ", ") {
					t.Errorf("%s was %q, and came back as %q", name, values, after[name])
				}
			}
		})
	}
}

// takenOut is what another editor does.
func (s *site) takenOut(t testing.TB, path string) {
	t.Helper()
	s.edited(t, "Ida", store.Set{Path: path})
}

// Where it was hidden from them since, it answers as if it had never been.
func TestWhatIsGoneStaysHidden(t *testing.T) {
	s := demoSite(t)
	theo := s.theo(t)
	for _, row := range []struct{ at, place string }{
		{"appointments/hair-trial", "appointments/hair-trial"},
		{"occasions/brunch", "occasions/brunch"},
		{"countdown/suits-back", "countdown/add/suits-back"},
		{"agreements/shuttle", "agreements/shuttle"},
	} {
		form := theo.get(atWedding+row.at, http.StatusOK).form()
		for name := range form {
			if strings.HasSuffix(name, "/note") {
				form.Set(name, "Mine")
			}
		}
		never := strings.NewReplacer(row.at, row.at+"-none")
		sent := url.Values{}
		for name, values := range form {
			sent[never.Replace(name)] = values
		}
		want := theo.ask(http.MethodPost, atWedding+row.at+"-none", sent)
		for n, sets := range [][]store.Set{
			{{Path: row.place + "/hide from", Value: []string{"theo"}, List: true}},
			{{Path: row.place}},
		} {
			s.edited(t, "Ida", sets...)
			got := theo.ask(http.MethodPost, atWedding+row.at, form)
			if got.status != http.StatusNotFound || string(got.raw) != string(want.raw) {
				t.Errorf("%s: after edit %d it answers %d: %s", row.at, n+1, got.status, got.body)
			}
			form.Set("back", "1")
			if got := theo.ask(http.MethodPost, atWedding+row.at, form); got.status != http.StatusNotFound {
				t.Errorf("%s: after edit %d it comes back: %d", row.at, n+1, got.status)
			}
		}
	}
}

// What cannot come back is shown, to be copied.
func TestWhatIsGoneIsCopied(t *testing.T) {
	s := demoSite(t)
	theo, b := s.theo(t), s.atDoor(t)

	// A planner is for planners to bring back.
	form := theo.get(atWedding+"people/odile", http.StatusOK).filled(url.Values{"people/odile/phone": {"+1 555 0199"}, "measure-1": {"Hat"}, "size-1": {"57"}})
	b.post(atWedding+"people/odile/out", http.StatusOK, url.Values{})
	p := theo.post(atWedding+"people/odile", http.StatusGone, form)
	p.has("Somebody has taken this out of the plan", "Telephone", "+1 555 0199", "Hat", "57")
	theo.get(atWedding+"people/odile", http.StatusNotFound)

	// An appointment that counts from what is gone too.
	s.edited(t, "Ida", store.Set{Path: "appointments/talk/what", Value: []string{"Talk"}}, store.Set{Path: "appointments/talk/when", Value: []string{"1 week after hair and makeup trial"}})
	form = b.get(atWedding+"appointments/talk", http.StatusOK).filled(url.Values{"appointments/talk/note": {"By the pier"}})
	form["appointments/talk/for"] = []string{"", "bea"}
	s.takenOut(t, "appointments/talk")
	s.takenOut(t, "appointments/hair-trial")
	b.post(atWedding+"appointments/talk", http.StatusGone, form).has("By the pier", "Who is asked", "Bea Lindqvist")

	// A question that is asked no more.
	const question = atWedding + "questions/shuttle.change-1.side"
	form = b.get(question, http.StatusOK).filled(url.Values{"says": {"Fourteen days ahead."}, "who": {"Wendell"}})
	form.Set("reads", "before")
	s.edited(t, "Ida", store.Set{Path: "agreements/shuttle/change/change-1"})
	b.post(question, http.StatusGone, form).has("In what words", "Fourteen days ahead.", "Wendell")
}

// What somebody else made of it before it was taken out is asked about.
func TestWhatIsGoneWasChangedToo(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	const at = "occasions/brunch"
	form := b.get(atWedding+at, http.StatusOK).filled(url.Values{at + "/note": {"Mine"}})
	s.edited(t, "Ida", store.Set{Path: at + "/note", Value: []string{"Theirs"}}, store.Set{Path: at + "/until", Value: []string{"13:30"}})
	s.takenOut(t, at)
	form = b.post(atWedding+at, http.StatusUnprocessableEntity, form).form()
	p := b.post(atWedding+at, http.StatusUnprocessableEntity, form)
	p.has("somebody else has changed this meanwhile", "Theirs")
	b.post(atWedding+at, http.StatusOK, p.form())
	doc := s.plan(t)
	if note, until := doc.At(at+"/note"), doc.At(at+"/until"); note[0] != "Mine" || until[0] != "13:30" {
		t.Errorf("it came back with %q until %q", note, until)
	}
}

// A step of a line that somebody took away keeps the line, and all that was
// typed beside it.
func TestStepOfALineThatIsGone(t *testing.T) {
	s := demoSite(t)
	b, theo := s.atDoor(t), s.theo(t)
	const at = theAgreements + "/catering"
	first, his := b.get(at, http.StatusOK), theo.get(at, http.StatusOK)
	form := first.filled(url.Values{"agreements/catering/note": {"Ask about ice."}, "agreements/catering/papers/paper-1/note": {"By mail"}})
	form.Set("do", "done papers/paper-1")
	s.takenOut(t, "agreements/catering/papers/paper-1")
	p := b.post(at, http.StatusUnprocessableEntity, form)
	p.has("somebody has taken the line away that this is about", "Ask about ice.", "By mail")
	form = p.form()
	form.Set("do", "save")
	b.post(at, http.StatusOK, form)
	a := s.agreed(t, "catering")
	if len(a.Papers) != 1 || a.Papers[0].Note != "By mail" || a.Note != "Ask about ice." {
		t.Errorf("it is kept as %+v", a)
	}

	// Where it was hidden before it went, it never was.
	s.edited(t, "Ida", store.Set{Path: "agreements/catering/pay/pay-4/hide from", Value: []string{"theo"}, List: true})
	for _, out := range []string{"", "agreements/catering/pay/pay-4"} {
		if out != "" {
			s.takenOut(t, out)
		}
		form = his.form()
		form.Set("do", "paid pay/pay-4")
		got := theo.ask(http.MethodPost, at, form)
		form.Set("do", "paid pay/pay-43")
		if never := theo.ask(http.MethodPost, at, form); got.status != http.StatusNotFound || string(got.raw) != string(never.raw) {
			t.Errorf("a step of a hidden line answers %d: %s", got.status, got.body)
		}
	}
}
