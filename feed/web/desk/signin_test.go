package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"banns/store"
)

func TestComingIn(t *testing.T) {
	s := demoSite(t)
	secret, err := s.store.Invite(t.Context(), store.Invitation{Owner: true}, winter)
	if err != nil {
		t.Fatal(err)
	}
	b := s.browser(t)
	b.get("/", http.StatusOK).has(`href="desk/"`)
	b.get("/desk/w/maren-and-theo/", http.StatusOK).has("Sign in")
	in := "/desk/in/" + secret
	b.get(in, http.StatusOK)
	b.get(in, http.StatusOK).has("12 characters or more") // a link preview spends nothing
	short := b.post(in, http.StatusUnprocessableEntity, url.Values{"name": {"Ida"}, "passphrase": {"short"}})
	short.has("twelve characters", `value="Ida"`)
	short.lacks("short")
	b.post(in, http.StatusOK, url.Values{"name": {"Ida"}, "passphrase": {long}}).has("Maren and Theo")
	s.browser(t).post(in, http.StatusGone, url.Values{"name": {"Eve"}, "passphrase": {long}}).has("used already", `href="../../desk/"`)

	b.get("/desk/me", http.StatusOK).has("this one")
	b.post("/desk/out", http.StatusOK, nil).has("Sign in")
	b.get("/desk/me", http.StatusOK).has("Sign in")
	b.post("/desk/in", http.StatusUnauthorized, url.Values{"name": {"Ida"}, "passphrase": {"something else"}}).has("do not belong together", `href="#passphrase"`, `value="Ida"`)
	p := b.post("/desk/in", http.StatusOK, url.Values{"name": {"ida"}, "passphrase": {long}, "to": {"w/maren-and-theo/day"}})
	if p.URL.Path != "/desk/w/maren-and-theo/day" {
		t.Errorf("signing in leads to %s", p.URL)
	}
	b.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	for _, to := range []string{"//example.org", "https://example.org/", `\\example.org`, "../../x", "javascript:alert(1)"} {
		res, err := b.PostForm(s.URL+"/desk/in", url.Values{"name": {"ida"}, "passphrase": {long}, "to": {to}})
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		if at, err := res.Location(); err != nil || !strings.HasPrefix(at.String(), s.URL+"/desk/") {
			t.Errorf("signing in to %q leads to %v: %v", to, at, err)
		}
	}
}

// A cookie goes to no script, and to no other site.
func TestCookie(t *testing.T) {
	s := demoSite(t)
	b := s.browser(t)
	b.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	got := b.get("/desk/door/open-sesame", http.StatusSeeOther).Head.Get("Set-Cookie")
	for _, want := range []string{"HttpOnly", "SameSite=Lax", "Path=/"} {
		if !strings.Contains(got, want) {
			t.Errorf("the cookie lacks %s: %s", want, got)
		}
	}
	b.get("/desk/door/open-says-me", http.StatusNotFound)
}

func TestCrossSite(t *testing.T) {
	s := demoSite(t)
	b := s.owner(t)
	for _, head := range []http.Header{{"Sec-Fetch-Site": {"cross-site"}}, {"Sec-Fetch-Site": {"same-site"}}, {"Origin": {"https://example.org"}}, {"Origin": {"null"}}} {
		req, err := http.NewRequest(http.MethodPost, s.URL+"/desk/w/maren-and-theo/day", strings.NewReader("wedding/title=Stolen"))
		if err != nil {
			t.Fatal(err)
		}
		req.Header = head
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		res, err := b.Do(req)
		b.page(res, err, http.StatusForbidden).has("came from another site")
	}
}

func TestDayForm(t *testing.T) {
	s := demoSite(t)
	b := s.owner(t)
	const path = "/desk/w/maren-and-theo/day"
	form := b.get(path, http.StatusOK).form()
	if form.Get("wedding/date") != "2027-09-18" || form.Get("wedding/place/city") != "Alder Harbor" {
		t.Fatalf("the form holds %v", form)
	}
	form.Set("wedding/date", "2027-10-02")
	b.post(path, http.StatusOK, form).has("Saved as version 2", "2027-10-02")

	bad := b.get(path, http.StatusOK).form()
	bad.Set("wedding/zone", "America/Detriot")
	bad.Set("wedding/title", `Maren & "Theo"`)
	p := b.post(path, http.StatusUnprocessableEntity, bad)
	p.has("Nothing was saved yet", "America/Detriot", `href="#wedding-zone"`, `aria-invalid="true"`)
	if p.form().Get("wedding/title") != `Maren & "Theo"` {
		t.Error("what was typed beside a fault is lost")
	}
}

// Two edit at once: what does not meet stands, and what does is shown.
func TestOverlappingForms(t *testing.T) {
	s := demoSite(t)
	b := s.owner(t)
	const path = "/desk/w/maren-and-theo/day"
	mine, theirs := b.get(path, http.StatusOK).form(), b.get(path, http.StatusOK).form()
	theirs.Set("wedding/title", "Theirs")
	b.post(path, http.StatusOK, theirs)
	mine.Set("wedding/title", "Mine")
	mine.Set("wedding/start", "15:00")
	p := b.post(path, http.StatusUnprocessableEntity, mine)
	p.has("somebody else has changed this", "Theirs: ", `value="Mine"`)
	again := p.form()
	b.post(path, http.StatusOK, again).has(`value="Mine"`, `value="15:00"`)
}

// A session that ends while somebody types takes nothing with it.
func TestEndedSessionKeepsTheForm(t *testing.T) {
	s := demoSite(t)
	b := s.owner(t)
	const path = "/desk/w/maren-and-theo/day"
	form := b.get(path, http.StatusOK).form()
	form.Set("wedding/title", `A "title" & more`)
	s.pass(store.SessionIdle + time.Hour)
	p := b.post(path, http.StatusUnauthorized, form)
	p.has("Nothing you typed is lost")
	in := p.form()
	in.Set("name", "Ida")
	in.Set("passphrase", "not the right one")
	in = b.post("/desk/in", http.StatusUnauthorized, in).form()
	in.Set("passphrase", long)
	p = b.post("/desk/in", http.StatusOK, in)
	p.has("You are signed in again")
	p = b.post(path, http.StatusOK, p.form())
	if got := p.form().Get("wedding/title"); got != `A "title" & more` {
		t.Errorf("the title came out as %q", got)
	}
}

func TestWhoSeesWhichWedding(t *testing.T) {
	s := demoSite(t)
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	theo.get("/desk/", http.StatusOK).has("Maren and Theo")
	doc, err := store.ReadPlan("plan", []byte("banns: 1\nwedding: {title: Ada and Finn, zone: UTC, currency: USD}\npeople:\n  ada: {name: Ada, part: couple}\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.store.Import(t.Context(), store.Import{Document: doc}, winter); err != nil {
		t.Fatal(err)
	}
	theo.get("/desk/w/ada-and-finn/", http.StatusNotFound).lacks("Ada")
	theo.post("/desk/w/ada-and-finn/day", http.StatusNotFound, url.Values{"wedding/title": {"x"}})
	s.owner(t).get("/desk/", http.StatusOK).has("Ada and Finn", "Maren and Theo")
}
