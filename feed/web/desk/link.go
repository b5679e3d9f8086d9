package desk

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/milestones"
)

var (
	linkTemplate = page("link.html", "handing.html")
	sureTemplate = page("sure.html")
)

// linkPage is how somebody is given their link.
type linkPage struct {
	pageFrame
	Key     string
	Name    string
	You     bool
	Open    bool // there is a link that holds
	Renewed bool // it was made a moment ago
	Handing handing
}

// opened is the person that r names; ok where their link is the visitor's to
// have.
func opened(r *http.Request) (who *milestones.Person, ok bool) {
	s := sightOf(r)
	who, ok = s.somebody(chi.URLParam(r, "person"))
	return who, ok && s.mayOpen(who)
}

// link answers GET of somebody's link.
func (d *Desk) link(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	who, ok := opened(r)
	if !ok {
		return nothing(w, r)
	}
	tokens, err := d.Store.Tokens(r.Context(), s.ID)
	if err != nil {
		return err
	}
	p := linkPage{pageFrame: newPageFrame(r, "The link of "+who.Name, "people"), Key: who.Key, Name: who.Name, You: who.Key == s.key, Renewed: r.URL.Query().Has("renewed")}
	p.Scripts = append(p.Scripts, "copy.js")
	if token := tokens[who.ID()]; token != "" {
		if err := d.fill(r, &p, who, token); err != nil {
			return err
		}
	}
	return web.Show(w, r, http.StatusOK, linkTemplate, p)
}

// fill puts a link that holds on the page.
func (d *Desk) fill(r *http.Request, p *linkPage, who *milestones.Person, token string) error {
	base, err := web.Base(r, d.Public, d.Store)
	if err != nil {
		return err
	}
	links, err := web.NewLinks(base, token)
	if err != nil {
		return err
	}
	day := sightOf(r).plan.Wedding
	h, err := newHanding(base, links.Page, message(day, links.Page), "open the page, and subscribe there")
	p.Open, p.Handing = true, h.to(who, "Your dates for "+day.Title)
	return err
}

// message is what goes with a link, to be pasted or sent.
func message(w milestones.Wedding, page string) string {
	return fmt.Sprintf("Here are your dates for %s: %s\nOpen it on your phone and subscribe there, and your calendar keeps them up to date. The link is yours alone, so please do not pass it on.", called(w), page)
}

// called is a wedding with its day.
func called(w milestones.Wedding) string {
	if day := w.Date.Words(); day != "" {
		return w.Title + ", " + day
	}
	return w.Title
}

// texting is a text message to a number. RFC 5724 has ?body=; some phones
// want &body=, and every one takes both signs.
func texting(number, body string) template.URL {
	return template.URL("sms:" + number + "?&body=" + escaped(body))
}

// escaped is text for the query of an address (RFC 6068 5: a space is %20, a
// line break is %0D%0A).
func escaped(text string) string {
	return strings.ReplaceAll(url.QueryEscape(strings.ReplaceAll(text, "\n", "\r\n")), "+", "%20")
}

// surePage asks once before something is done that cannot be taken back.
type surePage struct {
	pageFrame
	Says []string
	Do   string // what the button says
	Back string // the way back, below the wedding
	Form form   // for its faults
}

// sureReissue answers GET of a new link for somebody.
func (d *Desk) sureReissue(w http.ResponseWriter, r *http.Request) error {
	who, ok := opened(r)
	if !ok {
		return nothing(w, r)
	}
	return web.Show(w, r, http.StatusOK, sureTemplate, surePage{pageFrame: newPageFrame(r, "A new link for "+who.Name, "people"),
		Says: []string{"The link that they have now closes at once, for good: whoever opens it is told to ask for the new one.",
			"A phone that is subscribed to it hears nothing more. Send the new link, and they subscribe again from there."},
		Do: "Make a new link", Back: "people/" + who.Key + "/link"})
}

// reissue answers POST of a new link for somebody.
func (d *Desk) reissue(w http.ResponseWriter, r *http.Request) error {
	who, ok := opened(r)
	if !ok {
		return nothing(w, r)
	}
	s := sightOf(r)
	if err := d.Store.Revoke(r.Context(), s.ID, who.Key, true, d.Now()); err != nil {
		return err
	}
	return goTo(w, r, s.at("people/"+who.Key+"/link?renewed"))
}

// sureClose answers GET of the end of somebody's link.
func (d *Desk) sureClose(w http.ResponseWriter, r *http.Request) error {
	name, back, err := d.closable(r)
	if err != nil || name == "" {
		return orNothing(w, r, err)
	}
	return web.Show(w, r, http.StatusOK, sureTemplate, surePage{pageFrame: newPageFrame(r, "Close the link of "+name, "people"),
		Says: []string{"It closes at once, for good: whoever opens it finds nothing but a note that it was closed.",
			"A phone that is subscribed keeps what it copied until its calendar is removed there, and hears nothing more."},
		Do: "Close the link", Back: back})
}

// closeLink answers POST of the end of somebody's link.
func (d *Desk) closeLink(w http.ResponseWriter, r *http.Request) error {
	name, back, err := d.closable(r)
	if err != nil || name == "" {
		return orNothing(w, r, err)
	}
	s := sightOf(r)
	if err := d.Store.Revoke(r.Context(), s.ID, chi.URLParam(r, "person"), false, d.Now()); err != nil {
		return err
	}
	return goTo(w, r, s.at(back))
}

// closable is the name of the person that r names, where their link is the
// visitor's to close, and the way back from there. A planner also closes the
// links of those who have left the plan, who go by their lasting id.
func (d *Desk) closable(r *http.Request) (name, back string, err error) {
	who, ok := opened(r)
	if ok {
		return who.Name, "people/" + who.Key + "/link", nil
	}
	s, id := sightOf(r), chi.URLParam(r, "person")
	if who != nil || !s.planner() {
		return "", "", err
	}
	tokens, err := d.Store.Tokens(r.Context(), s.ID)
	if tokens[id] == "" {
		return "", "", err
	}
	return id, "people", err
}

// orNothing answers that there is nothing, where nothing failed.
func orNothing(w http.ResponseWriter, r *http.Request, err error) error {
	if err != nil {
		return err
	}
	return nothing(w, r)
}
