package main

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"banns/milestones"
)

type readCmd struct {
	Phrase string `arg:"" help:"A term, as one would say it."`
	Plan   string `help:"Plan file, or name of a stored wedding: what the phrase comes to there." placeholder:"PLAN"`
	In     string `help:"Key of the agreement that it stands in." placeholder:"AGREEMENT"`
	As     string `help:"As one list alone understands it." enum:",pay,cancel,change,papers,postpone,timing" default:"" placeholder:"pay|cancel|change|papers|postpone|timing"`
}

// Validate refuses an agreement of no plan.
func (c *readCmd) Validate() error {
	if c.In != "" && c.Plan == "" {
		return wrongf("--in names an agreement of a plan; name the plan with --plan")
	}
	return nil
}

// Run says how a phrase is understood: in which lists it could stand, what
// it says there, and in a plan, which days and sums follow.
func (c *readCmd) Run(e *env) error {
	var p *milestones.Plan
	var shut milestones.Closures
	var today milestones.Date
	if c.Plan != "" {
		doc, _, err := e.load(c.Plan)
		if err != nil {
			return err
		}
		p, shut = doc.Plan, closures(doc.Plan)
		today = e.day(p.Wedding.Zone)
		if err := agreed(p, c.In); err != nil {
			return err
		}
	}
	var all []milestones.Sense
	var refused []milestones.Refusal
	if c.As == "" {
		all, refused = milestones.Senses(p, shut, c.In, c.Phrase)
	} else if one, no := milestones.SenseAs(p, shut, c.In, milestones.List(c.As), c.Phrase); no != nil {
		refused = append(refused, *no)
	} else {
		all = append(all, one)
	}
	if len(all) == 0 {
		return c.refuse(p, refused)
	}
	newPrinter(e.out).senses(all, refused, p, today, c.As == "")
	return nil
}

// agreed refuses a key that is no agreement's.
func agreed(p *milestones.Plan, key string) error {
	if _, ok := p.Agreement(key); ok || key == "" {
		return nil
	}
	keys := agreements(p)
	if hint := milestones.Nearest(key, keys); hint != "" {
		return wrongf("no agreement in the plan has the key %q; %s", key, hint)
	}
	return wrongf("no agreement in the plan has the key %q; the agreements are: %s", key, strings.Join(keys, ", "))
}

func agreements(p *milestones.Plan) (keys []string) {
	for _, a := range p.Agreements {
		keys = append(keys, a.Key)
	}
	return keys
}

// refuse points at the word, says why, and how to mend it. Where lists
// disagree, it says which one came so far.
func (c *readCmd) refuse(p *milestones.Plan, refused []milestones.Refusal) error {
	r, as := refused[0], ""
	if len(refused) > 1 && (refused[1].From != r.From || refused[1].Says != r.Says) {
		as = "as " + asA[r.In] + ": "
	}
	gaps := utf8.RuneCountInString(c.Phrase[:r.From])
	carets := max(1, utf8.RuneCountInString(c.Phrase[r.From:r.To]))
	says := fmt.Sprintf("%s\n%s%s\n%s%s", oneLine(c.Phrase), strings.Repeat(" ", gaps), strings.Repeat("^", carets), as, reason(r))
	if p != nil && c.In == "" && strings.HasPrefix(r.Says, "nothing here is called") {
		says += "\n--in says which agreement it stands in: " + strings.Join(agreements(p), ", ")
	}
	return wrong{says}
}

// reason is why, and how to mend it.
func reason(r milestones.Refusal) string {
	if r.Mend == "" {
		return r.Says
	}
	return r.Says + "; " + r.Mend
}

// oneLine shows tabs and line ends as one blank, so that a caret below finds
// its letter.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
}

var asA = map[milestones.List]string{
	milestones.PayList: "a payment", milestones.CancelList: "a step of leaving", milestones.PostponeList: "a postponement",
	milestones.TimingList: "a timing", milestones.ChangeList: "a change", milestones.PapersList: "a paper",
}

// readings prints the likeliest in full and the others in a line each; and
// why it is no payment and no step of leaving, where it nearly is one.
func (p printer) senses(all []milestones.Sense, refused []milestones.Refusal, plan *milestones.Plan, today milestones.Date, anyList bool) {
	p.sense(all[0], plan, today, anyList)
	for _, other := range all[1:] {
		fmt.Fprintf(p.out, "\nAlso %s (--as %s): %s\n", asOne(other, anyList), other.In, other.Phrase)
	}
	for _, no := range refused {
		if (no.Near() || no.Plain) && (no.In == milestones.PayList || no.In == milestones.CancelList) {
			fmt.Fprintf(p.out, "\nNot %s: %s\n", asA[no.In], reason(no))
			return
		}
	}
}

// asOne is what r is read as; a change and a paper read alike.
func asOne(r milestones.Sense, anyList bool) string {
	if anyList && r.In == milestones.ChangeList {
		return "a change or a paper"
	}
	return asA[r.In]
}

func (p printer) sense(r milestones.Sense, plan *milestones.Plan, today milestones.Date, anyList bool) {
	fmt.Fprintf(p.out, "As %s: %s\n", asOne(r, anyList), r.Phrase)
	wide := len("act by")
	for _, piece := range r.Pieces {
		wide = max(wide, len(piece.Name))
	}
	line := func(name, says string) { fmt.Fprintf(p.out, "  %s  %s\n", pad(name, wide), says) }
	for i, piece := range r.Pieces {
		switch {
		case piece.Day == nil && i == 0 && plan != nil:
			line(piece.Name, piece.Says+sumOf(r, plan))
		case piece.Day == nil:
			line(piece.Name, piece.Says)
		case piece.Day.WaitsFor != "":
			line(piece.Name, piece.Says+": waits for "+piece.Day.WaitsFor)
		default:
			for n, step := range piece.Day.Steps {
				if n > 0 {
					piece.Name = ""
				}
				line(piece.Name, step)
			}
		}
	}
	p.follows(r, plan, today, line)
}

// sumOf is what the sum of r comes to, where that says more than the phrase.
func sumOf(r milestones.Sense, plan *milestones.Plan) string {
	c := plan.Wedding.Currency
	switch {
	case r.In == milestones.CancelList && r.Cost.Known:
		return ": " + c.Range(r.Cost) + " on " + r.CostOn.Words()
	case r.In == milestones.PayList && len(r.Items) == 1 && r.Items[0].Amount.Known:
		return ": " + c.Range(r.Items[0].Amount)
	}
	return ""
}

// follows prints the days to act by, what is doubtful, and where the plan
// says the same.
func (p printer) follows(r milestones.Sense, plan *milestones.Plan, today milestones.Date, line func(name, says string)) {
	for _, i := range r.Items {
		if i.ActBy.IsZero() {
			continue
		}
		says := i.ActBy.Words()
		if why := i.WhyActBy(); why != "" {
			says += ", since " + why
		}
		if r.Parted() {
			says += ": " + plan.Wedding.Currency.Range(i.Amount)
		}
		line("act by", says+" ("+away(i.ActBy, today)+")")
	}
	asked := map[string]bool{}
	ask := func(says string) {
		if !asked[says] {
			line("ask", says)
		}
		asked[says] = true
	}
	for _, i := range r.Items {
		for _, q := range i.Questions {
			if q.Open() {
				ask(q.Says)
			}
		}
	}
	for _, piece := range r.Pieces {
		for _, doubt := range doubts(piece) {
			ask(doubt)
		}
	}
	if r.Stands != "" {
		fmt.Fprintf(p.out, "It stands in the plan as %s.\n", r.Stands)
	}
}

func doubts(piece milestones.Piece) []string {
	if piece.Day == nil {
		return nil
	}
	return piece.Day.Doubts
}

// away is how far day is from today.
func away(day, today milestones.Date) string {
	switch n := day.DaysSince(today); {
	case n > 0:
		return "in " + plural(n, "day")
	case n < 0:
		return plural(-n, "day") + " ago"
	}
	return "today"
}
