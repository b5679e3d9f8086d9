package milestones

// postpone reads [once|N times], with N UNIT' notice, for AMOUNT, to a date
// within N UNIT | by DATE, in any order.
func (r reader) postpone(p *Postpone) (*cursor, bool) {
	c := newCursor(p.Says)
	for !c.done() {
		c.take("and")
		switch {
		case c.take("once") != "":
			p.Times = 1
		case c.take("twice") != "":
			p.Times = 2
		case c.take("with", "on") != "":
			if !c.notice(p.Says, &p.Notice) {
				return c, false
			}
		case c.take("for") != "":
			m, ok := r.amount(c)
			if !ok {
				return c, c.fail("500")
			}
			p.Fee = m
		case c.take("to a date within") != "":
			p.Latest = &Timing{After: true, Anchor: Anchor{Says: "the wedding"}}
			if !c.count(p.Latest) {
				return c, false
			}
		case c.take("to a date by") != "":
			p.Latest = new(Timing)
			if !c.calendarDay(&p.Latest.Anchor.Date) {
				return c, c.fail("2027-05-03")
			}
		case !c.times(&p.Times):
			return c, c.fail("once", "with 60 days' notice", "for", "to a date within", "to a date by")
		}
	}
	return c, true
}

func (c *cursor) times(n *int) bool {
	mark, ok := c.at, false
	if *n, ok = c.number(); ok && c.take("times", "time") != "" {
		return true
	}
	c.at = mark
	return false
}

func (c *cursor) notice(says string, t *Timing) bool {
	from := c.at - 1
	c.take("at least", "no less than", "not less than")
	if !c.count(t) {
		return false
	}
	c.take("of", "prior", "written", "prior written")
	if c.need("notice") == "" {
		return false
	}
	t.Anchor = Anchor{Says: "the wedding"}
	t.Says = c.text(says, from, c.at)
	return true
}
