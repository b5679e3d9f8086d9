package desk_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"golang.org/x/net/html"

	"banns/feed/web/browse"
	"banns/store"
)

// mustWrite are the forms that cannot be sent empty, and the page that each
// is on, where that is another.
var mustWrite = map[string]string{
	"/in":                                        "",
	"/in/{secret}":                               "",
	"/me/passphrase":                             "/me",
	"/new":                                       "",
	"/w/{wedding}/day":                           "",
	"/w/{wedding}/away":                          "/w/{wedding}/dates",
	"/w/{wedding}/add/appointment":               "",
	"/w/{wedding}/add/occasion":                  "",
	"/w/{wedding}/add/milestone":                 "",
	"/w/{wedding}/add/person":                    "",
	"/w/{wedding}/add/agreement":                 "",
	"/w/{wedding}/appointments/{key}":            "",
	"/w/{wedding}/occasions/{key}":               "",
	"/w/{wedding}/countdown/{key}":               "",
	"/w/{wedding}/people/{person}":               "",
	"/w/{wedding}/agreements/{agreement}":        "",
	"/w/{wedding}/agreements/{agreement}/copies": "",
	"/w/{wedding}/questions/{question}":          "",
	"/w/{wedding}/admits/invite":                 "/w/{wedding}/admits",
	"/w/{wedding}/weigh/shortlist":               "/w/{wedding}/weigh",
	"/w/{wedding}/events":                        "",
	"/w/{wedding}/events/address":                "/w/{wedding}/events",
	"/w/{wedding}/events/written":                "/w/{wedding}/events",
}

// mayBeEmpty are the others: buttons, what may be left out, and what is read
// while it is typed.
var mayBeEmpty = []string{
	"/out", "/me/end", "/w/{wedding}/away/end", "/w/{wedding}/countdown", "/w/{wedding}/licence",
	"/w/{wedding}/appointments/{key}/remove", "/w/{wedding}/occasions/{key}/remove",
	"/w/{wedding}/countdown/{key}/tick", "/w/{wedding}/countdown/{key}/drop", "/w/{wedding}/countdown/{key}/back",
	"/w/{wedding}/people/{person}/out", "/w/{wedding}/people/{person}/link/new", "/w/{wedding}/people/{person}/link/close",
	"/w/{wedding}/add/agreement/read", "/w/{wedding}/agreements/{agreement}/read", "/w/{wedding}/agreements/{agreement}/copies/{copy}",
	"/w/{wedding}/admits/uninvite", "/w/{wedding}/admits/{account}/dismiss", "/w/{wedding}/history/{version}/back",
	"/w/{wedding}/weigh/share", "/w/{wedding}/weigh/share/close", "/w/{wedding}/weigh/{day}/settle",
	"/w/{wedding}/events/order", "/w/{wedding}/events/written/take", "/w/{wedding}/events/{source}/remove",
}

// Every form that is sent with nothing in it says so above, and beside each
// field that it is about.
func TestEmptyForms(t *testing.T) {
	s := walkedSite(t)
	b, w := s.comesIn(t, "Ida", store.Invitation{Owner: true}), s.witness(t)
	for _, r := range s.routes(t) {
		page, must := mustWrite[r.pattern]
		switch {
		case r.method != http.MethodPost:
			continue
		case !must && !slices.Contains(mayBeEmpty, r.pattern):
			t.Errorf("%s: what becomes of it when it is sent empty? Add it to mustWrite or mayBeEmpty in empty_test.go", r.pattern)
			continue
		case !must:
			continue
		case page == "":
			page = r.pattern
		}
		path := s.path(t, r, "", "")
		p := b.post(path, http.StatusUnprocessableEntity, b.get(s.path(t, route{http.MethodGet, page}, "", ""), http.StatusOK).emptied())
		p.faultsStandTwice()
		if w.changed(t) {
			t.Errorf("%s: sent empty, it changes something", path)
		}
	}
}

// tellsFault reports whether an element is a fault, or has one in it.
func tellsFault(n *html.Node) bool {
	for c := range n.Descendants() {
		if attr(c, "class") == "fault" {
			return true
		}
	}
	return attr(n, "class") == "fault"
}

// emptied is what the page's forms would send with nothing filled in.
func (p seenPage) emptied() url.Values {
	form := p.form()
	for n := range p.root.Descendants() {
		if name := attr(n, "name"); name != "" && n.Type == html.ElementNode && n.Data != "button" && attr(n, "type") != "hidden" {
			form[name] = []string{""}
		}
	}
	return form
}

// faultsStandTwice fails where what is wrong does not stand above the form, or
// not beside the field that it leads to.
func (p seenPage) faultsStandTwice() {
	p.t.Helper()
	by := map[string]*html.Node{}
	for n := range p.root.Descendants() {
		if id := attr(n, "id"); id != "" {
			by[id] = n
		}
	}
	if by["faults"] == nil {
		p.t.Errorf("%s: nothing above says what is wrong", p.URL.Path)
		return
	}
	led := 0
	for n := range by["faults"].Descendants() {
		id, ok := strings.CutPrefix(attr(n, "href"), "#")
		if !ok {
			continue
		}
		led++
		told := false
		if at := by[id]; at != nil && attr(at, "aria-invalid") == "true" {
			for _, one := range strings.Fields(attr(at, "aria-describedby")) {
				told = told || by[one] != nil && tellsFault(by[one])
			}
		}
		if !told {
			p.t.Errorf("%s: %q leads to #%s, which does not say so", p.URL.Path, textOf(n), id)
		}
	}
	if led == 0 {
		p.t.Errorf("%s: what is wrong leads to no field: %s", p.URL.Path, textOf(by["faults"]))
	}
}

// Forms that were refused are accessible too, on a small phone.
func TestRefusedFormsAreAccessible(t *testing.T) {
	script := browse.Axe(t, "../../..")
	s := demoSite(t)
	ctx := browse.Start(t)
	browse.Lend(t, ctx, s.owner(t).Jar, s.URL)
	for _, one := range []struct{ page, action string }{
		{"/desk/me", "desk/me/passphrase"},
		{atWedding + "admits", "admits/invite"},
		{atWedding + "events", "/events"},
		{theAgreements + "/bar/copies", "/copies"},
		{atWedding + "weigh", "weigh/shortlist"},
		{"/desk/in", "desk/in"},
	} {
		browse.Do(t, ctx, chromedp.EmulateViewport(320, 800), chromedp.Navigate(s.URL+one.page))
		send := `(() => { const form = [...document.forms].findLast(f => f.action.endsWith("` + one.action + `")); form.noValidate = true; form.querySelector("button").id = "send"; })(); null`
		browse.Tell[any](t, ctx, send)
		if res, err := chromedp.RunResponse(ctx, chromedp.Click(chromedp.CSS("#send"))); err != nil || res.Status != http.StatusUnprocessableEntity {
			t.Errorf("%s answers %v, %v", one.page, res, err)
			continue
		}
		browse.Fits(t, ctx, one.page)
		browse.Accessible(t, ctx, script, one.page)
	}
}
