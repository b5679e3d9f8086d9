package milestones

import (
	"fmt"
	"slices"
	"strings"
)

// agreement tells what of one agreement is otherwise, beside its Items.
func (c *comparison) agreement(was, is *Agreement) {
	hide := slices.Concat(was.Hide, is.Hide)
	say := func(aspect Aspect, format string, args ...any) {
		c.add(Change{Aspect: aspect, Agreement: is.Key, Hide: hide, Says: fmt.Sprintf(format, args...)})
	}
	if was.With != is.With {
		say(AspectTitle, "%s is called %s now", was.With, is.With)
	}
	if was.Service != is.Service {
		say(AspectTerms, "%s is down for %s now, no longer for %s", is.With, orNo(is.Service, "nothing"), orNo(was.Service, "nothing"))
	}
	if says := standingWords(was, is); says != "" {
		say(AspectStanding, "%s", says)
	}
	if says := c.repriced(was, is); says != "" {
		say(AspectPrice, "%s", says)
	}
	c.whose(was, is, say)
	c.terms(was, is, say)
	c.given(was, is)
	c.unlisted(was, is)
}

// newcomer says what an agreement that is new was agreed as.
func (c *comparison) newcomer(a *Agreement) string {
	says := " is new"
	if a.Service != "" {
		says = " (" + a.Service + ") is new"
	}
	switch {
	case a.Standing == Quoted:
		says += ", only quoted"
	case a.Over():
		says += ", " + string(a.Standing)
	default:
		says += ", signed on " + a.Signed.Words()
	}
	if price := c.is.priceWords(a); price != "" {
		says += ", for " + price
	}
	return says
}

// standingWords say where the agreement is in its life now, or nothing where
// that is as it was.
func standingWords(was, is *Agreement) string {
	the := "The agreement with " + is.With
	switch {
	case was.Standing == is.Standing && (was.Signed == is.Signed || is.Signed.IsZero()):
		return ""
	case was.Standing == is.Standing && was.Signed.IsZero():
		return fmt.Sprintf("%s was signed on %s", the, is.Signed.Words())
	case was.Standing == is.Standing:
		return fmt.Sprintf("%s was signed on %s, not on %s", the, is.Signed.Words(), was.Signed.Words())
	case is.Standing == Replaced:
		return "Another vendor took the place of " + is.With
	case is.Standing == Ended:
		return the + " has ended"
	case is.Standing == Quoted:
		return the + " is only a quote again: nothing is owed until it is signed"
	case was.Over():
		return the + " holds again, as signed on " + is.Signed.Words()
	}
	return fmt.Sprintf("%s was signed on %s", the, is.Signed.Words())
}

// repriced says what the price is now and what it was, or nothing.
func (c *comparison) repriced(was, is *Agreement) string {
	before, after := c.was.priceWords(was), c.is.priceWords(is)
	old, now := c.was.priceParts(was), c.is.priceParts(is)
	switch {
	case before == after && slices.Equal(old, now):
		return ""
	case before == "":
		return fmt.Sprintf("The price of %s is known now: %s", is.With, after)
	case after == "":
		return fmt.Sprintf("The price of %s is no longer known; it was %s", is.With, before)
	}
	says := fmt.Sprintf("The price of %s is %s", is.With, after)
	if before != after {
		says += ", not " + before
	}
	for n, part := range now {
		switch {
		case len(old) != len(now) || part == old[n]:
		case part == "":
			says += "; no longer " + old[n]
		case old[n] == "":
			says += "; " + part
		default:
			says += "; " + part + ", not " + old[n]
		}
	}
	return says
}

// priceWords are a's price in all as people say it, or nothing where none is
// known.
func (p *Plan) priceWords(a *Agreement) string {
	c, price := p.Wedding.Currency, a.Price
	switch sum := price.Amount(); {
	case sum.Known:
		return c.Range(sum)
	case price.Each != nil:
		return c.Words(*price.Each) + " a head"
	}
	return ""
}

// priceParts are what a price by the head is made of, each in its place;
// empty where it has no such part.
func (p *Plan) priceParts(a *Agreement) []string {
	price := a.Price
	if price.Each == nil {
		return nil
	}
	parts := []string{p.Wedding.Currency.Words(*price.Each) + " a head"}
	for _, one := range []struct {
		n    int
		says string
	}{{price.Count, "for %d"}, {price.AtLeast, "for at least %d"}, {price.AtMost, "for at most %d"}} {
		parts = append(parts, when(one.n > 0, fmt.Sprintf(one.says, one.n)))
	}
	return append(parts, when(price.Service > 0, price.Service.String()+" service"), when(price.Tax > 0, price.Tax.String()+" tax"),
		when(price.TaxOn == TaxOnFood, "tax on food alone"))
}

func when(holds bool, says string) string {
	if holds {
		return says
	}
	return ""
}

// whose tells who pays, whom to ask at the vendor, and who must not know.
func (c *comparison) whose(was, is *Agreement, say func(Aspect, string, ...any)) {
	if c.was.id(was.Payer) != c.is.id(is.Payer) {
		say(AspectPayer, "%s is paid by %s now, no longer by %s", is.With, c.is.called(is.Payer, "the couple"), c.was.called(was.Payer, "the couple"))
	}
	if c.was.id(was.Contact) != c.is.id(is.Contact) {
		say(AspectContact, "The contact at %s is %s now, no longer %s", is.With, c.is.called(is.Contact, "nobody by name"), c.was.called(was.Contact, "nobody by name"))
	}
	if slices.Equal(was.Hide, is.Hide) {
		return
	}
	before, after := c.is.whom(was.Hide), c.is.whom(is.Hide)
	if names := less(after, before); len(names) > 0 {
		say(AspectAsked, "%s is hidden from %s now", is.With, listed(names))
	}
	if names := less(before, after); len(names) > 0 {
		say(AspectAsked, "%s is no longer hidden from %s", is.With, listed(names))
	}
}

// id is what the person with that key is known by for good.
func (p *Plan) id(key string) string {
	if who, ok := p.Person(key); ok {
		return who.ID()
	}
	return key
}

// called is the name behind a key, or other words where there is no key.
func (p *Plan) called(key, none string) string {
	if key == "" {
		return none
	}
	if who, ok := p.Person(key); ok {
		return who.Name
	}
	return key
}

// whom are the names of everybody whom list means.
func (p *Plan) whom(list []string) []string {
	var names []string
	for i := range p.People {
		if who := &p.People[i]; who.Named(list) {
			names = append(names, who.Name)
		}
	}
	return names
}

var businessDayWords = map[BusinessDays]string{
	Banks:   "days on which banks are open",
	Federal: "days on which government offices are open",
	MonFri:  "Monday to Friday",
	MonSat:  "Monday to Saturday",
}

// terms tells what the agreement's lines count from and in.
func (c *comparison) terms(was, is *Agreement, say func(Aspect, string, ...any)) {
	if was.BusinessDays != is.BusinessDays {
		say(AspectTerms, "The business days of %s are %s now, no longer %s", is.With, businessDayWords[is.BusinessDays], businessDayWords[was.BusinessDays])
	}
	if more := less(is.Closed, was.Closed); len(more) > 0 {
		say(AspectTerms, "%s is closed on %s", is.With, dayWords(more))
	}
	if fewer := less(was.Closed, is.Closed); len(fewer) > 0 {
		say(AspectTerms, "%s is no longer closed on %s", is.With, dayWords(fewer))
	}
	for _, d := range is.Dates {
		old, known := dateNamed(was.Dates, d.Name)
		switch {
		case known && old == d.Date:
		case d.Date.IsZero():
			say(AspectTerms, "The %s of %s has no date yet", d.Name, is.With)
		case old.IsZero():
			say(AspectTerms, "The %s of %s is dated %s", d.Name, is.With, d.Date.Words())
		default:
			say(AspectTerms, "The %s of %s is dated %s, not %s", d.Name, is.With, d.Date.Words(), old.Words())
		}
	}
	if was.Note != is.Note {
		say(AspectWords, "The note on %s is %s", is.With, quotedOr(is.Note, "gone"))
	}
}

// quotedOr is a text in quotes, cut where it is long.
func quotedOr(s, none string) string {
	if s == "" {
		return none
	}
	const most = 160
	if short := []rune(s); len(short) > most {
		s = string(short[:most]) + "…"
	}
	return "“" + s + "”"
}

func dateNamed(all []NamedDate, name string) (Date, bool) {
	for _, d := range all {
		if d.Name == name {
			return d.Date, true
		}
	}
	return Date{}, false
}

// given tells of headcounts that were given.
func (c *comparison) given(was, is *Agreement) {
	before := map[string]int{}
	for _, t := range was.Change {
		before[t.Key] = t.Given
	}
	for _, t := range is.Change {
		one := Change{Aspect: AspectGiven, Agreement: is.Key, Item: is.Key + "/" + t.Key, Hide: slices.Concat(was.Hide, is.Hide, t.Hide)}
		switch old := before[t.Key]; {
		case old == t.Given:
			continue
		case t.Given == 0:
			one.Says = fmt.Sprintf("%s: %s no longer has the count of %d", is.With, t.label(t.Label), old)
		case old == 0:
			one.Says = fmt.Sprintf("%s: %s was given as %d", is.With, t.label(t.Label), t.Given)
		default:
			one.Says = fmt.Sprintf("%s: %s was given as %d, not %d", is.With, t.label(t.Label), t.Given, old)
		}
		c.add(one)
	}
}

// unlisted tells of lines that have no day of their own, and so no Item: what
// leaving costs after the last step, and a postponement without notice.
func (c *comparison) unlisted(was, is *Agreement) {
	before, after := was.dayless(), is.dayless()
	var keys []string
	for _, all := range [][]Line{before, after} {
		for _, l := range all {
			if !slices.Contains(keys, l.Key) {
				keys = append(keys, l.Key)
			}
		}
	}
	for _, key := range keys {
		old, now := lineOf(before, key), lineOf(after, key)
		if old.Says == now.Says {
			continue
		}
		one := Change{Aspect: AspectWords, Agreement: is.Key, Hide: slices.Concat(was.Hide, is.Hide, old.Hide, now.Hide)}
		switch "" {
		case old.Says:
			one.Says = fmt.Sprintf("%s has a new line: “%s”", is.With, now.Says)
		case now.Says:
			one.Says = fmt.Sprintf("%s has lost a line: “%s”", is.With, old.Says)
		default:
			one.Says = fmt.Sprintf("%s: “%s” stands where it said “%s”", is.With, now.Says, old.Says)
		}
		c.add(one)
	}
}

func (a *Agreement) dayless() []Line {
	var all []Line
	for _, t := range a.Cancel {
		if t.Until == nil {
			all = append(all, t.Line)
		}
	}
	if t := a.Postpone; t != nil && t.Notice.Says == "" {
		all = append(all, t.Line)
	}
	return all
}

func lineOf(all []Line, key string) Line {
	for _, l := range all {
		if l.Key == key {
			return l
		}
	}
	return Line{}
}

// Fixed are the ids of the items whose days are dates of the calendar: they
// count neither from the wedding nor from a signing, and do not move with
// either.
func Fixed(p *Plan) map[string]bool {
	nodes, fixed := p.nodes(), map[string]bool{}
	for id, n := range nodes {
		for n.when.Anchor.Date.IsZero() && n.when.Anchor.ref != "" {
			next, ok := nodes[n.when.Anchor.ref]
			if !ok {
				break
			}
			n = next
		}
		if !n.when.Anchor.Date.IsZero() || strings.HasPrefix(string(n.when.Anchor.ref), "@date/") {
			fixed[string(id)] = true
		}
	}
	return fixed
}
