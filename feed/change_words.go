package feed

import (
	"cmp"
	"fmt"
	"strings"

	"banns/milestones"
)

// change tells what of p is otherwise; without aspects, nothing is.
func (p pair) change() Change {
	one := p.one()
	c := Change{ID: one.ID, Agreement: one.Agreement}
	tell := func(aspect milestones.Aspect, says string) Change {
		c.Aspects, c.Says = []milestones.Aspect{aspect}, upper(says)
		return c
	}
	switch {
	case p.was == nil:
		return tell(milestones.AspectCame, p.is.newcomer())
	case p.is == nil && one.Date.IsZero():
		return tell(milestones.AspectWent, "Withdrawn: "+one.subject(""))
	case p.is == nil:
		return tell(milestones.AspectWent, "Withdrawn: "+one.subject("")+", "+one.at(one.Day().Words()))
	}
	var says []string
	for _, part := range p.parts() {
		c.Aspects = append(c.Aspects, part.aspect)
		says = append(says, part.says)
	}
	if len(says) == 0 {
		return c
	}
	done := p.is.doneWords(p.was)
	switch {
	case one.Kind == milestones.KindCancelBy && c.about(milestones.AspectSum):
		c.Says = p.leaving()
	case done == "":
		c.Says = upper(p.subject(c.Aspects) + " " + and(says))
	case len(says) == 1:
		c.Says = done
	default:
		c.Says = done + "; it " + and(says[1:])
	}
	return c
}

// part is one aspect of a change: what stands behind its subject.
type part struct {
	aspect milestones.Aspect
	says   string
}

// parts are what of p is otherwise, what was done first.
func (p pair) parts() []part {
	var all []part
	add := func(aspect milestones.Aspect, says string) {
		if says != "" {
			all = append(all, part{aspect, says})
		}
	}
	add(p.done())
	add(p.moved())
	add(milestones.AspectMoved, p.hours())
	add(milestones.AspectPlace, p.place())
	add(milestones.AspectSum, p.sum())
	add(milestones.AspectTitle, p.title())
	add(milestones.AspectWords, p.words())
	add(milestones.AspectQuestion, p.question())
	return all
}

// done tells of what was done, or is no longer.
func (p pair) done() (milestones.Aspect, string) {
	did := "done"
	switch p.is.Kind {
	case milestones.KindPayment:
		did = "paid"
	case milestones.KindRefund:
		did = "back"
	}
	switch was, is := p.was.Done, p.is.Done; {
	case was == is:
		return "", ""
	case is.IsZero():
		return milestones.AspectUndone, "is no longer marked as " + did
	case was.IsZero():
		return milestones.AspectDone, "was " + did + " on " + is.Words()
	default:
		return milestones.AspectDone, fmt.Sprintf("was %s on %s, not on %s", did, is.Words(), was.Words())
	}
}

// doneWords say first what was just done, and then of what; nothing where
// nothing was.
func (e *Entry) doneWords(was *Entry) string {
	if e.Done.IsZero() || !was.Done.IsZero() {
		return ""
	}
	lead := map[milestones.Kind]string{milestones.KindPayment: "Paid", milestones.KindRefund: "Came back"}[e.Kind]
	says := cmp.Or(lead, "Done") + " on " + e.Done.Words() + ": " + e.subject(e.Currency.Range(e.Amount))
	if was.money() && e.money() && was.Amount != e.Amount {
		says += "; it was to be " + e.Currency.Range(was.Amount)
	}
	return says
}

// moved tells of another day, or of a first or no longer any.
func (p pair) moved() (milestones.Aspect, string) {
	was, is := p.was, p.is
	switch {
	case was.Date.IsZero() && is.Date.IsZero():
		return "", ""
	case was.Date.IsZero():
		return milestones.AspectDated, is.now()
	case is.Date.IsZero():
		return milestones.AspectUndated, "has no day any more" + is.waits()
	case was.Day() != is.Day():
		return milestones.AspectMoved, "moved " + p.fromTo() + is.contracted() + p.later()
	case was.Date != is.Date && is.Done.IsZero():
		return milestones.AspectMoved, fmt.Sprintf("moved in the contract from %s to %s, and is still to be done by %s",
			p.short(was.Date), is.Date.Words(), is.Day().Words())
	}
	return "", ""
}

// fromTo are both days, with their hours where there are any. An hour that
// is as it was is said once.
func (p pair) fromTo() string {
	was, is := p.was, p.is
	from, to := was.on(p.short(was.Day())), is.on(is.Day().Words())
	if was.hourOf() == is.hourOf() && !is.ends() {
		from = p.short(was.Day())
	}
	return "from " + from + " to " + to
}

// later says by how much the wedding itself moved.
func (p pair) later() string {
	if !p.wedding() {
		return ""
	}
	return ", " + daysLater(p.shift())
}

func daysLater(n int) string {
	way := "later"
	if n < 0 {
		n, way = -n, "earlier"
	}
	if n == 1 {
		return "1 day " + way
	}
	return fmt.Sprintf("%d days %s", n, way)
}

// short is a day of p as it was, without its year where that goes without
// saying.
func (p pair) short(d milestones.Date) string {
	if d.Year != p.is.Date.Year {
		return d.Words()
	}
	return strings.TrimSuffix(d.Words(), fmt.Sprintf(" %d", d.Year))
}

// hours tells of another hour, or another end, on the same day.
func (p pair) hours() string {
	was, is := p.was, p.is
	if was.Date.IsZero() || was.Day() != is.Day() {
		return ""
	}
	before, after := was.hourOf(), is.hourOf()
	verb := "is at "
	switch {
	case p.wedding():
		verb = "begins at "
	case is.Deadline():
		verb = "is due by "
	}
	switch {
	case before == after && clockText(was.Until) == clockText(is.Until):
		return ""
	case before == after && is.Until == nil:
		return "has no end any more"
	case before == after:
		return "ends at " + otherwise(is.Until.String(), clockText(was.Until), "at ")
	case after == "" && is.Deadline():
		return "has the whole of " + is.Day().Words()
	case after == "":
		return "has no hour any more"
	case is.Deadline():
		return verb + otherwise(after, before, "by ") + ", on " + is.Day().Words()
	}
	return verb + otherwise(is.Hours(), was.Hours(), "at ")
}

// otherwise is "14:00, not at 11:00", or "14:00 now".
func otherwise(is, was, by string) string {
	if was == "" {
		return is + " now"
	}
	return is + ", not " + by + was
}

func clockText(c *milestones.Clock) string {
	if c == nil {
		return ""
	}
	return c.String()
}

func (p pair) place() string {
	was, is := p.was.Place.String(), p.is.Place.String()
	switch {
	case was == is || p.is.Deadline():
		return ""
	case is == "":
		return "has no place any more"
	case was == "":
		return "takes place at " + is
	}
	return "takes place at " + is + ", not at " + was
}

// sum tells of another sum. Whoever saw none and sees one now, or the other
// way about, is told nothing: what changed is what they may see.
func (p pair) sum() string {
	was, is := p.was, p.is
	if was.Currency == "" || is.Currency == "" || was.Done.IsZero() && !is.Done.IsZero() {
		return ""
	}
	verb := "is "
	switch {
	case is.Kind == milestones.KindCancelBy:
		verb = "costs "
	case !is.Done.IsZero():
		verb = "was "
	}
	before, after := was.Currency.Range(was.Amount), is.Currency.Range(is.Amount)
	switch {
	case before == after && was.later() == is.later():
		return ""
	case !was.Amount.Known:
		return verb + after + " now"
	case !is.Amount.Known:
		return verb + after + "; it was " + before
	}
	return verb + after + ", not " + before
}

// leaving tells what leaving costs by that day, or else after it, where
// nothing else is otherwise. What it costs after a step is, but for the last,
// what it costs by the next.
func (p pair) leaving() string {
	when, is, was := "by", p.is.Currency.Range(p.is.Amount), p.was.Currency.Range(p.was.Amount)
	if is == was {
		when, is, was = "after", p.is.later(), p.was.later()
	}
	return fmt.Sprintf("Leaving %s %s %s costs %s, not %s", p.is.With, when, p.is.Day().Words(), is, was)
}

// later is what leaving costs after the day of a cancel step, or nothing.
func (e *Entry) later() string {
	if e.Kind != milestones.KindCancelBy {
		return ""
	}
	return e.Currency.Range(e.Later)
}

// title tells of another name. That the other side is called otherwise is
// told once for the whole agreement, and not of each of its lines.
func (p pair) title() string {
	was := p.was.Title
	if p.was.With != "" {
		was = strings.Replace(was, p.was.With, p.is.With, 1)
	}
	if was == p.is.Title {
		return ""
	}
	return "is called “" + p.is.label() + "” now"
}

// words tells of another phrase, note or wording of the contract.
func (p pair) words() string {
	var all []string
	was, is := p.was, p.is
	other := is.Kind == milestones.KindRefund // it shares its line with a payment, which tells
	if !other && was.Rule != is.Rule && was.Rule != "" && is.Rule != "" && (is.Agreement != "" || was.Day() == is.Day()) {
		all = append(all, "reads “"+is.Rule+"”, no longer “"+was.Rule+"”")
	}
	if was.sees() != is.sees() {
		return and(all) // what changed is what they may see
	}
	if is.Note != was.Note {
		all = append(all, orElse(is.Note, "has the note “%s”", "has no note any more"))
	}
	if is.Wording != was.Wording {
		all = append(all, orElse(is.Wording, "has the contract’s own words: “%s”", "has the contract’s own words no more"))
	}
	return and(all)
}

// sees reports whether the reader sees an agreement's words and sums.
func (e *Entry) sees() bool { return e.Agreement == "" || e.Currency != "" }

func orElse(s, some, none string) string {
	if s == "" {
		return none
	}
	const most = 160
	if cut := []rune(s); len(cut) > most {
		s = string(cut[:most]) + "…"
	}
	return fmt.Sprintf(some, s)
}

// question tells of a first question about an entry, and of none any more.
func (p pair) question() string {
	switch before, after := len(p.was.Questions), len(p.is.Questions); {
	case p.was.sees() != p.is.sees():
	case before == 0 && after > 0:
		return "has a question: " + p.is.Questions[0]
	case before > 0 && after == 0:
		return "has no open question any more"
	}
	return ""
}

// and joins words as people do: a, b and c.
func and(words []string) string {
	n := len(words) - 1
	if n < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n], ", ") + ", and " + words[n]
}

func upper(s string) string {
	if rest, ok := strings.CutPrefix(s, "the "); ok {
		return "The " + rest
	}
	return s
}
