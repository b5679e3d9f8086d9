package milestones

// postpone reads [once|N times], with N UNIT' notice, for AMOUNT, to a date
// within N UNIT | by DATE, in any order, each at most once.
func (r reader) postpone(p *Postpone) (*cursor, bool) {
	c := newCursor(p.Says)
	said := map[string]bool{}
	for first := true; first || !c.done(); first = false {
		c.take("and")
		mark := c.at
		clause, ok := r.postponeClause(c, p)
		if !ok {
			return c, false
		}
		if said[clause] {
			c.at = mark
			return c, c.refuse("%s is said twice", clause)
		}
		said[clause] = true
	}
	return c, true
}

// postponeClause reads one clause and returns what it is about.
func (r reader) postponeClause(c *cursor, p *Postpone) (about string, ok bool) {
	switch {
	case c.take("once") != "":
		p.Times = 1
		return "how often", true
	case c.take("twice") != "":
		p.Times = 2
		return "how often", true
	case c.take("with", "on", "upon") != "":
		return "the notice", c.notice(p.Says, &p.Notice)
	case c.take("for") != "":
		c.noise()
		c.take("fee of")
		p.Fee, ok = r.amount(c)
		return "the fee", ok || c.fail("500")
	case c.take("to a date", "to any date", "to another date", "to a new date") != "":
		p.Latest = new(Timing)
		return "the latest date", c.latest(p.Latest)
	case c.times(&p.Times):
		return "how often", true
	}
	return "", c.fail("once", "with 60 days' notice", "for", "to a date within", "to a date by", "twice")
}

func (c *cursor) times(n *int) bool {
	mark, ok := c.at, false
	if *n, ok = c.number(); ok && c.take("times", "time") != "" {
		if *n == 0 {
			c.at = mark
			return c.refuse("an agreement that cannot be moved has no such line; leave it out")
		}
		return true
	}
	c.at = mark
	return false
}

// latest reads within N UNIT, or by DATE.
func (c *cursor) latest(t *Timing) bool {
	switch c.need("within", "by", "on or before", "no later than") {
	case "":
		return false
	case "within":
		*t = Timing{After: true, Anchor: Anchor{Says: "the wedding", ref: weddingRef}}
		if !c.count(t) {
			return false
		}
		c.take("of the wedding", "after the wedding", "from the wedding")
		return true
	}
	c.take("the")
	return c.calendarDay(&t.Anchor.Date) || c.fail("2027-05-03")
}

// notice reads N UNIT' notice.
func (c *cursor) notice(says string, t *Timing) bool {
	from := c.at - 1
	c.take(atLeast...)
	if !c.count(t) {
		return false
	}
	c.take("prior written", "written", "prior", "of")
	if c.need("notice") == "" {
		return false
	}
	t.Anchor = Anchor{Says: "the wedding"}
	t.Says = c.text(says, from, c.at)
	return true
}
