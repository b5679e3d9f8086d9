package desk_test

import (
	"context"
	"database/sql"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"banns/store"
)

// answer is what came of one request, with nothing followed.
type answer struct {
	status int
	head   http.Header
	body   string // as it reads, where it is a page
	raw    []byte // as it came; packed, where that was asked for
}

// ask sends a request as a browser would from one of our own pages.
func (b *browser) ask(method, path string, form url.Values, headers ...string) answer {
	b.t.Helper()
	req, err := http.NewRequestWithContext(b.t.Context(), method, b.site.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		b.t.Fatal(err)
	}
	if method == http.MethodPost {
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	for i := 0; i < len(headers); i += 2 {
		req.Header.Set(headers[i], headers[i+1])
	}
	res, err := (&http.Client{Jar: b.Jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}).Do(req)
	if err != nil {
		b.t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	return answer{res.StatusCode, res.Header, html.UnescapeString(string(body)), body}
}

// tells is the first of words that an answer has.
func (a answer) tells(words ...string) string {
	said := strings.ToLower(a.body + "\n" + a.head.Get("Location") + "\n" + a.head.Get("Content-Disposition"))
	for _, word := range words {
		if strings.Contains(said, strings.ToLower(word)) {
			return word
		}
	}
	return ""
}

// witness notices whether anything is written to the site's database.
type witness struct {
	conn *sql.Conn
	last int64
}

func (s *site) witness(t testing.TB) *witness {
	t.Helper()
	conn, err := s.db(t).Conn(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	w := &witness{conn: conn}
	w.changed(t)
	return w
}

// changed reports whether anybody has written since it was last asked.
func (w *witness) changed(t testing.TB) bool {
	t.Helper()
	var now int64
	if err := w.conn.QueryRowContext(context.Background(), "pragma data_version").Scan(&now); err != nil {
		t.Fatal(err)
	}
	was := w.last
	w.last = now
	return now != was
}

// stolen is a form that means harm: fields of what is hidden, named by their
// paths.
var stolen = url.Values{
	"wedding/title": {"Stolen"}, "agreements/brass/note": {"Stolen"}, "agreements/brass/hide from": {""}, "agreements/dress/change/change-1/hide from": {""},
	"appointments/priya-fitting/what": {"Stolen"}, "appointments/priya-fitting/hide from": {""}, "occasions/last-song/hide from": {""},
	"countdown/add/zeppelin/hide from": {""}, "people/bram/name": {"Stolen"}, "people/theo/part": {"planner"}, "people/theo/groups": {"readers"},
	"whom": {"planner"}, "seen": {"1"}, "session": {"1"}, "account": {"1"}, "link": {"00"},
}

// Whoever is not signed in sees and changes nothing.
func TestNobodyGetsIn(t *testing.T) {
	s := walkedSite(t)
	w, nobody := s.witness(t), s.browser(t)
	for _, r := range s.routes(t) {
		if r.public() {
			continue
		}
		hidden, theirs := s.hidden(t, r)
		for _, path := range slices.Concat(s.seen(t, r), hidden, theirs) {
			a := nobody.ask(r.method, path, stolen)
			asked := a.status == http.StatusSeeOther && strings.Contains(a.head.Get("Location"), "desk/in?to=")
			if r.method == http.MethodPost {
				asked = a.status == http.StatusUnauthorized && strings.Contains(a.body, "Nothing you typed is lost")
			}
			if !asked {
				t.Errorf("%s %s answers %d to nobody: %s", r.method, path, a.status, a.body)
			}
			if word := a.tells("Okafor", "Lindqvist", "Alder Harbor", "Hollow Oak"); word != "" {
				t.Errorf("%s %s tells nobody of %s", r.method, path, word)
			}
			if len(a.head.Values("Set-Cookie")) > 0 || w.changed(t) {
				t.Errorf("%s %s of nobody leaves something behind", r.method, path)
			}
		}
	}
}

// Whoever has a print is told whether it still holds and nothing else: of a
// plan in which each word differs, the page is the same. No print is made of
// another.
func TestPrintsTellNothingElse(t *testing.T) {
	s := walkedSite(t)
	other, err := s.store.WeddingCalled(t.Context(), "ada-and-finn")
	if err != nil {
		t.Fatal(err)
	}
	theirs, err := s.store.PrintToken(t.Context(), store.Print{Wedding: other.ID, Month: "2027-06", Version: 1})
	if err != nil {
		t.Fatal(err)
	}
	w, nobody := s.witness(t), s.browser(t)
	for _, r := range s.routes(t) {
		if !r.ofPrint() {
			continue
		}
		for _, path := range s.seen(t, r) {
			said := nobody.ask(r.method, path, nil)
			if said.status != http.StatusOK || said.tells("Yes. ") == "" {
				t.Errorf("GET %s answers %d: %s", path, said.status, said.body)
			}
			for _, a := range []answer{said, s.stranger.ask(r.method, path, nil)} {
				for _, word := range slices.Concat(hiddenWords, []string{"Maren", "Theo", "Okafor", "Lindqvist", "Alder Harbor", "Detroit", "Hollow Oak", "Aug", "2027", "/w/", "changed elsewhere"}) {
					if a.tells(word) != "" {
						t.Errorf("GET %s tells of %q: %s", path, word, a.body)
					}
				}
			}
			token := path[strings.LastIndex(path, "/")+1:]
			for n := range token { // each letter of it counts
				bad := "a"
				if token[n] == 'a' {
					bad = "b"
				}
				if a := nobody.ask(r.method, strings.TrimSuffix(path, token)+token[:n]+bad+token[n+1:], nil); a.status != http.StatusNotFound {
					t.Fatalf("with another letter %d, %s answers %d", n, path, a.status)
				}
			}
			for _, at := range []string{"/p/" + token, "/d/" + token, "/desk/in/" + token, "/c/" + token + ".ics"} {
				if a := nobody.ask(http.MethodGet, at, nil); a.status != http.StatusNotFound && a.status != http.StatusGone {
					t.Errorf("%s answers %d", at, a.status)
				}
			}
			if w.changed(t) || len(said.head.Values("Set-Cookie")) > 0 {
				t.Errorf("GET %s of nobody leaves something behind", path)
			}
		}
	}
	if a := s.theo.ask(http.MethodGet, "/desk/paper/"+theirs, nil); a.tells("Ada", "Finn", "Maren", "/w/") != "" || a.status != http.StatusOK {
		t.Errorf("a print of another wedding tells Theo: %s", a.body)
	}
	// Another wedding changes nothing of it.
	if _, err := s.store.Update(t.Context(), store.Edit{Wedding: "ada-and-finn", Seen: 1, Sets: []store.Set{{Path: "occasions/party/what", Value: []string{"Feast"}}}}, winter); err != nil {
		t.Fatal(err)
	}
	if a := nobody.ask(http.MethodGet, "/desk/paper/"+s.accounts["PRINT"], nil); a.tells("Yes. ") == "" {
		t.Errorf("after a change of another wedding it says %s", a.body)
	}
}

// Whoever plans another wedding finds nothing of this one.
func TestStrangersFindNothing(t *testing.T) {
	s := walkedSite(t)
	w := s.witness(t)
	for _, r := range s.routes(t) {
		if !r.ofWedding() {
			continue
		}
		hidden, theirs := s.hidden(t, r)
		for _, path := range slices.Concat(s.seen(t, r), hidden, theirs) {
			a := s.stranger.ask(r.method, path, stolen)
			if a.status != http.StatusNotFound {
				t.Errorf("%s %s answers %d to another's planner", r.method, path, a.status)
			}
			if word := a.tells("Okafor", "Lindqvist", "Alder Harbor", "Hollow Oak"); word != "" {
				t.Errorf("%s %s tells another's planner of %s", r.method, path, word)
			}
			if w.changed(t) {
				t.Errorf("%s %s of another's planner changes something", r.method, path)
			}
		}
	}
}

// A partner sees no word of what is hidden from them, and changes nothing of
// it, wherever they look.
func TestHiddenStaysHidden(t *testing.T) {
	s := walkedSite(t)
	w := s.witness(t)
	shown := map[string]bool{}
	for _, r := range s.routes(t) {
		hidden, theirs := s.hidden(t, r)
		nothing := ""
		for _, path := range slices.Concat(hidden, theirs) {
			a := s.theo.ask(r.method, path, stolen)
			if a.status != http.StatusNotFound || a.tells(hiddenWords...) != "" {
				t.Errorf("%s %s answers %d to Theo, and tells of %q", r.method, path, a.status, a.tells(hiddenWords...))
			}
			if nothing == "" {
				nothing = a.body
			} else if a.body != nothing {
				t.Errorf("%s %s reads otherwise than what is not there: %s", r.method, path, difference(a.body, nothing))
			}
			if w.changed(t) {
				t.Errorf("%s %s of Theo changes something", r.method, path)
			}
		}
		if r.method != http.MethodGet || r.public() && !r.ofPrint() {
			continue
		}
		for _, path := range s.seen(t, r) {
			a := s.theo.ask(r.method, path, nil)
			if word := a.tells(hiddenWords...); word != "" {
				t.Errorf("GET %s tells Theo of %q", path, word)
			}
			if a.status >= 400 && a.status != http.StatusNotFound { // a page may be for planners alone
				t.Errorf("GET %s answers %d to Theo", path, a.status)
			}
			whole := s.planner.ask(r.method, path, nil)
			for _, word := range hiddenWords {
				shown[word] = shown[word] || whole.tells(word) != ""
			}
		}
	}
	for _, word := range hiddenWords {
		if !shown[word] {
			t.Errorf("nothing is proved by %q: no page shows it to a planner either", word)
		}
	}
}

// Whatever a partner sends to what they do see, what is hidden stays as it
// was, and so does what it is hidden by.
func TestPartnersReachNothingHidden(t *testing.T) {
	s := walkedSite(t)
	const page = "/desk/w/maren-and-theo/"
	kept := []string{"agreements/brass/note", "agreements/brass/hide from", "agreements/dress/change/change-1/hide from", "appointments/priya-fitting/what",
		"appointments/priya-fitting/hide from", "occasions/last-song/hide from", "countdown/add/zeppelin/hide from", "people/bram/name", "people/theo/part", "people/theo/groups"}
	values := func() (all []string) {
		doc, err := s.store.Load(t.Context(), "maren-and-theo")
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range kept {
			all = append(all, strings.Join(doc.At(path), ", "))
		}
		return all
	}
	before := values()
	insiders, err := s.store.Insiders(t.Context(), "0123456789abcdef")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range s.routes(t) {
		if r.method != http.MethodPost || !r.ofWedding() {
			continue
		}
		for _, path := range s.seen(t, r) {
			form := url.Values{}
			if a := s.theo.ask(http.MethodGet, path, nil); a.status == http.StatusOK {
				form = s.theo.get(path, http.StatusOK).form()
			}
			for name, values := range stolen {
				if !form.Has(name) || strings.HasPrefix(name, "people/") {
					form[name] = values
				}
			}
			if a := s.theo.ask(r.method, path, form); a.status >= 500 || a.tells(hiddenWords...) != "" {
				t.Errorf("POST %s answers %d to Theo, and tells of %q", path, a.status, a.tells(hiddenWords...))
			}
			for n, value := range values() {
				if value != before[n] {
					t.Fatalf("POST %s of Theo makes %s %q, and it was %q", path, kept[n], value, before[n])
				}
			}
		}
	}
	after, err := s.store.Insiders(t.Context(), "0123456789abcdef")
	if err != nil || !slices.Equal(insiders, after) {
		t.Errorf("%+v can sign in, and before Theo tried %+v: %v", after, insiders, err)
	}
	s.theo.get(page, http.StatusOK)
}

// A planner finds every page, and nothing by names of another wedding, where
// it does stand, or of nothing at all. Looking changes nothing.
func TestPlannersFindTheirOwn(t *testing.T) {
	s := walkedSite(t)
	w := s.witness(t)
	for _, r := range s.routes(t) {
		_, theirs := s.hidden(t, r)
		for _, path := range theirs {
			if a := s.planner.ask(r.method, path, stolen); a.status != http.StatusNotFound || w.changed(t) {
				t.Errorf("%s %s answers %d to a planner of this wedding", r.method, path, a.status)
			}
		}
		if r.method != http.MethodGet || r.public() && !r.ofPrint() {
			continue
		}
		for _, path := range s.there(t, r) {
			if a := s.planner.ask(r.method, path, nil); a.status != http.StatusOK {
				t.Errorf("GET %s answers %d to its planner", path, a.status)
			}
			if w.changed(t) {
				t.Errorf("GET %s changes something", path)
			}
		}
		if path := s.elsewhere(t, r); path != "" {
			if a := s.planner.ask(r.method, path, nil); a.status != http.StatusOK {
				t.Errorf("nothing is proved by %s: it answers %d to its planner", path, a.status)
			}
		}
	}
	sessions := s.planner.ask(http.MethodPost, "/desk/me/end", url.Values{"session": {"2"}}) // Theo's
	if sessions.status != http.StatusNotFound || w.changed(t) {
		t.Errorf("ending another's session answers %d", sessions.status)
	}
}
