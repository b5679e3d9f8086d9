package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"banns/feed"
	"banns/milestones"
)

// countdownCmd is banns countdown. With --json it writes an array of the
// countdown's items as banns list writes them, in the same order, each with
// more fields:
//
//	earliest  the first day on which it can be done
//	latest    the last day that still works; of the licence: to apply
//	slack     days by which it can still slip; 0 where it cannot, or is late
//	after     ids of what it waits for: milestones, terms, appointments
//	serves    ids of the terms and appointments before which it must come
//	holds_up  whether it is a link of the chain that holds everything up
//	who       who usually does it: people, groups and parts
//	source    who says when that is: somebody's name, or common practice
//
// What is done, and what nothing limits, has null for the first three. Of
// --for somebody who may not see the couple's agreements, these say nothing.
type countdownCmd struct {
	Plan string          `arg:"" help:"Plan file, or name of a stored wedding."`
	For  string          `help:"Only what this person may see." placeholder:"PERSON"`
	From milestones.Date `help:"As it would be if planning began on this day; nothing is written." placeholder:"DATE"`
	JSON bool            `name:"json" help:"Write JSON."`
}

type countdownRow struct {
	row
	Earliest *string  `json:"earliest"`
	Latest   *string  `json:"latest"`
	Slack    *int     `json:"slack"`
	After    []string `json:"after"`
	Serves   []string `json:"serves"`
	HoldsUp  bool     `json:"holds_up"`
	Who      []string `json:"who"`
	Source   *string  `json:"source"`

	key  string
	doer string // who usually does it, in words
}

// Run shows the countdown: of a plan that does not ask for one, what it would
// be from today.
func (c *countdownCmd) Run(e *env) error {
	doc, _, err := e.load(c.Plan)
	if err != nil {
		return err
	}
	p, today := *doc.Plan, e.day(doc.Plan.Wedding.Zone)
	asked := p.Countdown.Wanted
	if p.Countdown.Wanted = true; !asked && p.Countdown.From.IsZero() {
		p.Countdown.From = today
	}
	if !c.From.IsZero() {
		p.Countdown.From = c.From
	}
	if c.For != "" {
		if _, err := somebody(&p, c.For); err != nil {
			return err
		}
	}
	drawn := milestones.CountDown(&p, closures(&p))
	rows := countdownRows(&p, drawn, c.For, today)
	if c.JSON {
		return writeJSON(e.out, rows)
	}
	out := newPrinter(e.out)
	out.countdown(&p, rows)
	out.overdue(c, rows, today)
	if c.For == "" {
		out.around(&p, drawn)
	}
	if !asked {
		out.offer(&p)
	}
	return nil
}

func countdownRows(p *milestones.Plan, drawn milestones.Drawn, who string, today milestones.Date) []countdownRow {
	rows := []countdownRow{}
	for n := range drawn.Items {
		i := &drawn.Items[n]
		entry, audience := feed.Whole(p, i), feed.Audience(p, i)
		if who != "" {
			seen := feed.View(p, drawn.Items[n:n+1], who)
			if len(seen) == 0 {
				continue
			}
			entry, audience = seen[0], []string{who}
		}
		r := countdownRow{row: newRow(p, entry, audience, today), After: []string{}, Serves: []string{}, Who: []string{}, key: strings.TrimPrefix(i.ID, "countdown/"), doer: doers(p, i)}
		if who == "" {
			r.UID = nil
		}
		if entry.Aim != nil {
			r.Earliest, r.Latest = text(entry.Aim.Earliest.String()), text(entry.Aim.Latest.String())
			if slack, ok := i.Slack(); ok {
				r.Slack = &slack
			}
			r.After, r.Serves = append(r.After, i.Aim.After...), append(r.Serves, i.Aim.Serves...)
			r.HoldsUp = i.Aim.HoldsUp
			r.Who, r.Source = append(r.Who, i.Aim.Who...), text(i.Aim.Source)
		}
		rows = append(rows, r)
	}
	return rows
}

// doers are who usually does a milestone, in words.
func doers(p *milestones.Plan, i *milestones.Item) string {
	var all []string
	for _, who := range i.Aim.Who {
		part := milestones.Part(who)
		some := slices.ContainsFunc(p.People, func(one milestones.Person) bool { return one.Part == part })
		switch one, ok := p.Person(who); {
		case ok:
			all = append(all, one.Name)
		case slices.Contains(milestones.Parts, part) && !some:
		case slices.Contains([]milestones.Part{milestones.Couple, milestones.Family, milestones.Planner, milestones.Officiant}, part):
			all = append(all, "the "+who)
		case slices.Contains(milestones.Parts, part):
			all = append(all, "the "+who+"s")
		default:
			all = append(all, who)
		}
	}
	if len(all) == 0 {
		return "the couple"
	}
	return strings.Join(all, ", ")
}

// countdown prints the milestones under their months: by when, what, who does
// it, how far it can slip, and the key under which the plan file changes it.
func (p printer) countdown(plan *milestones.Plan, rows []countdownRow) {
	fmt.Fprintln(p.out, heading(plan))
	if from := plan.Countdown.From; !from.IsZero() {
		fmt.Fprintf(p.out, "The countdown, planned from %s. Each day is the day to have it done by.\n", from.Words())
	}
	wide, who := 0, 0
	for _, r := range rows {
		wide, who = max(wide, utf8.RuneCountInString(r.Title)), max(who, utf8.RuneCountInString(r.doer))
	}
	wide = min(wide, 64)
	last := milestones.Date{}
	for _, r := range rows {
		if r.Date == nil {
			continue
		}
		day := r.entry.Day()
		p.month(&last, day)
		word, colour := r.room()
		fmt.Fprintf(p.out, "  %s %2d  %s  %s  %s  %s\n", day.Weekday().String()[:3], day.Day, pad(r.Title, wide), pad(r.doer, who),
			p.paint(colour, pad(word, len("can slip 100 days"))), p.paint(quiet, "["+r.key+"]"))
		p.reasons(r)
	}
	p.undatedMilestones(rows)
}

// room is how much room a milestone has, in words, and the colour of that.
func (r countdownRow) room() (word, colour string) {
	switch {
	case r.state == milestones.Done:
		return "done", settled
	case r.state == milestones.Overdue && r.LateBy == nil:
		return "overdue", late
	case r.LateBy != nil:
		return "late by " + plural(*r.LateBy, "day"), late
	case r.Slack == nil:
		return "", ""
	case *r.Slack == 0:
		return "cannot slip", due
	}
	return "can slip " + plural(*r.Slack, "day"), ""
}

// reasons prints why a milestone has its day.
func (p printer) reasons(r countdownRow) {
	if r.entry.Aim == nil {
		return
	}
	for _, says := range filledLines(strings.Join(r.entry.Aim.Why, " "), r.entry.Aim.Late) {
		for _, line := range wrapped(says, 92) {
			fmt.Fprintf(p.out, "          %s\n", line)
		}
	}
}

func (p printer) undatedMilestones(rows []countdownRow) {
	waits := ""
	for _, r := range rows {
		if r.Date != nil {
			continue
		}
		if w := deref(r.WaitsFor); w != waits {
			waits = w
			fmt.Fprintf(p.out, "\nWithout a day yet; it waits for %s\n", w)
		}
		fmt.Fprintf(p.out, "  %s  %s\n", r.Title, p.paint(quiet, "["+r.key+"]"))
	}
}

// overdue says how to plan anew what was not done by its day.
func (p printer) overdue(c *countdownCmd, rows []countdownRow, today milestones.Date) {
	n := 0
	for _, r := range rows {
		if r.state == milestones.Overdue {
			n++
		}
	}
	if n > 0 && c.For == "" {
		fmt.Fprintf(p.out, "\nBy %s, %s should have been done. Tick off what is, under done in the plan file.\n"+
			"To see what the rest moves: banns countdown %s --from %s; to keep that, write the day as planning from.\n",
			today.Words(), plural(n, "milestone"), c.Plan, today)
	}
}

// around prints what stands about the milestones: what holds them up, the
// licence, and what this plan does without.
func (p printer) around(plan *milestones.Plan, drawn milestones.Drawn) {
	if len(drawn.Chain) > 0 {
		room := fmt.Sprintf("In all, %s can be lost along the way", plural(drawn.Room, "day"))
		switch {
		case drawn.Room < 0:
			room = fmt.Sprintf("There are %s too few", plural(-drawn.Room, "day"))
		case drawn.Room == 0:
			room = "No day can be lost along the way"
		}
		fmt.Fprintf(p.out, "\nWhat holds everything up\n")
		p.paragraph(capital(strings.Join(drawn.Chain, ", then ")) + ". " + room + ".")
	}
	if plan.Licence != nil {
		p.licence(plan)
	}
	p.without("Already in the plan", drawn.Left, true)
	p.without("Left out", drawn.Left, false)
}

// licence prints the window of the marriage licence, with its caution.
func (p printer) licence(plan *milestones.Plan) {
	w, ok := milestones.LicenceWindow(plan, closures(plan))
	if !ok {
		return
	}
	fmt.Fprintf(p.out, "\nThe licence\n")
	if !w.First.IsZero() {
		fmt.Fprintf(p.out, "  first day to apply   %s\n", w.First.Words())
	}
	last := w.Last.Words()
	if w.Hour != nil {
		last += ", and issued by " + w.Hour.String()
	}
	fmt.Fprintf(p.out, "  last day to apply    %s\n  have it in hand by   %s\n", last, w.InHand.Words())
	if w.Return.IsZero() {
		fmt.Fprintln(p.out, "  send it back         as soon as the office opens; ask how many days it gives")
	} else {
		fmt.Fprintf(p.out, "  send it back by      %s\n", w.Return.Words())
	}
	if w.Doubt != "" {
		p.paragraph(capital(w.Doubt) + ".")
	}
	p.paragraph(milestones.LicenceCaution)
}

func (p printer) without(title string, left []milestones.LeftOut, held bool) {
	first := true
	for _, l := range left {
		if l.Held != held {
			continue
		}
		if first {
			fmt.Fprintf(p.out, "\n%s\n", title)
			first = false
		}
		fmt.Fprintf(p.out, "  %s: %s  %s\n", l.Title, l.Why, p.paint(quiet, "["+l.Key+"]"))
	}
}

// offer says how a plan that has no countdown gets one.
func (p printer) offer(plan *milestones.Plan) {
	but := ""
	if plan.Licence != nil {
		but = ", but for the licence,"
	}
	fmt.Fprintf(p.out, "\nThe plan does not ask for this countdown, so none of it%s is on anybody's calendar.\nTo turn it on, write in the plan file:\n  countdown: {planning from: %s}\n", but, plan.Countdown.From)
}

// paragraph prints text in lines of a readable length.
func (p printer) paragraph(says string) {
	for _, line := range wrapped(says, 92) {
		fmt.Fprintln(p.out, "  "+line)
	}
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func filledLines(all ...string) []string {
	return slices.DeleteFunc(all, func(s string) bool { return s == "" })
}

// wrapped breaks text between words into lines of at most so many letters.
func wrapped(s string, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > most {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
