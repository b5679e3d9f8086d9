package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"banns/conflicts"
	"banns/milestones"
)

type weighCmd struct {
	Plan   string          `arg:"" help:"Plan file, or name of a stored wedding."`
	From   milestones.Date `help:"Weigh every day from this one." placeholder:"DATE"`
	To     milestones.Date `help:"To this one." placeholder:"DATE"`
	On     []string        `help:"Only these days of the week." placeholder:"sat,sun"`
	Events []string        `help:"Calendars or tables of public events, beside those that are kept with a stored wedding." placeholder:"FILE" sep:"none"`
	Order  string          `help:"What 03/04/2027 means in a table whose rows do not settle it." enum:",day-month,month-day" default:"" placeholder:"day-month|month-day"`
	Top    int             `help:"Show only so many, the best." placeholder:"N"`
	Avoid  []string        `help:"Traditions whose days count: catholic, orthodox, jewish, muslim, chinese." placeholder:"TRADITION"`
	JSON   bool            `name:"json" help:"Write JSON."`
}

// weighed is what banns weigh writes with --json.
type weighed struct {
	Candidates []candidate `json:"candidates"`
}

type candidate struct {
	Date      milestones.Date   `json:"date"`
	Verdict   conflicts.Verdict `json:"verdict"`
	Clashes   []clash           `json:"clashes"`
	SpeaksFor []string          `json:"speaks_for"`
}

type clash struct {
	What     string             `json:"what"`
	From     milestones.Date    `json:"from"`
	To       milestones.Date    `json:"to"`
	Kind     *string            `json:"kind"` // null: of the plan itself
	Status   conflicts.Status   `json:"status"`
	Effects  []conflicts.Effect `json:"effects"` // the worst first
	Severity conflicts.Severity `json:"severity"`
	Says     string             `json:"says"`
	Source   *string            `json:"source"` // null: worked out
	Line     *int               `json:"line"`
	Notes    []string           `json:"notes"` // by what rule it is expected, what there is to doubt, who else lists it
}

// Validate refuses a range with one end, or that ends before it begins, and
// words that are no days of the week.
func (c *weighCmd) Validate() error {
	switch {
	case c.From.IsZero() != c.To.IsZero():
		return wrongf("--from and --to go together; name the first and the last day")
	case c.To.Before(c.From):
		return wrongf("--to %s is before --from %s; exchange the two", c.To, c.From)
	case c.To.DaysSince(c.From) > mostDays:
		return wrongf("--from %s to --to %s is more than three years; ask for less at once", c.From, c.To)
	case c.Top < 0:
		return wrongf("--top takes a number from 1 on")
	}
	if _, err := weekdays(c.On); err != nil {
		return err
	}
	_, err := traditions(c.Avoid)
	return err
}

const mostDays = 3 * 366

// weekdays reads names of weekdays, short or long.
func weekdays(names []string) (map[time.Weekday]bool, error) {
	days := map[time.Weekday]bool{}
	for _, name := range names {
		found := false
		for w := time.Sunday; w <= time.Saturday; w++ {
			long := strings.ToLower(w.String())
			if n := strings.ToLower(strings.TrimSpace(name)); len(n) >= 3 && strings.HasPrefix(long, n) {
				days[w], found = true, true
			}
		}
		if !found {
			return nil, wrongf("%q is no day of the week; write sat, or sat,sun", name)
		}
	}
	return days, nil
}

func traditions(names []string) (all []conflicts.Tradition, err error) {
	known := conflicts.Traditions()
	for _, name := range names {
		t := conflicts.Tradition(strings.ToLower(strings.TrimSpace(name)))
		if !slices.Contains(known, t) {
			return nil, wrongf("%q is no tradition that is known here; known are: %s", name, strings.Join(texts(known), ", "))
		}
		all = append(all, t)
	}
	return all, nil
}

func texts[T ~string](all []T) []string {
	var out []string
	for _, s := range all {
		out = append(out, string(s))
	}
	return out
}

// Run weighs the plan's candidate dates, or every day that was asked for,
// the best first.
func (c *weighCmd) Run(e *env) error {
	doc, isStored, err := e.load(c.Plan)
	if err != nil {
		return err
	}
	p := doc.Plan
	days, err := c.days(p)
	if err != nil {
		return err
	}
	first, last := slices.MinFunc(days, milestones.Date.Compare), slices.MaxFunc(days, milestones.Date.Compare)
	read, err := c.read(e, p, isStored, first, last)
	if err != nil {
		return err
	}
	avoid, err := traditions(c.Avoid)
	if err != nil {
		return err
	}
	events, caution := conflicts.Known(&p.Wedding, read, avoid, first.AddDays(-conflicts.ReachDays), last.AddDays(conflicts.ReachDays))
	scales := conflicts.NewScales(p, closures(p), events, first, last)
	scales.Today = e.day(p.Wedding.Zone)
	found := scales.Weigh(days, c.Top)
	if c.JSON {
		return writeJSON(e.out, newWeighed(found))
	}
	newPrinter(e.out).weighed(p, found, days, conflicts.Cautions(&p.Wedding, read, avoid, first, last, caution))
	return nil
}

// days are those that are weighed.
func (c *weighCmd) days(p *milestones.Plan) (days []milestones.Date, err error) {
	if c.From.IsZero() {
		days = possibleDays(p)
		slices.SortFunc(days, milestones.Date.Compare)
		if days = slices.Compact(days); len(days) == 0 {
			return nil, wrongf("the plan names no candidates; write candidates: [2027-09-18, 2027-10-02] into it, or ask for --from DATE --to DATE --on sat")
		}
		return days, nil
	}
	on, err := weekdays(c.On)
	for d := c.From; !d.After(c.To); d = d.AddDays(1) {
		if len(on) == 0 || on[d.Weekday()] {
			days = append(days, d)
		}
	}
	if err == nil && len(days) == 0 {
		err = wrongf("no %s lies between %s and %s", strings.Join(c.On, " or "), c.From.Words(), c.To.Words())
	}
	return days, err
}

// read are the events of the sources that are kept and of those that are
// named; past editions too, for what they lead one to expect. What is left
// out of them is said.
func (c *weighCmd) read(e *env, p *milestones.Plan, isStored bool, first, last milestones.Date) ([]conflicts.Event, error) {
	early, to := first.AddDays(-conflicts.ReachDays).AddMonths(-12*conflicts.PastYears), last.AddDays(conflicts.ReachDays)
	var all []known
	if isStored {
		s, err := e.existing()
		if err != nil {
			return nil, err
		}
		defer s.Close()
		if all, err = e.known(s, p, c.Plan, early, to); err != nil {
			return nil, err
		}
	}
	for _, name := range c.Events {
		src, err := from{Order: c.Order}.read(e, name)
		if err != nil {
			return nil, err
		}
		l, err := listing(src, p.Wedding.Location(), early, to)
		if err != nil {
			return nil, err
		}
		all = append(all, known{src, l})
	}
	newPrinter(e.err).leftOut(all)
	return eventsOf(all), nil
}

func newWeighed(found []conflicts.Candidate) weighed {
	out := weighed{Candidates: []candidate{}}
	for _, f := range found {
		one := candidate{f.Date, f.Verdict, []clash{}, append([]string{}, f.SpeaksFor...)}
		for _, k := range f.Clashes {
			j := clash{What: k.What, From: k.From, To: k.To, Kind: text(string(k.Kind)), Status: k.Status, Effects: k.Effects, Severity: k.Severity,
				Says: k.Says, Source: text(k.Source.Name), Notes: append([]string{}, beneath(&k)...)}
			if k.Source.Line > 0 {
				j.Line = &k.Source.Line
			}
			one.Clashes = append(one.Clashes, j)
		}
		out.Candidates = append(out.Candidates, one)
	}
	return out
}

// clashesShown is the most that is told against one day.
const clashesShown = 15

// weighed prints the days, the best first, each with what speaks against it
// and for it. What speaks for all of them alike is said once.
func (p printer) weighed(plan *milestones.Plan, found []conflicts.Candidate, days []milestones.Date, cautions []string) {
	which := "the best first"
	if len(found) < len(days) {
		which = fmt.Sprintf("the best %d of them", len(found))
	}
	fmt.Fprintf(p.out, "%s: %s weighed, %s\n", plan.Wedding.Title, plural(len(days), oneOf(days)), which)
	common := conflicts.Common(found)
	for _, f := range found {
		fmt.Fprintf(p.out, "\n%s  %s\n", f.Date.Words(), p.paint(verdictColours[f.Verdict], string(f.Verdict)))
		for n, k := range f.Clashes {
			if n == clashesShown {
				fmt.Fprintf(p.out, "  and %d more, none of them worse\n", len(f.Clashes)-n)
				break
			}
			fmt.Fprintf(p.out, "  %-10s  %s\n", k.Severity, k.Says)
			for _, says := range beneath(&k) {
				fmt.Fprintln(p.out, p.paint(quiet, fmt.Sprintf("  %-10s  %s", "", says)))
			}
		}
		for _, says := range f.SpeaksFor {
			if !slices.Contains(common, says) {
				fmt.Fprintf(p.out, "  %-10s  %s\n", "for it", says)
			}
		}
	}
	for n, says := range common {
		if n == 0 {
			fmt.Fprintf(p.out, "\nOf each of these days\n")
		}
		fmt.Fprintf(p.out, "  %s\n", says)
	}
	if len(cautions) > 0 {
		fmt.Fprintln(p.out)
	}
	for _, says := range cautions {
		fmt.Fprintln(p.out, says)
	}
}

// beneath is what stands beneath a clash: of the plan itself, what would give;
// of a public event, by what rule it is expected, what there is to doubt, and
// who lists it where several do.
func beneath(k *conflicts.Clash) []string {
	var all []string
	switch {
	case k.Note == "":
	case k.Kind == "" || k.Rival:
		all = append(all, k.Note)
	case k.Rule != "":
		all = append(all, "by "+k.Note)
	}
	if k.Doubt != "" {
		all = append(all, k.Doubt)
	}
	if len(k.Also) > 0 {
		all = append(all, "listed in "+k.ListedIn())
	}
	return all
}

// oneOf is what to call one of the days: a Saturday, where they all are.
func oneOf(days []milestones.Date) string {
	for _, d := range days {
		if d.Weekday() != days[0].Weekday() {
			return "day"
		}
	}
	return days[0].Weekday().String()
}

var verdictColours = map[conflicts.Verdict]string{
	conflicts.Clear: settled, conflicts.Watch: due, conflicts.Avoid: late, conflicts.Blocked: late,
}
