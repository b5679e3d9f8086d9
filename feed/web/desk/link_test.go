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
	p.has(fresh)
	p.lacks(old)
	b.get(at+"/close", http.StatusOK).has("keeps what it copied")
	b.post(at+"/close", http.StatusOK, nil).has("it was closed", "Make a new link")
	if s.token(t, "priya") != "" {
		t.Error("the link still opens")
	}
	b.get(atWedding+"people", http.StatusOK).has("link closed")
	b.post(at+"/new", http.StatusOK, nil).has(s.token(t, "priya"))
}

// A partner has their own link, and those of people whose dates they see one
// and all, what was withdrawn included.
func TestWhoseLinkAPartnerMayHave(t *testing.T) {
	s := demoSite(t)
	theo := s.theo(t)
	may := func(who string, may bool) {
		t.Helper()
		status := http.StatusNotFound
		if may {
			status = http.StatusOK
		}
		before := s.token(t, who)
		theo.get(atWedding+"people/"+who+"/link", status)
		theo.get(atWedding+"people/"+who+"/link/new", status)
		theo.get(atWedding+"people/"+who+"/link/close", status)
		p := theo.get(atWedding+"people/"+who, http.StatusOK)
		if may {
			p.has("/people/" + who + `/link"`)
			return
		}
		p.has("so a planner gives it out")
		p.lacks("/link", before)
		theo.post(atWedding+"people/"+who+"/link/new", status, nil)
		theo.post(atWedding+"people/"+who+"/link/close", status, nil)
		if s.token(t, who) != before {
			t.Errorf("Theo has changed the link of %s", who)
		}
	}
	for who, has := range map[string]bool{"theo": true, "arvid": true, "june": true, "kofi": true, "maren": false, "odile": false, "priya": false, "tomas": false, "marit": false} {
		may(who, has)
	}
	edit := func(seen int, sets ...store.Set) {
		t.Helper()
		if _, err := s.store.Update(t.Context(), store.Edit{Wedding: "maren-and-theo", Seen: seen, Sets: sets}, winter); err != nil {
			t.Fatal(err)
		}
	}
	edit(1, store.Set{Path: "appointments/secret/what", Value: []string{"A secret"}}, store.Set{Path: "appointments/secret/on", Value: []string{"2027-05-01"}},
		store.Set{Path: "appointments/secret/for", Value: []string{"kofi"}, List: true}, store.Set{Path: "appointments/secret/hide from", Value: []string{"theo"}, List: true},
		store.Set{Path: "appointments/open/what", Value: []string{"No secret"}}, store.Set{Path: "appointments/open/on", Value: []string{"2027-05-01"}},
		store.Set{Path: "appointments/open/for", Value: []string{"arvid"}, List: true})
	may("kofi", false)
	may("arvid", true)
	edit(2, store.Set{Path: "appointments/secret"}, store.Set{Path: "appointments/open"})
	may("kofi", false) // his page shows it as withdrawn
	may("arvid", true) // and so does Theo's
	// What has no day yet will stand on the page once it has.
	may("hanneke", true)
	edit(3, store.Set{Path: "agreements/rentals/papers/+1/says", Value: []string{"sketch 3 days after invoice"}},
		store.Set{Path: "agreements/rentals/papers/+1/for", Value: []string{"hanneke"}, List: true},
		store.Set{Path: "agreements/rentals/papers/+1/hide from", Value: []string{"theo"}, List: true})
	may("hanneke", false)
}
