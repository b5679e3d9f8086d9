package desk_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
)

// state is what a page is like after something was sent, or in some view.
type state struct {
	at     string     // below the wedding, or below /desk/
	sends  url.Values // instead of what the forms there hold; nil: nothing is sent
	to     string     // where to, from there; empty: to the page itself
	status int        // what is answered; 0: that it is refused
	shows  string
}

// faulty are pages with something wrong in them, and one whose words others
// have changed meanwhile.
var faulty = []state{
	{at: "day", sends: url.Values{"wedding/title": {""}, "wedding/zone": {"America/Detriot"}}},
	{at: "agreements/brass", sends: url.Values{"agreements/brass/note": {"Mine"}, "seen": {"1"}}, shows: "Theirs: "},
	{at: "agreements/catering", sends: url.Values{"agreements/catering/pay/pay-2/says": {"40% 120 dys before the wedding"}, "agreements/catering/postpone/says": {"free"}}},
	{at: "agreements/catering", sends: url.Values{"do": {"paid pay/pay-2"}, "step/pay/pay-2/on": {""}}, shows: "Write the day on which it was"},
	{at: "agreements/dress/copies", to: "agreements/dress/copies", sends: url.Values{"link": {"javascript:alert(1)"}}},
	{at: "add/agreement", sends: url.Values{"agreements/+/service": {"kites"}, "agreements/+/price": {"some"}}},
	{at: "add/person", sends: url.Values{"people/+/name": {""}}},
	{at: "people/priya", sends: url.Values{"people/priya/name": {""}, "people/priya/part": {"planner"}}},
	{at: "add/appointment", sends: url.Values{"appointments/+/at": {"25:00"}}},
	{at: "occasions/rehearsal", sends: url.Values{"occasions/rehearsal/when": {"1 dy before the wedding"}}},
	{at: "dates", to: "away", sends: url.Values{"away/+1/who": {"hanneke"}, "away/+1/from": {"2027-04-10"}, "away/+1/to": {"2027-04-09"}}},
	{at: "countdown", to: "countdown", sends: url.Values{"countdown/planning from": {"soon"}}},
	{at: "add/milestone", sends: url.Values{"countdown/add/+/when": {"9 days before tasting"}}},
	{at: "licence", sends: url.Values{"licence/waits": {"a while"}}},
	{at: "questions/shuttle.change-1.side", sends: url.Values{"on": {"2026-02-30"}}},
	{at: "weigh", to: "weigh/shortlist", sends: url.Values{"day": {"soon"}}},
	{at: "events", to: "events/address", sends: url.Values{"address": {"town.example.org"}}},
	{at: "events", to: "events", sends: url.Values{}},
	{at: "due?on=2027-02-30"},
	{at: "leaving?on=2027-02-30&at=25:00"},
	{at: "history/1/back", sends: url.Values{"seen": {"1"}}, status: http.StatusConflict},
	{at: "/desk/new", sends: url.Values{"wedding/region": {"Michigander"}}},
	{at: "/desk/me", to: "/desk/me/passphrase", sends: url.Values{"old": {"another one of mine"}}},
}

// done are pages that say what was done, and pages of what few plans have.
var done = []state{
	{at: "agreements/strings", status: http.StatusOK},
	{at: "agreements/shuttle", status: http.StatusOK},
	{at: "admits", to: "admits/invite", sends: url.Values{"whom": {"as:theo"}}, status: http.StatusOK, shows: "shown this once"},
	{at: "people/priya", sends: url.Values{"people/priya/note": {"Left-handed"}}, status: http.StatusOK, shows: "Saved as version 3"},
	{at: "people/priya/link/close", sends: url.Values{}, status: http.StatusOK},
	{at: "agreements/catering", sends: url.Values{"do": {"paid pay/pay-2"}}, status: http.StatusOK, shows: "Undo: paid on "},
	{at: "agreements/catering", sends: url.Values{"do": {"ended"}}, status: http.StatusOK, shows: "Undo: it holds"},
	{at: "questions/shuttle.change-1.side", sends: url.Values{"reads": {"after"}, "who": {"Odile"}}, status: http.StatusOK, shows: "Settled: 1"},
	{at: "weigh", to: "weigh/shortlist", sends: url.Values{"day": {"2027-10-02"}}, status: http.StatusOK},
	{at: "weigh", to: "weigh/share", sends: url.Values{}, status: http.StatusOK, shows: "Close this link for good"},
	{at: "dates?kind=wedding&agreement=venue", status: http.StatusOK, shows: "Nothing is of all three"},
}

// onlooker looks at states of pages in a browser, as somebody who signs in.
type onlooker struct {
	t   *testing.T
	ctx context.Context
	axe string
	*browser
}

// looks has all that makes a page usable looked at in each state.
func (o *onlooker) looks(base string, all ...state) {
	o.t.Helper()
	for _, s := range all {
		at := o.site.URL + resolved(base, s.at)
		status := s.status
		if status == 0 {
			status = http.StatusUnprocessableEntity
		}
		name := fmt.Sprintf("%s that answers %d", strings.TrimPrefix(at, o.site.URL), status)
		if s.sends == nil {
			o.comesTo(name, status, chromedp.Navigate(at))
		} else {
			browse.Do(o.t, o.ctx, chromedp.Navigate(at))
			form := o.get(resolved(base, s.at), http.StatusOK).form()
			for field, values := range s.sends {
				form[field] = values
			}
			if strings.Contains(s.at, "agreement") && !form.Has("do") {
				form.Set("do", "save")
			}
			to := ""
			if s.to != "" {
				to = resolved(base, s.to)
			}
			o.comesTo(name, status, sending(form, to))
		}
		if text := browse.Tell[string](o.t, o.ctx, `document.body.textContent`); !strings.Contains(text, s.shows) {
			o.t.Errorf("%s lacks %q", name, s.shows)
		}
		browse.Glance(o.t, o.ctx, o.axe, name)
	}
}

// comesTo fails where steps lead to no page, or to one of another status.
func (o *onlooker) comesTo(name string, status int, steps ...chromedp.Action[chromedp.Void]) {
	o.t.Helper()
	res, err := chromedp.RunResponse(o.ctx, steps...)
	if err != nil {
		o.t.Fatalf("%s: %v", name, err)
	}
	if res.Status != int64(status) {
		o.t.Errorf("%s answers %d: %s", name, res.Status, browse.Tell[string](o.t, o.ctx, `document.body.innerText`))
	}
}

func resolved(base, at string) string {
	if strings.HasPrefix(at, "/") {
		return at
	}
	return base + at
}

// sending sends a form from the page that is open, to that page where to is
// empty.
func sending(form url.Values, to string) chromedp.Action[chromedp.Void] {
	return func(ctx context.Context, target *chromedp.Target) (none chromedp.Void, err error) {
		text, err := json.Marshal(form)
		if err != nil {
			return none, err
		}
		_, err = chromedp.Evaluate[any](fmt.Sprintf(`(() => {
			const form = document.createElement("form"), to = %q;
			form.method = "post";
			form.action = to || location.href;
			if (/copies$/.test(to)) form.enctype = "multipart/form-data";
			for (const [name, values] of Object.entries(%s)) for (const value of values) {
				const field = document.createElement("textarea");
				[field.name, field.value] = [name, value];
				form.append(field);
			}
			document.body.append(form);
			HTMLFormElement.prototype.submit.call(form);
		})()`, to, text))(ctx, target)
		return none, err
	}
}

// Pages can be used by everybody too when something is wrong with what was
// sent, when it was taken, when there is nothing in them, and as a partner
// sees them.
func TestEveryStateIsAccessible(t *testing.T) {
	s := walkedSite(t)
	o := &onlooker{t: t, axe: browse.Axe(t, "../../.."), ctx: browse.Start(t), browser: s.browser(t)}
	in := "/desk/in/" + s.accounts["INVITATION"]
	o.looks("", state{at: "/desk/in", sends: url.Values{"name": {"Ida"}, "passphrase": {"something else"}}, status: http.StatusUnauthorized},
		state{at: in, sends: url.Values{"name": {"Maren"}, "passphrase": {"short"}}})

	o.become(s.owner(t))
	o.looks(atWedding, faulty...)
	o.looks(atWedding, done...)
	o.signedOut()

	o.become(s.theo)
	for _, path := range []string{"", "dates", "people", "people/priya", "people/priya/sees", "agreements/", "countdown", "questions", "history"} {
		o.looks(atWedding, state{at: path, status: http.StatusOK})
	}

	o.become(newSite(t).owner(t))
	o.looks("", state{at: "/desk/", status: http.StatusOK, shows: "The first wedding"})

	o.become(newSite(t, emptyPlan).owner(t))
	for _, r := range s.routes(t) {
		if r.method == http.MethodGet && r.ofWedding() && !strings.Contains(strings.TrimPrefix(r.pattern, "/w/{wedding}"), "{") {
			o.looks("", state{at: "/desk" + strings.Replace(r.pattern, "{wedding}", "ada-and-finn", 1), status: http.StatusOK})
		}
	}
}

// become has the browser be somebody else's.
func (o *onlooker) become(b *browser) {
	o.t.Helper()
	o.browser = b
	browse.Lend(o.t, o.ctx, b.Jar, b.site.URL)
}

// signedOut looks at what comes of a form that is sent after a session ended:
// who it is is asked, and what was typed is offered again.
func (o *onlooker) signedOut() {
	o.t.Helper()
	const path = atWedding + "day"
	form := o.get(path, http.StatusOK).form()
	browse.Do(o.t, o.ctx, chromedp.Navigate(o.site.URL+path))
	if _, err := chromedp.Call(o.ctx, network.ClearBrowserCookies, cdp.Empty{}); err != nil {
		o.t.Fatal(err)
	}
	o.comesTo("a form without a session", http.StatusUnauthorized, sending(form, ""))
	browse.Usable(o.t, o.ctx, o.axe, "a form without a session")
	write(o.t, o.ctx, "name", "Ida")
	write(o.t, o.ctx, "passphrase", long)
	o.comesTo("a form that was kept", http.StatusOK, chromedp.Click(chromedp.CSS("main button")))
	browse.Usable(o.t, o.ctx, o.axe, "a form that was kept")
}
