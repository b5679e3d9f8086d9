package desk_test

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"net/http"
	"net/url"
	"testing"

	"banns/store"
)

// edited saves sets of the demo's plan by somebody.
func (s *site) edited(t testing.TB, by string, sets ...store.Set) {
	t.Helper()
	edit := store.Edit{Wedding: "maren-and-theo", Seen: s.plan(t).Plan.Version, Sets: sets, By: by}
	if _, err := s.store.Update(t.Context(), edit, s.now()); err != nil {
		t.Fatal(err)
	}
}

func TestHistory(t *testing.T) {
	s := demoSite(t)
	b := s.owner(t)
	form := b.get(atWedding+"day", http.StatusOK).form()
	form.Set("wedding/start", "15:00")
	b.post(atWedding+"day", http.StatusOK, form)
	s.edited(t, "Odile", store.Set{Path: "agreements/brass/pay/pay-2", Value: nil})
	p := b.get(atWedding+"history", http.StatusOK)
	p.has("Version 3, the newest", "Wed 25 Nov 2026, 04:00, Odile", "Tin Gull Brass", "hidden from Maren Okafor, Theo Lindqvist",
		"Wed 25 Nov 2026, 04:00, Ida", "15:00", "The first, with 22 people, 17 agreements and", `history/2/back"`, `history/1/back"`)
	p.lacks(`history/3/back"`)
	b.get(atWedding+"history?from=1", http.StatusOK).lacks("Version 2")
}

// Going back asks once, says what it changes and what stays, and keeps what
// was done since.
func TestGoBack(t *testing.T) {
	s := demoSite(t)
	b := s.owner(t)
	s.edited(t, "Odile", store.Set{Path: "wedding/start", Value: []string{"15:00"}})
	s.edited(t, "Odile", store.Set{Path: "agreements/catering/pay/pay-2/done", Value: []string{"2026-11-24"}})
	const at = atWedding + "history/1/back"
	p := b.get(at, http.StatusOK)
	p.has("What that changes", "15:00", "What stays as it is now", "Hollow Oak Table", "paid on Tue 24 Nov 2026", "as version 4; version 3 stays in the history")
	form := p.form()

	s.edited(t, "Odile", store.Set{Path: "people/bea/phone", Value: []string{"+1 555 0199"}})
	b.post(at, http.StatusConflict, form).has("Somebody has saved another version meanwhile")
	if n := s.plan(t).Plan.Version; n != 4 {
		t.Fatalf("version %d was saved of a plan that had moved on", n)
	}
	p = b.post(at, http.StatusOK, b.get(at, http.StatusOK).form())
	p.has("Saved as version 5", "This was kept", "paid on Tue 24 Nov 2026", "Version 5, the newest", "Ida, back to version 1")
	doc := s.plan(t)
	if doc.Plan.Wedding.Start.String() != "16:30" || doc.At("agreements/catering/pay/pay-2/done")[0] != "2026-11-24" {
		t.Errorf("the wedding begins at %s, and the payment was done on %v", doc.Plan.Wedding.Start, doc.At("agreements/catering/pay/pay-2/done"))
	}
	for _, n := range []string{"0", "5", "6", "x"} {
		b.get(atWedding+"history/"+n+"/back", http.StatusNotFound)
	}
}

// A partner is told of what changed in what they see, and goes back on
// nobody: it could undo what they cannot see.
func TestHistoryOfWhatIsSeen(t *testing.T) {
	s := demoSite(t)
	s.edited(t, "Odile", store.Set{Path: "agreements/brass/pay/pay-2", Value: nil})
	s.edited(t, "Odile", store.Set{Path: "appointments/cake-tasting/at", Value: []string{"12:00"}})
	theo := s.theo(t)
	p := theo.get(atWedding+"history", http.StatusOK)
	p.has("Version 3", "Cake tasting", "Version 1", "dates for you")
	p.lacks("Version 2", "Tin Gull", "Go back", "/back\"")
	theo.get(atWedding+"history/1/back", http.StatusNotFound)
	theo.post(atWedding+"history/1/back", http.StatusNotFound, url.Values{"seen": {"3"}})
	theo.get(atWedding+"history?kept=3&back=1", http.StatusOK).lacks("Back to version", "Tin Gull")
	if n := s.plan(t).Plan.Version; n != 3 {
		t.Errorf("a partner went back to version 1, as version %d", n)
	}
}

// A page has the newest few versions, and leads to those before.
func TestLongHistory(t *testing.T) {
	s := demoSite(t)
	for n := range 11 {
		s.edited(t, "Odile", store.Set{Path: "people/bea/phone", Value: []string{fmt.Sprint("+1 555 02", n)}})
	}
	b := s.planner(t)
	p := b.get(atWedding+"history", http.StatusOK)
	p.has("Version 12, the newest", `id="v3"`, `href="?from=2"`)
	p.lacks(`id="v2"`)
	p = b.get(atWedding+"history?from=2", http.StatusOK)
	p.has(`id="v2"`, `id="v1"`)
	p.lacks(`id="v3"`, "?from=", "the newest<")
	b.get(atWedding+"history?from=0", http.StatusOK).lacks("Version ")
}

// What this program cannot read any more is told to be so, and nobody is
// offered to go back to it.
func TestUnreadableVersion(t *testing.T) {
	s := demoSite(t)
	s.edited(t, "Odile", store.Set{Path: "wedding/start", Value: []string{"15:00"}})
	if err := s.store.SetPublic(t.Context(), world, winter); err != nil {
		t.Fatal(err)
	}
	token, err := s.store.PrintToken(t.Context(), store.Print{Wedding: s.plan(t).Plan.ID, Month: "2027-08", Version: 1})
	if err != nil {
		t.Fatal(err)
	}
	db := s.db(t)
	var old bytes.Buffer
	w := gzip.NewWriter(&old)
	w.Write([]byte("banns: 0\n"))
	w.Close()
	if _, err := db.ExecContext(t.Context(), "update version set document = ? where n = 1", old.Bytes()); err != nil {
		t.Fatal(err)
	}
	b := s.planner(t)
	p := b.get(atWedding+"history", http.StatusOK)
	p.has("This version cannot be read by this program any more", "nothing can be said of what changed")
	p.lacks("Go back")
	b.get(atWedding+"history/1/back", http.StatusNotFound)
	b.get("/desk/paper/"+token, http.StatusOK).has("Nobody can say", "Print it anew")
}
