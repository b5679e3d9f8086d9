package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"banns/store"
	"banns/testdata"
)

// What the plan's own dates meet in the city stands beside them, for whoever
// sees the date, and follows the plan and the sources.
func TestDatesMeetTheCity(t *testing.T) {
	const (
		commencement = "In the city: Lakeshore College Commencement (Gull Field, from 10:00) is on that day: streets and car parks are full."
		festival     = "In the city: Harborlight Festival (Quay Street) is expected from Fri 9 Jul to Sun 11 Jul 2027: streets and car parks are full."
	)
	s := townSite(t, string(testdata.Demo))
	b := s.opened(t)
	p := b.get(demoDesk+"dates", http.StatusOK)
	p.order("Cake tasting", commencement, "First fitting", festival)
	p.lacks("Home match") // of other days
	b.get(demoDesk+"appointments/cake-tasting", http.StatusOK).order("Sat 8 May 2027, 11:00", commencement, "where it was read")
	b.get(demoDesk+"appointments/tasting", http.StatusOK).lacks("In the city:")

	// First fitting is hidden from Theo, and so is what is on then.
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	theo.get(demoDesk+"dates", http.StatusOK).order("Cake tasting", commencement)
	theo.get(demoDesk+"dates", http.StatusOK).lacks("Harborlight")

	// It moves with the plan, and goes with its source.
	form := b.get(demoDesk+"appointments/cake-tasting", http.StatusOK).form()
	form.Set("appointments/cake-tasting/on", "2027-09-11")
	b.post(demoDesk+"appointments/cake-tasting", http.StatusOK, form)
	p = b.get(demoDesk+"dates", http.StatusOK)
	p.has("In the city: Home match (Gull Field, 14:00 to 17:00) is on that day: streets and car parks are full, though not at the appointment's hours.")
	p.lacks(commencement)
	b.post(eventsPath+"/alder-harbor/remove", http.StatusOK, url.Values{})
	b.get(demoDesk+"dates", http.StatusOK).lacks("In the city: Home")

	// What is on at the wedding is told once, not of each of its occasions.
	b.sends("town.csv", "", []byte("name,date,kind\nRegatta,2027-09-18,match\n"), http.StatusOK)
	if n := strings.Count(b.get(demoDesk+"dates", http.StatusOK).Text, "In the city: Regatta is on that day"); n != 1 {
		t.Errorf("the regatta is told of %d times", n)
	}

	// A day with more on than anybody reads through names some of it.
	table := "name,date,kind\n"
	for _, name := range strings.Fields("one two three four five six") {
		table += "Match " + name + ",2027-09-11,match\n"
	}
	b.sends("town.csv", "", []byte(table), http.StatusOK)
	p = b.get(demoDesk+"dates", http.StatusOK)
	p.has("In the city: and 3 more, none of them worse.")
	if n := strings.Count(p.Text, "In the city: Match "); n != 3 {
		t.Errorf("%d matches are named", n)
	}
}
