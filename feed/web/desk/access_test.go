package desk_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"banns/feed/web"
	"banns/feed/web/desk"
	"banns/store"
)

// Whoever has no one-time link cannot try passphrases by pretending to.
func TestSpentLinksTryNothing(t *testing.T) {
	s := demoSite(t)
	ida := s.owner(t)
	b := s.browser(t)
	var said []string
	for _, passphrase := range []string{long, "not the passphrase"} {
		said = append(said, b.post("/desk/in/nothing", http.StatusGone, url.Values{"name": {"Ida"}, "passphrase": {passphrase}}).Text)
	}
	if said[0] != said[1] {
		t.Error("a link that lets nobody in tells a right passphrase from a wrong one")
	}
	for range 5 {
		b.post("/desk/in", http.StatusUnauthorized, url.Values{"name": {"Ida"}, "passphrase": {"not the passphrase"}})
	}
	b.post("/desk/in", http.StatusTooManyRequests, url.Values{"name": {"Ida"}, "passphrase": {long}}).has("Wait until 09:00:02 UTC")
	secret, err := s.store.Invite(t.Context(), store.Invitation{Wedding: "maren-and-theo"}, winter)
	if err != nil {
		t.Fatal(err)
	}
	b.post("/desk/in/"+secret, http.StatusTooManyRequests, url.Values{"name": {"Ida"}, "passphrase": {long}}).has("Wait until 09:00:02 UTC")
	b.post("/desk/in/"+secret, http.StatusUnprocessableEntity, url.Values{"name": {strings.Repeat("x", 101)}, "passphrase": {long}})
	ida.post("/desk/me/passphrase", http.StatusTooManyRequests, url.Values{"old": {long}, "new": {"four other words here"}}).has("Wait until")
}

func TestYou(t *testing.T) {
	s := demoSite(t)
	b := s.owner(t)
	onPhone := func() *browser {
		req, err := http.NewRequest(http.MethodPost, s.URL+"/desk/in", strings.NewReader(url.Values{"name": {"Ida"}, "passphrase": {long}}.Encode()))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		req.Header.Set("User-Agent", "Mozilla/5.0 (iPhone; CPU iPhone OS 19_0 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/19.0 Mobile/15E148 Safari/604.1")
		phone := s.browser(t)
		res, err := phone.Do(req)
		phone.page(res, err, http.StatusOK).has("Maren and Theo")
		return phone
	}
	phone := onPhone()
	p := b.get("/desk/me", http.StatusOK)
	p.has("Safari on an iPhone", "A browser that does not say what it is (this one)", "Since Wed 25 Nov 2026, 09:00 UTC; last used Wed 25 Nov 2026",
		"since Wed 25 Nov 2026, 09:00 UTC, this one</span>", "since Wed 25 Nov 2026, 09:00 UTC</span>")
	b.post("/desk/me/end", http.StatusOK, url.Values{"session": {found(p.Text, `(?s)Safari on an iPhone.*?name="session" value="(\d+)"`)}}).lacks("Safari on an iPhone")
	phone.get("/desk/me", http.StatusOK).has("Sign in")
	b.get("/desk/me", http.StatusOK).has("(this one)")

	phone = onPhone()
	b.post("/desk/me/passphrase", http.StatusUnprocessableEntity, url.Values{"old": {"not the passphrase"}, "new": {"four other words here"}}).has("is another", `aria-describedby=" old-fault"`)
	b.post("/desk/me/passphrase", http.StatusUnprocessableEntity, url.Values{"old": {long}, "new": {"short"}}).has("twelve characters", `aria-describedby="new-hint new-fault"`)
	b.post("/desk/me/passphrase", http.StatusOK, url.Values{"old": {long}, "new": {"four other words here"}}).has("another now", "(this one)")
	phone.get("/desk/me", http.StatusOK).has("Sign in")
	s.planner(t).get("/desk/me", http.StatusOK).lacks("Your passphrase is another", "You have none") // the first owner is Ida
	demo := demoSite(t)
	demo.planner(t).get("/desk/me", http.StatusOK).has("You have none")
}

// Behind a proxy that speaks TLS and puts a name of its own for Host, our own
// forms are taken, others are not, and the cookie goes over TLS alone.
func TestBehindAProxy(t *testing.T) {
	s := demoSite(t)
	options := s.desk.Options
	options.Public = "https://Dates.Example.org:443"
	d := desk.New(options)
	w, err := web.New(t.Context(), web.Options{Store: s.store, Now: s.now, Log: options.Log, Public: options.Public, Desk: d})
	if err != nil {
		t.Fatal(err)
	}
	ask := func(method, path string, headers ...string) *http.Response {
		r := httptest.NewRequest(method, "http://backend:8470"+path, nil)
		for i := 0; i < len(headers); i += 2 {
			r.Header.Add(headers[i], headers[i+1])
		}
		rec := httptest.NewRecorder()
		w.ServeHTTP(rec, r)
		return rec.Result()
	}
	in := ask(http.MethodGet, "/desk/door/open-sesame")
	if cookie := in.Header.Get("Set-Cookie"); !strings.Contains(cookie, "; Secure") {
		t.Errorf("the cookie is %s", cookie)
	}
	cookie := in.Cookies()[0]
	for _, row := range []struct {
		origin string
		status int
	}{
		{"https://dates.example.org", http.StatusSeeOther},
		{"http://dates.example.org", http.StatusForbidden},
		{"https://dates.example.org.evil.example", http.StatusForbidden},
		{"https://example.org", http.StatusForbidden},
		{"null", http.StatusForbidden},
	} {
		res := ask(http.MethodPost, "/desk/w/maren-and-theo/people/priya/link/close", "Cookie", cookie.Name+"="+cookie.Value, "Origin", row.origin)
		if res.StatusCode != row.status {
			t.Errorf("a form of %s is answered with %d", row.origin, res.StatusCode)
		}
		token := s.token(t, "bea")
		res = ask(http.MethodPost, "/p/"+token+"/reminders", "Origin", row.origin)
		if refused := res.StatusCode == http.StatusForbidden; refused != (row.status == http.StatusForbidden && row.origin != "null") {
			t.Errorf("a choice of reminders from %s is answered with %d", row.origin, res.StatusCode)
		}
	}
	res := ask(http.MethodGet, "/desk/w/maren-and-theo/people/bea/link", "Cookie", cookie.Name+"="+cookie.Value)
	if res.StatusCode != http.StatusOK {
		t.Errorf("the page answers %d", res.StatusCode)
	}
}
