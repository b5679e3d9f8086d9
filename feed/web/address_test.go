package web_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"banns/store"
)

// everyPage is every page there is, with its status.
func everyPage(t *testing.T, s *site) map[string]int {
	t.Helper()
	if err := s.store.Revoke(t.Context(), s.name, "ada", false, winter); err != nil {
		t.Fatal(err)
	}
	s.serve(t, "") // a server that knows of it
	return map[string]int{
		s.URL + "/":                         200,
		s.page("bea"):                       200,
		s.page("maren"):                     200,
		s.page("priya") + "?kept":           200,
		s.page("ada"):                       410,
		s.URL + "/p/" + s.tokens["bea"][1:]: 404,
		s.URL + "/p/" + strings.Repeat("a", store.TokenSize): 404,
		s.URL + "/weddings":     404,
		s.URL + "/a/b/c":        404,
		s.URL + "/static/x.css": 404,
	}
}

func TestHeadersOfEveryPage(t *testing.T) {
	s := demoSite(t)
	for url, status := range everyPage(t, s) {
		for _, method := range []string{http.MethodGet, http.MethodHead} {
			a := ask(t, method, url, "").wants(t, status).
				header(t, "Content-Type", "text/html; charset=utf-8").
				header(t, "Referrer-Policy", "no-referrer").
				header(t, "X-Robots-Tag", "noindex").
				header(t, "X-Content-Type-Options", "nosniff").
				header(t, "Cache-Control", "private, no-store").
				header(t, "Content-Security-Policy", "default-src 'none'; style-src 'self'; script-src 'self'; "+
					"img-src 'self' data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
			if len(a.Cookies()) > 0 {
				t.Errorf("%s sets a cookie", url)
			}
		}
	}
}

var (
	address  = regexp.MustCompile(`(?:src|href|action|data|srcset|poster)="([^"]*)"`)
	external = regexp.MustCompile(`^(?:[a-z]+:)?//|^[a-z]+:`)
	inline   = regexp.MustCompile(`<style|<script[^>]*>[^<]|\son[a-z]+=|\sstyle=`)
)

// A page loads nothing from elsewhere, leads nowhere else, and has nothing
// that its policy would refuse.
func TestNoPageLeadsElsewhere(t *testing.T) {
	s := demoSite(t)
	for url := range everyPage(t, s) {
		body := get(t, url).body
		for _, found := range address.FindAllStringSubmatch(body, -1) {
			ours := strings.HasPrefix(found[1], "webcal://"+strings.TrimPrefix(s.URL, "http://")+"/c/") || found[1] == "data:,"
			if external.MatchString(found[1]) && !ours {
				t.Errorf("%s leads to %s", url, found[1])
			}
		}
		if found := inline.FindString(body); found != "" {
			t.Errorf("%s has %q, which its policy refuses", url, found)
		}
		for _, want := range []string{`<html lang="en">`, `<meta name="viewport"`, "<main", "<h1>"} {
			if !strings.Contains(body, want) {
				t.Errorf("%s has no %s", url, want)
			}
		}
	}
	for _, name := range []string{"banns.css", "copy.js"} {
		if body := get(t, s.URL+"/static/"+name).body; strings.Contains(body, "//") && regexp.MustCompile(`(?:https?:)?//[a-z]|@import|url\(`).MatchString(body) {
			t.Errorf("%s loads from elsewhere", name)
		}
	}
}

func TestAssets(t *testing.T) {
	s := demoSite(t)
	for url := range everyPage(t, s) {
		d := read(t, get(t, url))
		// As a browser resolves it, whatever the depth of the page.
		base := url[:strings.LastIndex(url, "/")+1]
		href := d.attribute(t, "link[rel=stylesheet]", "href")
		for strings.HasPrefix(href, "../") {
			href, base = href[3:], base[:strings.LastIndex(base[:len(base)-1], "/")+1]
		}
		a := get(t, base+href).wants(t, 200).header(t, "Content-Type", "text/css; charset=utf-8").
			header(t, "Cache-Control", "public, max-age=31536000, immutable")
		get(t, base+href, "If-None-Match", a.Header.Get("Etag")).wants(t, 304)
		get(t, base+href, "If-None-Match", `"other"`).wants(t, 200)
	}
	get(t, s.URL+"/static/copy.js").wants(t, 200).header(t, "Content-Type", "text/javascript; charset=utf-8").
		header(t, "Cache-Control", "no-cache").header(t, "X-Content-Type-Options", "nosniff")
}

func TestFrontPageListsNobody(t *testing.T) {
	s := demoSite(t)
	said := text(read(t, get(t, s.URL+"/")).Node)
	for _, word := range []string{"Maren", "Theo", s.name, "Bea", s.tokens["bea"]} {
		if strings.Contains(said, word) {
			t.Errorf("the front page says %q", word)
		}
	}
	for _, want := range []string{"private address", "Whoever runs the wedding"} {
		if !strings.Contains(said, want) {
			t.Errorf("the front page does not say %q", want)
		}
	}
	get(t, s.URL+"/healthz").wants(t, 200)
}

func TestClosedAndUnknownPagesSayWhatToDo(t *testing.T) {
	s := demoSite(t)
	for url, status := range everyPage(t, s) {
		want, title := map[int]string{404: "ask whoever runs the wedding", 410: "Ask whoever runs the wedding for your new link"}[status],
			map[int]string{404: "There is nothing at this address", 410: "This address was closed"}[status]
		if want == "" {
			continue
		}
		d := read(t, get(t, url))
		if d.one(t, "h1") != title || d.one(t, "title") != title || !strings.Contains(d.one(t, "main"), want) {
			t.Errorf("%s says %q", url, d.one(t, "main"))
		}
	}
}

func TestRemindersChangeTheFeed(t *testing.T) {
	s := demoSite(t)
	s.goTo(winter.Add(time.Hour))
	for _, row := range []struct {
		choice, says    string
		alarms, notices bool
	}{
		{"both", "Kept: Both.", true, true},
		{"none", "Kept: Neither.", false, false},
		{"notice", "Kept: An early notice.", false, true},
		{"alarm", "Kept: An alarm.", true, false},
	} {
		other := get(t, s.calendar("ada")).body
		a := ask(t, "POST", s.page("bea")+"/reminders", "reminders="+row.choice, append(formType, "Sec-Fetch-Site", "same-origin")...).
			wants(t, http.StatusSeeOther).
			header(t, "Location", "../"+s.tokens["bea"]+"?kept#kept").
			header(t, "Referrer-Policy", "no-referrer")
		back, err := a.Location() // relative to the form's address
		if err != nil {
			t.Fatal(err)
		}
		d := read(t, get(t, back.String()).wants(t, 200))
		if got := d.one(t, "#kept"); !strings.HasPrefix(got, row.says) {
			t.Errorf("%s: the page confirms %q", row.choice, got)
		}
		if got := d.attribute(t, "input[checked]", "value"); got != row.choice {
			t.Errorf("%s was kept, and %s is chosen", row.choice, got)
		}
		body := get(t, s.calendar("bea")).body
		calendarIn(t, body)
		if strings.Contains(body, "BEGIN:VALARM") != row.alarms || strings.Contains(body, "SUMMARY:By Fri 21 May: Pay") != row.notices {
			t.Errorf("%s: alarms or notices are not as chosen", row.choice)
		}
		if get(t, s.calendar("ada")).body != other {
			t.Error("another person's calendar changed")
		}
	}
}

func TestRemindersRefuse(t *testing.T) {
	s := demoSite(t)
	pages := everyPage(t, s)
	form := s.page("bea") + "/reminders"
	before := get(t, s.calendar("bea")).body
	for _, row := range []struct {
		url, body string
		headers   []string
		status    int
	}{
		{form, "reminders=both", []string{"Sec-Fetch-Site", "cross-site"}, 403},
		{form, "reminders=both", []string{"Sec-Fetch-Site", "same-site"}, 403},
		{form, "reminders=both", []string{"Sec-Fetch-Site", "cross-site", "Origin", "null"}, 403},
		{form, "reminders=both", []string{"Origin", "https://evil.example"}, 403},
		{form, "reminders=loud", nil, 400},
		{form, "", nil, 400},
		{form, "reminders=%zz", nil, 400},
		{form + "?reminders=both", "", nil, 400}, // what a link could do
		{form, "reminders=both&more=" + strings.Repeat("x", 2000), nil, 413},
		{s.URL + "/p/" + strings.Repeat("a", store.TokenSize) + "/reminders", "reminders=both", nil, 404},
		{s.page("bea"), "reminders=both", nil, 405},
	} {
		ask(t, "POST", row.url, row.body, append(row.headers, formType...)...).wants(t, row.status)
	}
	for url, status := range pages {
		if status == 410 {
			ask(t, "POST", url+"/reminders", "reminders=both", formType...).wants(t, 410)
		}
	}
	get(t, form).wants(t, 405)
	if get(t, s.calendar("bea")).body != before {
		t.Error("what was refused changed the calendar")
	}
	// Our own page, over plain http in a home's network, and no browser at all.
	ask(t, "POST", form, "reminders=both", append(formType, "Origin", "null")...).wants(t, 303)
	ask(t, "POST", form, "reminders=alarm", formType...).wants(t, 303)
	silent(t, s)
}
