package web

import (
	"net/http"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/go-chi/chi/v5"

	"banns/conflicts"
	"banns/milestones"
)

// Comparison is days side by side. It has dates, verdicts and sentences, and
// can hold nothing else of a plan.
type Comparison struct {
	Wedding  string // its title
	Closed   bool   // its link was closed; there is nothing else then
	AsOf     string
	Days     []Compared
	Common   []string // what speaks for all of the days alike
	Cautions []string
}

// Compared is one day as it was weighed.
type Compared struct {
	Date    milestones.Date
	Words   string // Sat 18 Sep 2027
	Verdict Verdict
	Against []Reason // the worst first
	More    int      // how many more there are, none of them worse
	For     []string // what speaks for it, and not for all that it is compared with
}

// Reason is one thing that speaks against a day.
type Reason struct {
	Weight string // slight, noticeable, serious, blocking
	Says   string
	More   []string // where it was read or how it was worked out, in sentences
	Leads  Lead     // to what it is about, at the desk alone
}

// Lead is a way to another page, and what is there. The zero one leads nowhere.
type Lead struct{ To, Words string }

// Verdict is what a day comes to, as pages show it.
type Verdict struct{ Word, Mark, Means string }

// verdicts are the verdicts, the best first, with a mark that each has alone.
var verdicts = []Verdict{
	{string(conflicts.Clear), "settled", "nothing known speaks against it but what is slight"},
	{string(conflicts.Watch), "soon", "it can be done, knowing what is on"},
	{string(conflicts.Avoid), "late", "choose another if there is one"},
	{string(conflicts.Blocked), "blocked", "somebody or something needed is not to be had"},
}

// Verdicts are all verdicts, the best first, for a legend.
func Verdicts() []Verdict { return slices.Clone(verdicts) }

// VerdictOf is a verdict as pages show it.
func VerdictOf(v conflicts.Verdict) Verdict {
	n := slices.IndexFunc(verdicts, func(one Verdict) bool { return one.Word == string(v) })
	return verdicts[n]
}

// Weighed is a candidate with as many reasons as a page shows. A calendar may
// have any number of events on one day.
type Weighed struct {
	conflicts.Candidate
	more int // clashes that are left out, the mildest
}

// reasonsMost is the most that is told against one day.
const reasonsMost = 15

// NewWeighed is a candidate for pages.
func NewWeighed(c conflicts.Candidate) Weighed {
	w := Weighed{Candidate: c}
	if n := len(c.Clashes) - reasonsMost; n > 0 {
		w.Clashes, w.more = slices.Clone(c.Clashes[:reasonsMost]), n
	}
	return w
}

// Compare puts candidates on a page, in their order; what speaks for each of
// them is common. Leads says where what speaks against them leads; nil: it
// leads nowhere, as where somebody looks who is to see nothing else.
func Compare(all []Weighed, leads func(*conflicts.Clash) Lead) (days []Compared, common []string) {
	var each []conflicts.Candidate
	for _, w := range all {
		each = append(each, w.Candidate)
	}
	common = conflicts.Common(each)
	for _, w := range all {
		one := Compared{Date: w.Date, Words: w.Date.Words(), Verdict: VerdictOf(w.Verdict), More: w.more}
		for _, k := range w.Clashes {
			reason := Reason{Weight: k.Severity.String(), Says: k.Says, More: more(&k)}
			if leads != nil {
				reason.Leads = leads(&k)
			}
			one.Against = append(one.Against, reason)
		}
		for _, says := range w.SpeaksFor {
			if !slices.Contains(common, says) {
				one.For = append(one.For, says)
			}
		}
		days = append(days, one)
	}
	return days, common
}

// more says where a clash comes from.
func more(c *conflicts.Clash) []string {
	var all []string
	for _, text := range []string{c.Doubt, c.Note} {
		if text != "" {
			all = append(all, sentence(text))
		}
	}
	at := c.ListedIn()
	switch {
	case c.Kind == "":
		return all // of the plan itself
	case at == "":
		return append(all, "Worked out from the calendar; nobody has to announce it.")
	case c.Rule != "":
		return append(all, "Worked out from earlier editions, the latest of them in "+at+". It is a guess until the organiser publishes the day.")
	case c.Status == conflicts.Expected:
		return append(all, "Read in "+at+", as tentative. It is a guess until the organiser publishes the day.")
	}
	return append(all, "Read in "+at+".")
}

var comparisonTemplate = Template(templateFiles, "comparison.html")

type comparisonPage struct {
	Frame
	Comparison
}

// comparison answers GET and HEAD of /d/TOKEN.
func (s *Server) comparison(w http.ResponseWriter, r *http.Request) error {
	c, err := s.Compare(r.Context(), chi.URLParam(r, "token"))
	switch {
	case err != nil:
		return err
	case c.Closed:
		return Trouble(w, r, http.StatusGone, "This address was closed", "Ask whoever sent it to you how the choice stands.")
	}
	f := NewFrame(r, "Days to choose from")
	f.Sheets = []string{"weigh.css"}
	return Show(w, r, http.StatusOK, comparisonTemplate, comparisonPage{f, c})
}

// sentence is text with a capital and a full stop.
func sentence(text string) string {
	r, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + strings.TrimSuffix(text[size:], ".") + "."
}
