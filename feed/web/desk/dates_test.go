package desk_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"testing"

	"banns/store"
)

func TestDates(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	p := b.get(demoDesk+"dates", http.StatusOK)
	p.order("Late</h2>", "Pay Bolt and Barrow $312.00", "November 2026</h2>", "Wed 25", ", today", "In order",
		"December 2026</h3>", "Without a day yet", "Waits for the signing of Slow Kettle Films", "Waits for the invoice of Marram Tent and Table", "Over or settled", "Who is away")
	p.has("Payments (48)", `agreements/suits"`, `appointments/tasting"`, `occasions/rehearsal"`, `countdown/rings"`, `/day"`)
	if n := regexp.MustCompile(`<li class="column-1[^"]*"><p class="when"><time datetime="2026-11-01">`).FindAllString(p.Text, -1); len(n) != 1 {
		t.Error("Sun 1 Nov 2026 does not stand in the first column of an American week")
	}
	p.order(`rel="prev">October 2026`, `rel="next">December 2026`)

	p = b.get(demoDesk+"dates?month=2027-02&person=bea&kind=change-by", http.StatusOK)
	p.has("February 2027</h2>", "Hollow Oak Table: dishes to taste", "Kofi Amberley away", "kind=change-by&month=2027-03&person=bea", "Show all")
	p.lacks("Pay Hollow Oak Table $", "Menu tasting</a>")
	if form := p.form(); form.Get("person") != "bea" || form.Get("kind") != "change-by" {
		t.Errorf("the choices are %v", form)
	}
	b.get(demoDesk+"dates?person=nobody&month=soon", http.StatusOK).has("November 2026</h2>", "Pay Bolt and Barrow")
	b.get(demoDesk+"dates?kind=wedding&agreement=venue", http.StatusOK).has("Nothing is of all three.")
}

// The counts beside the choices are of what the choice would show.
func TestDatesAreCounted(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	rows := regexp.MustCompile(`<li class="(?:date|lack)`)
	options := regexp.MustCompile(`<option value="([^"]+)"[^>]*>[^<]*\((\d+)\)`)
	p := b.get(demoDesk+"dates?kind=payment", http.StatusOK)
	away := len(rows.FindAllString(b.get(demoDesk+"dates?kind=wedding&agreement=venue", http.StatusOK).Text, -1))
	for _, o := range options.FindAllStringSubmatch(p.Text, -1) {
		for _, name := range []string{"person", "agreement"} {
			if o[1] != "bea" && o[1] != "venue" && o[1] != "flowers" || name == "person" != (o[1] == "bea") {
				continue
			}
			shown := b.get(demoDesk+"dates?kind=payment&"+name+"="+o[1], http.StatusOK)
			if n := len(rows.FindAllString(shown.Text, -1)) - away; o[2] != strconv.Itoa(n) {
				t.Errorf("%s is counted as %s, and %d are shown", o[1], o[2], n)
			}
		}
	}
}

func TestDatesOfNothing(t *testing.T) {
	s := newSite(t, "banns: 1\nwedding: {title: Ada and Finn, zone: Europe/Berlin, region: DE, currency: EUR, date: open}\n")
	p := s.opened(t).get("/desk/w/ada-and-finn/dates", http.StatusOK)
	p.has("Nothing stands in November 2026", "There are no dates yet", "Without a day yet", "Waits for the wedding date", "Nobody has said that they are away", `add/person"`)
	if !regexp.MustCompile(`<li class="column-7[^"]*"><p class="when"><time datetime="2026-11-01">`).MatchString(p.Text) {
		t.Error("Sun 1 Nov 2026 does not stand in the last column of a German week")
	}
}

func TestAway(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	form := b.get(demoDesk+"dates", http.StatusOK).form()
	stay := url.Values{"seen": form["seen"], "away/+1/who": {"hanneke"}, "away/+1/from": {"2027-04-10"}, "away/+1/to": {"2027-04-09"}}
	p := b.post(demoDesk+"away", http.StatusUnprocessableEntity, stay)
	p.has("Nothing was saved yet", "before it begins")
	if p.form().Get("away/+1/from") != "2027-04-10" {
		t.Error("what was typed is lost")
	}
	stay.Set("away/+1/to", "2027-04-20")
	b.post(demoDesk+"away", http.StatusOK, stay).has("Saved as version 2", "Sat 10 Apr 2027 to Tue 20 Apr 2027")
	b.get(demoDesk+"appointments/ceremony-talk", http.StatusOK).has("Hanneke Dolman is away from Sat 10 Apr 2027", "Answer it")
	b.get(demoDesk, http.StatusOK).has("3 open")

	// Somebody else takes one out first: the second does not take another.
	seen := b.get(demoDesk+"dates", http.StatusOK).form().Get("seen")
	take := url.Values{"seen": {seen}, "away": {"1"}}
	b.post(demoDesk+"away/end", http.StatusOK, take).lacks("Take out Kofi")
	b.post(demoDesk+"away/end", http.StatusUnprocessableEntity, take).has("somebody else has changed this", "Take out Priya Nair")
	for _, place := range []string{"0", "-1", "x"} {
		b.post(demoDesk+"away/end", http.StatusNotFound, url.Values{"seen": {seen}, "away": {place}})
	}
}

func TestMonthsHideWhatIsHidden(t *testing.T) {
	s := demoSite(t)
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	p := theo.get(demoDesk+"dates?month=2027-07", http.StatusOK)
	p.has("Priya", "Sat 10")
	p.lacks("First fitting", "first fitting", "priya-fitting")
}
