package desk

import (
	"net/http"

	"banns/feed/web"
	"banns/milestones"
)

var licenceTemplate = page("licence.html", "licence_window.html")

// licencePage is the rule of the office that issues the marriage licence.
type licencePage struct {
	pageFrame
	Licence *licenceWindow
	Caution string
	Form    form
}

// licenceWindow is when to apply and what follows, in words.
type licenceWindow struct {
	Known                       bool // there is a rule and a day
	First, Last, InHand, Return string
	Doubt, Caution              string
}

// licenceWindow is what the plan's rule comes to, or nil where it has none.
func (s *sight) licenceWindow() *licenceWindow {
	if s.plan.Licence == nil {
		return nil
	}
	l := &licenceWindow{Caution: milestones.LicenceCaution}
	w, ok := milestones.LicenceWindow(s.plan, s.closures)
	if !ok {
		return l
	}
	l.Known = true
	l.First, l.Last, l.InHand, l.Return = w.First.Words(), w.Last.Words(), w.InHand.Words(), w.Return.Words()
	if w.Hour != nil {
		l.Last += ", and issued by " + w.Hour.String()
	}
	if w.Doubt != "" {
		l.Doubt = capital(w.Doubt) + "."
	}
	return l
}

// licence answers GET of the office's rule.
func (d *Desk) licence(w http.ResponseWriter, r *http.Request) error {
	return d.showLicence(w, r, http.StatusOK, licenceForm(sightOf(r)))
}

func (d *Desk) showLicence(w http.ResponseWriter, r *http.Request, status int, f form) error {
	p := licencePage{newPageFrame(r, "The marriage licence", "countdown"), sightOf(r).licenceWindow(), milestones.LicenceCaution, f}
	return web.Show(w, r, status, licenceTemplate, p)
}

func licenceForm(s *sight) form {
	return newForm(s.doc,
		field{Path: "licence/office", Label: "The office", Hint: "Such as Alder County Clerk"},
		field{Path: "licence/waits", Label: "How long it has you wait", Hint: "Such as 3 days from application, 72 hours from issue, or none"},
		field{Path: "licence/lasts", Label: "How long the licence is good", Hint: "Such as 33 days from application, or 6 months from issue"},
		field{Path: "licence/return within", Label: "How soon after the wedding it goes back", Hint: "Such as 10 days"},
	)
}

// saveLicence answers POST of the office's rule.
func (d *Desk) saveLicence(w http.ResponseWriter, r *http.Request) error {
	f := licenceForm(sightOf(r))
	return d.save(w, r, &f, "licence", func(status int) error { return d.showLicence(w, r, status, f) })
}
