package desk_test

import (
	"net/http"
	"strings"
	"testing"

	"banns/store"
)

// Whoever sees what is hidden sees that it is, and from whom; whoever does not
// sees no such word.
func TestHiddenIsMarked(t *testing.T) {
	s := newSite(t, strings.Replace(surprised, "Balloon ride, on: 2027-06-11", "Balloon ride, on: 2026-12-11", 1))
	b, finn := s.planner(t), s.comesIn(t, "Finn", store.Invitation{Wedding: "ada-and-finn", Person: "finn"})
	for path, says := range map[string][]string{
		"agreements/":         {`<p class="means">Hidden from Finn Quince</p>`, `<p class="means">Some of it is hidden from Finn Quince</p>`, `Song list <span class="means">Hidden from Finn Quince`},
		"agreements/brass":    {`<p class="where">Hidden from Finn Quince</p>` + "\n<ul", `<p class="where">Hidden from Finn Quince</p></div></li>`},
		"agreements/hall":     {`<p class="where">Some of it is hidden from Finn Quince</p>`},
		"":                    {`<p class="where">Hidden from Finn Quince</p>`},
		"dates?month=2026-12": {`Balloon ride</a> <span class="where">Hidden from Finn Quince</span>`, `<p class="where">Hidden from Finn Quince</p>`},
		"appointments/flight": {`<p class="where">Hidden from Finn Quince</p>`},
		"occasions/hens":      {`<p class="where">Hidden from Finn Quince</p>`},
	} {
		b.get(atAda+path, http.StatusOK).has(says...)
	}
	b.get(atAda+"appointments/tasting", http.StatusOK).lacks("Hidden from")
	for _, path := range []string{"agreements/", "agreements/hall", "", "dates?month=2026-12", "paper/month?m=2027-06"} {
		finn.get(atAda+path, http.StatusOK).lacks("idden from Finn", "Left out")
	}
}

// A print may hang where everybody reads it: it leaves out what is hidden from
// anybody, and says so on the screen alone, until all of it is asked for.
func TestPaperForAWall(t *testing.T) {
	s := newSite(t, surprised)
	if err := s.store.SetPublic(t.Context(), world, winter); err != nil {
		t.Fatal(err)
	}
	b := s.planner(t)
	p := b.get(atAda+"paper/month?m=2027-06", http.StatusOK)
	p.has(`<p class="screen note">Left out of this print, since it may hang where everybody reads it: 5 dates hidden from Finn Quince.`, "paper/month?m=2027-06&all=yes", "menu choice")
	p.lacks("Balloon", "The Brass", "swan")
	finn := s.comesIn(t, "Finn", store.Invitation{Wedding: "ada-and-finn", Person: "finn"}).get(atAda+"paper/month?m=2027-06", http.StatusOK)
	if ours, theirs := table(p), table(finn); ours != theirs {
		t.Errorf("the print is\n%s\nand of Finn\n%s", ours, theirs)
	}
	all := b.get(atAda+"paper/month?m=2027-06&all=yes", http.StatusOK)
	all.has("Balloon ride", "The Brass", `<p class="screen note">On this print: 5 dates hidden from Finn Quince.`)
	b.get(atAda+"paper/month?m=2027-05", http.StatusOK).lacks("Left out", "On this print")

	// The code on it asks about what is on it.
	wall, whole := strings.TrimPrefix(printed(t, p), world), strings.TrimPrefix(printed(t, all), world)
	if _, err := s.store.Update(t.Context(), store.Edit{Wedding: "ada-and-finn", Seen: 1, Sets: []store.Set{{Path: "appointments/flight/on", Value: []string{"2027-06-12"}}}}, winter); err != nil {
		t.Fatal(err)
	}
	nobody := s.browser(t)
	nobody.get(wall, http.StatusOK).has("Yes. This sheet is as printed.")
	nobody.get(whole, http.StatusOK).has("No. ")
	b.get(whole, http.StatusOK).has("Balloon ride")
}

// table is what is printed of a page.
func table(p seenPage) string {
	_, rest, _ := strings.Cut(p.Text, "<tbody")
	body, _, _ := strings.Cut(rest, "</tbody>")
	return body
}
