package desk_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"banns/feed/web"
	"banns/store"
)

var oneTime = regexp.MustCompile(`value="http://[^"]*/desk(/in/[^"]+)"`)

func TestLettingSomebodyIn(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	const at = atWedding + "admits"
	b.get(at, http.StatusOK).has("Owns all that is kept here", "planner (you)", "Theo Lindqvist, who does not see")
	b.post(at+"/invite", http.StatusUnprocessableEntity, url.Values{"whom": {""}})
	b.post(at+"/invite", http.StatusNotFound, url.Values{"whom": {"as:priya"}})

	p := b.post(at+"/invite", http.StatusOK, url.Values{"whom": {"as:theo"}})
	p.has("The link for Theo Lindqvist", "shown this once", "For Theo Lindqvist", "Wed 2 Dec 2026")
	link := oneTime.FindStringSubmatch(p.Text)
	if link == nil {
		t.Fatalf("no link is shown:\n%s", p.Text)
	}
	// It goes to them as a person's link does.
	code, err := web.NewQR(s.URL + "/desk" + link[1])
	if err != nil {
		t.Fatal(err)
	}
	p.has("Here is your way in to plan Maren and Theo, Sat 18 Sep 2027: "+s.URL+"/desk"+link[1]+"\nOpen it within a week", `data-copy="message"`, code.Path,
		"No phone can reach this address yet", "choose there what to sign in with")
	hrefs := map[string]*url.URL{}
	for n := range p.root.Descendants() {
		if u, err := url.Parse(attr(n, "href")); err == nil && u.Scheme != "" {
			hrefs[u.Scheme] = u
		}
	}
	for scheme, want := range map[string]string{"sms": "+15550102", "mailto": "theo@example.org"} {
		if u := hrefs[scheme]; u == nil || u.Opaque != want || !strings.Contains(u.Query().Get("body"), s.URL+"/desk"+link[1]+"\r\n") {
			t.Errorf("%s leads to %v", scheme, hrefs[scheme])
		}
	}
	if p := b.get(at, http.StatusOK); oneTime.MatchString(p.Text) {
		t.Error("the link is shown twice")
	} else {
		p.lacks("A message to send", code.Path, "Here is your way in")
	}
	theo := s.browser(t)
	theo.post("/desk"+link[1], http.StatusOK, url.Values{"name": {"Theo"}, "passphrase": {long}}).has("Maren and Theo")
	p = b.get(at, http.StatusOK)
	p.has("Signs in as Theo Lindqvist")
	p.has("There is none. Make one above")
	theo.get(at, http.StatusNotFound)

	// Somebody who is to plan it sees it whole, and nothing else.
	p = b.post(at+"/invite", http.StatusOK, url.Values{"whom": {"planner"}})
	link = oneTime.FindStringSubmatch(p.Text)
	planner := s.browser(t)
	planner.post("/desk"+link[1], http.StatusOK, url.Values{"name": {"Odile"}, "passphrase": {long}}).has("Maren and Theo")
	planner.get(atWedding+"agreements/brass", http.StatusOK).has("Tin Gull") // which is hidden from Theo
	planner.get(at, http.StatusOK).has("Odile (you)")
	planner.get("/desk/new", http.StatusNotFound)

	// A link that was made and not used can be closed again.
	p = b.post(at+"/invite", http.StatusOK, url.Values{"whom": {"planner"}})
	link = oneTime.FindStringSubmatch(p.Text)
	p.has("A message to send")
	p.lacks("sms:", "mailto:", "There is none")
	b.post(at+"/uninvite", http.StatusOK, p.form()).has("There is none. Make one above")
	s.browser(t).get("/desk"+link[1], http.StatusGone).has("lets nobody in")

	dismiss := found(b.get(at, http.StatusOK).Text, `(?s)Signs in as Theo.*?(admits/\d+/dismiss)`)
	b.get(atWedding+dismiss, http.StatusOK).has("Let Theo in no more", "stays as it is")
	theo.get(atWedding, http.StatusOK)
	b.post(atWedding+dismiss, http.StatusOK, nil).lacks("Signs in as Theo")
	theo.get(atWedding, http.StatusNotFound)
	theo.get("/desk/", http.StatusOK).has("no wedding here that you may see")
	b.get(atWedding+dismiss, http.StatusNotFound)
}

// Who planned with somebody and has another part now is let in no further.
func TestAPartThatDoesNotSignIn(t *testing.T) {
	s := demoSite(t)
	theo := s.theo(t)
	theo.get(atWedding, http.StatusOK)
	if _, err := s.store.Update(t.Context(), store.Edit{Wedding: "maren-and-theo", Seen: 1, Sets: []store.Set{{Path: "people/theo/part", Value: []string{"family"}}}}, winter); err != nil {
		t.Fatal(err)
	}
	theo.get(atWedding, http.StatusNotFound)
	s.planner(t).get(atWedding+"admits", http.StatusOK).has("Sees nothing now")
}

// A planner who owns nothing lets in and dismisses, but neither an owner nor
// themselves.
func TestPlannersDismiss(t *testing.T) {
	s := demoSite(t)
	s.planner(t) // makes the owner
	odile := s.comesIn(t, "Odile", store.Invitation{Wedding: "maren-and-theo"})
	p := odile.get(atWedding+"admits", http.StatusOK)
	p.has("Odile (you)")
	p.lacks("/dismiss")
	for _, id := range []string{"1", "2"} {
		odile.get(atWedding+"admits/"+id+"/dismiss", http.StatusNotFound)
		odile.post(atWedding+"admits/"+id+"/dismiss", http.StatusNotFound, nil)
	}
	odile.get(atWedding+"admits", http.StatusOK)
}
