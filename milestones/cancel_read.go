package milestones

// cancel reads COST until DAY, COST from DAY [to DAY], or COST after that.
func (r reader) cancel(s *CancelStep) (*cursor, bool) {
	c := newCursor(s.Says)
	if !r.cost(c, &s.Cost) {
		return c, false
	}
	switch c.need("until", "through", "up to", "from", "after that", "thereafter") {
	case "until", "through", "up to":
		s.Until = new(Timing)
		return c, c.timingOrDay(s.Says, s.Until)
	case "from":
		s.From = new(Timing)
		return c, r.fromTo(c, s)
	case "after that", "thereafter":
		s.Then = c.end()
		return c, s.Then
	}
	return c, false
}

// fromTo reads DAY [to DAY]. "prior to" holds a "to" of its own, so every
// place to cut is tried.
func (r reader) fromTo(c *cursor, s *CancelStep) bool {
	for i := c.at + 1; i < len(c.words); i++ {
		if w := c.words[i].text; w != "to" && w != "until" && w != "through" {
			continue
		}
		var from, until Timing
		if c.part(c.at, i).timingOrDay(s.Says, &from) && c.part(i+1, len(c.words)).timingOrDay(s.Says, &until) {
			s.From, s.Until = &from, &until
			return true
		}
	}
	return c.timingOrDay(s.Says, s.From)
}

func (r reader) cost(c *cursor, cost *Cost) bool {
	c.take("the")
	if c.take("greater of") != "" {
		cost.Greatest = true
	}
	for {
		var part CostPart
		if !r.costPart(c, &part) {
			return false
		}
		cost.Parts = append(cost.Parts, part)
		joint := "plus"
		if cost.Greatest {
			joint = "or"
		}
		if c.take(joint) == "" {
			break
		}
	}
	if cost.Greatest && len(cost.Parts) < 2 {
		return c.fail("or")
	}
	return true
}

func (r reader) costPart(c *cursor, part *CostPart) bool {
	c.take("the")
	if c.take("nothing") != "" {
		return true
	}
	if c.take("first payment", "deposit") != "" {
		part.Form = FirstPayment
		return true
	}
	if share, ok := c.percent(); ok {
		part.Share, part.Form = share, OfPrice
		return c.peek() != "of" || c.costOf(part)
	}
	if c.refused() {
		return false
	}
	if amount, ok := r.amount(c); ok {
		part.Form, part.Sum = SumOfMoney, amount
		return true
	}
	return c.fail("nothing", "25%", "500", "the first payment", "the deposit")
}

// costOf reads what a share is a share of.
func (c *cursor) costOf(part *CostPart) bool {
	switch c.need("of the rest", "of what has been paid", "of what is paid", "of what is unpaid",
		"of the unpaid balance", "of the price", "of the total") {
	case "":
		return false
	case "of the rest":
		part.Form = OfRest
	case "of what has been paid", "of what is paid":
		part.Form = OfPaid
	case "of what is unpaid", "of the unpaid balance":
		part.Form = OfUnpaid
	}
	return true
}
