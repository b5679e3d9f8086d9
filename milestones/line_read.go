package milestones

import (
	"regexp"
	"slices"
	"strings"
)

// reader reads the phrases of one agreement. Its scopes hold what a label's
// timing may name, nearest first.
type reader struct {
	currency Currency
	scopes   []scope
}

func (r reader) payment(p *Payment) (*cursor, bool) {
	c := newCursor(p.Says)
	c.noise()
	if times, ok := c.equal(); ok {
		p.Form, p.Times = Equal, times
		c.take("from", "starting", "beginning")
		return c, c.timingOrDay(p.Says, &p.When)
	} else if c.refused() {
		return c, false
	}
	if c.take("security deposit of", "security deposit", "security of", "security") != "" {
		return c, r.security(c, p)
	}
	if c.take("remaining balance", "balance", "rest", "remainder") != "" {
		c.take("of the price", "of the total")
		p.Form = Balance
	} else if !r.sum(c, p) {
		return c, false
	}
	c.isDue()
	return c, c.timingTo(p.Says, &p.When)
}

// isDue steps over the verb between a sum and its day, which carries nothing:
// "is payable", "shall be paid".
func (c *cursor) isDue() {
	c.take(verbs...)
	c.take("payable", "paid", "owed")
}

// verbs are those of what is due.
var verbs = []string{"is to be", "are to be", "has to be", "have to be", "needs to be", "must be", "shall be", "will be", "to be", "is", "are"}

// equal reads "3 equal payments monthly" or "three equal monthly payments".
func (c *cursor) equal() (int, bool) {
	mark := c.at
	c.take("rest in", "balance in")
	from := c.at
	n, ok := c.number()
	ok = ok && c.take("equal") != ""
	if ok && (n < 1 || n > 120) {
		c.at = from
		return 0, c.refuse("equal payments go from 1 to 120")
	}
	if !ok || c.need("payments monthly", "monthly payments", "monthly instalments", "instalments monthly") == "" {
		c.at = mark
		return 0, false
	}
	return n, true
}

// security reads AMOUNT timing[, back timing]. A name may hold "back" too, so
// every place to cut is tried.
func (r reader) security(c *cursor, p *Payment) bool {
	amount, ok := r.amount(c)
	if !ok {
		return c.fail("500")
	}
	p.Form, p.Sum = Security, amount
	for i := c.at; i < len(c.words); i++ {
		if !slices.Contains([]string{"back", "returned", "refunded"}, c.words[i].text) {
			continue
		}
		p.Back = new(Timing)
		if c.part(c.at, i).timingTo(p.Says, &p.When) && c.part(i+1, len(c.words)).timingTo(p.Says, p.Back) {
			return true
		}
	}
	if !c.timingTo(p.Says, &p.When) || p.Back != nil && !r.knows(p.When) {
		return false
	}
	p.Back = nil
	return true
}

// knows reports whether t counts from something that has a name here.
func (r reader) knows(t Timing) bool {
	return !t.Anchor.Date.IsZero() || grammar{names: r.scopes}.knows(t.Anchor.Says)
}

// timingTo reads the rest of the cursor as a timing.
func (c *cursor) timingTo(says string, t *Timing) bool {
	return c.rest(says, t, grammar{})
}

// timingOrDay is timingTo, where a bare date or "the wedding" will do as well.
func (c *cursor) timingOrDay(says string, t *Timing) bool {
	return c.rest(says, t, grammar{bare: true})
}

func (c *cursor) rest(says string, t *Timing, g grammar) bool {
	found, ok := c.part(c.at, len(c.words)).timing(says, g)
	if !ok {
		return false
	}
	found.Says = c.text(says, c.at, len(c.words))
	*t, c.at = found, len(c.words)
	return true
}

// labelled reads a label and then a timing: the longest end of the phrase
// that reads as one. What is left is the label.
func (r reader) labelled(says string, label *string, t *Timing) (*cursor, bool) {
	c := newCursor(says)
	best := misread{at: -1}
	reach := 0 // how far into a timing the best attempt came
	for i := range c.words {
		rest := c.part(i, len(c.words))
		rest.far = &misread{at: -1}
		found, ok := rest.timing(says, grammar{names: r.scopes})
		if !ok {
			if came := rest.far.at - i; came > reach || came > 0 && best.name != "" && number(c.words[i].text) >= 0 {
				best, reach = *rest.far, came
			}
			continue
		}
		if i == 0 {
			*c.far = misread{at: 0, says: "the label is missing; say first what is due"}
			return c, false
		}
		if cut := cutShort(c.words[:i]); cut != "" {
			*c.far = misread{at: i - 1, says: cut}
			return c, false
		}
		found.Says = c.text(says, i, len(c.words))
		*t, *label = found, strings.TrimRight(c.text(says, 0, c.nameTo(i)), " ,;:–—-")
		return c, true
	}
	*c.far = best
	if reach == 0 {
		*c.far = misread{at: len(c.words), want: []string{"10 days before the wedding", "on 2027-05-03", "with the balance"}}
	}
	return c, false
}

// nameTo is where the name ends that stands before word i: a verb at its end,
// as of "final headcount is due", is none of it.
func (c *cursor) nameTo(i int) int {
	for _, verb := range verbs {
		words := strings.Fields(verb)
		if from := i - len(words); from > 0 {
			if _, all := c.part(from, i).shared(verb); all {
				return from
			}
		}
	}
	return i
}

// cutShort tells why a label ends in the middle of a timing, or is empty.
func cutShort(label []word) string {
	last := label[len(label)-1].text
	_, hour := readClock(last)
	unit := (&cursor{words: label[len(label)-1:], far: &misread{}}).unit(new(Timing))
	switch {
	case last == "by" || last == "on" || last == "within" || last == "until",
		number(last) >= 0, hour || last == "noon" || last == "midnight",
		unit && len(label) > 1 && number(label[len(label)-2].text) >= 0,
		unit && len(label) > 2 && number(label[len(label)-3].text) >= 0:
		return "the timing seems to begin here, but only its end was understood"
	}
	return ""
}

var sumInLabel = regexp.MustCompile(`[$€£]\s?\d|\d[\d,]*\.\d\d\b|\b[A-Z]{3}\s\d`)
