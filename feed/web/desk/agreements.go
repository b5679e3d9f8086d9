package desk

import (
	"cmp"
	"net/http"
	"slices"
	"strings"
	"unicode/utf8"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
)

var agreementsTemplate = page("agreements.html")

// agreementsPage lists what was agreed, with whom.
type agreementsPage struct {
	pageFrame
	Rows  []agreementRow
	Usual []string // services that are mostly agreed on
}

type agreementRow struct {
	Key, Service, With string
	Standing           standing
	Price              string
	Payer              string
	Hidden             string // from whom it is, or some of it
	Next               []nextRow
}

// nextRow is what comes next under an agreement.
type nextRow struct {
	Day        milestones.Date
	What       string
	Mark, Word string
	Hidden     string // from whom it is
}

// agreements answers GET of all agreements.
func (d *Desk) agreements(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	p := agreementsPage{pageFrame: newPageFrame(r, "Agreements", "agreements")}
	prices := milestones.Prices(s.doc.Plan, s.closures)
	for i := range s.plan.Agreements {
		a := &s.plan.Agreements[i]
		one := agreementRow{Key: a.Key, Service: a.Service, With: a.With, Standing: standingOf(a), Payer: "the couple"}
		if a.Price != (milestones.Price{}) {
			one.Price = s.plan.Wedding.Currency.Range(prices[a.Key])
		}
		if who, ok := s.plan.Person(a.Payer); ok {
			one.Payer = who.Name
		}
		one.Hidden = s.agreementHidden(a)
		one.Next = nextOf(s, a.Key, 1)
		p.Rows = append(p.Rows, one)
	}
	slices.SortStableFunc(p.Rows, func(a, b agreementRow) int {
		return cmp.Or(strings.Compare(strings.ToLower(a.Service), strings.ToLower(b.Service)), strings.Compare(strings.ToLower(a.With), strings.ToLower(b.With)))
	})
	for _, u := range usuals {
		p.Usual = append(p.Usual, u.service)
	}
	return web.Show(w, r, http.StatusOK, agreementsTemplate, p)
}

// nextOf are the first most things to be done under an agreement, late ones
// first. Nobody has to leave one, or to move it.
func nextOf(s *sight, key string, most int) []nextRow {
	var all []nextRow
	for i := range s.entries {
		e := &s.entries[i]
		state := e.StateOn(s.today)
		if e.Agreement != key || !counts(e) || e.Option() || state != milestones.Open && state != milestones.Overdue || len(all) == most {
			continue
		}
		one := nextRow{Day: e.Day(), What: shortly(e), Hidden: s.hiddenFrom(e)}
		one.Mark, one.Word = web.StateOf(e, s.today)
		all = append(all, one)
	}
	return all
}

// shortly is an entry in one line, where its vendor is told beside it.
func shortly(e *feed.Entry) string {
	what := e.What()
	for _, said := range []string{e.With + ": ", " " + e.With, " from " + e.With} {
		what = strings.Replace(what, said, "", 1)
	}
	_, first := utf8.DecodeRuneInString(what)
	return strings.ToUpper(what[:first]) + what[first:]
}
