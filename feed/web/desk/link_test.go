package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"banns/store"
)

func TestLink(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	const at = atWedding + "people/priya/link"
	old := s.token(t, "priya")
	page := s.URL + "/p/" + old
	p := b.get(at, http.StatusOK)
	p.has(`value="`+page+`"`, "Here are your dates for Maren and Theo, Sat 18 Sep 2027: "+page, "No phone can reach this address yet", "A square code")
	hrefs := map[string]string{}
	for n := range p.root.Descendants() {
		if scheme, _, ok := strings.Cut(attr(n, "href"), ":"); ok {
			hrefs[scheme] = attr(n, "href")
		}
	}
	for scheme, want := range map[string]string{"sms": "+15550106", "mailto": "priya@example.org"} {
		u, err := url.Parse(hrefs[scheme])
		if err != nil || !strings.HasPrefix(hrefs[scheme], scheme+":"+want) || strings.Contains(hrefs[scheme], "+are") {
			t.Fatalf("%s leads to %q: %v", scheme, hrefs[scheme], err)
		}
		if body := u.Query().Get("body"); !strings.Contains(body, "dates for Maren and Theo, Sat 18 Sep 2027: "+page+"\r\nOpen it") {
			t.Errorf("%s sends %q", scheme, body)
		}
	}

	b.get(at+"/new", http.StatusOK).has("closes at once, for good")
	if s.token(t, "priya") != old {
		t.Fatal("asking has made a new link")
	}
	p = b.post(at+"/new", http.StatusOK, nil)
	fresh := s.token(t, "priya")
	if fresh == old || fresh == "" {
		t.Fatalf("the new link is %q, after %q", fresh, old)
	}
	p.has(fresh, "This is the new link.")
	b.get(at, http.StatusOK).lacks("This is the new link.")
	p.lacks(old)
	b.get(at+"/close", http.StatusOK).has("keeps what it copied")
	b.post(at+"/close", http.StatusOK, nil).has("it was closed", "Make a new link")
	if s.token(t, "priya") != "" {
		t.Error("the link still opens")
	}
	b.get(atWedding+"people", http.StatusOK).has("link closed")
	b.post(at+"/new", http.StatusOK, nil).has(s.token(t, "priya"))
}

// A partner has their own link and nobody else's, whether or not anything is
// hidden from them: an address that was seen once opens all that comes later.
func TestWhoseLinkAPartnerMayHave(t *testing.T) {
	s := demoSite(t)
	theo := s.theo(t)
	says := map[string]string{}
	for _, who := range []string{"theo", "arvid", "june", "kofi", "hanneke", "maren", "odile", "priya", "tomas", "marit"} {
		at := atWedding + "people/" + who
		p := theo.get(at, http.StatusOK)
		if who == "theo" {
			p.has("/people/theo/link\"", "to send, to renew or to close")
			theo.get(at+"/link", http.StatusOK).has(s.token(t, who))
			theo.get(at+"/link/new", http.StatusOK)
			theo.get(at+"/link/close", http.StatusOK)
			continue
		}
		before := s.token(t, who)
		p.has("so a planner gives it out")
		p.lacks("/link", before)
		for _, page := range []string{"/link", "/link/new", "/link/close"} {
			theo.get(at+page, http.StatusNotFound)
		}
		theo.post(at+"/link/new", http.StatusNotFound, nil)
		theo.post(at+"/link/close", http.StatusNotFound, nil)
		if s.token(t, who) != before {
			t.Errorf("Theo has changed the link of %s", who)
		}
		says[who] = strings.Replace(p.Text, `name="seen" value="1"`, "", 1)
	}
	if _, err := s.store.Update(t.Context(), store.Edit{Wedding: "maren-and-theo", Seen: 1, Sets: []store.Set{
		{Path: "appointments/secret/what", Value: []string{"A secret"}}, {Path: "appointments/secret/on", Value: []string{"2027-05-01"}},
		{Path: "appointments/secret/for", Value: []string{"kofi"}, List: true}, {Path: "appointments/secret/hide from", Value: []string{"theo"}, List: true},
	}}, winter); err != nil {
		t.Fatal(err)
	}
	for who, before := range says {
		if now := strings.Replace(theo.get(atWedding+"people/"+who, http.StatusOK).Text, `name="seen" value="2"`, "", 1); now != before {
			t.Errorf("the page of %s reads otherwise once something is hidden:\n%s\nand before\n%s", who, now, before)
		}
	}
}

// The first phone of a partner is their own.
func TestFirstPhoneOfAPartner(t *testing.T) {
	s := newSite(t, emptyPlan+"people: {ada: {name: Ada Quince, part: couple}, finn: {name: Finn Hale, part: couple}}\n")
	finn := s.comesIn(t, "Finn", store.Invitation{Wedding: "ada-and-finn", Person: "finn"})
	finn.get("/desk/w/ada-and-finn/", http.StatusOK).has(`people/finn/link">The first phone`)
}
