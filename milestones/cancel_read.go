package milestones

// cancel reads COST until DAY, COST from DAY [to DAY], COST after that, or
// after that COST.
func (r reader) cancel(s *CancelStep) (*cursor, bool) {
	c := newCursor(s.Says)
	if c.take("after that", "thereafter", "then") != "" {
		s.Then = r.cost(c, &s.Cost) && c.end()
		return c, s.Then
	}
	if !r.cost(c, &s.Cost) {
		return c, false
	}
	switch c.need("until", "through", "up to", "from", "after that", "thereafter") {
	default:
		c.take("and including")
		s.Until = new(Timing)
		return c, c.timingOrDay(s.Says, s.Until)
	case "from":
		s.From = new(Timing)
		return c, r.fromTo(c, s)
	case "after that", "thereafter":
		s.Then = c.end()
		return c, s.Then
	case "":
		return c, false
	}
}

// fromTo reads DAY [to DAY]. "prior to" and "trip to the florist" hold a "to"
// of their own, so every place to cut is tried, what names known things first.
func (r reader) fromTo(c *cursor, s *CancelStep) bool {
	var whole Timing
	trial := c.part(c.at, len(c.words))
	trial.far = &misread{at: -1} // what is refused of the whole may be right of a part
	if trial.timingOrDay(s.Says, &whole) && r.knows(whole) {
		s.From = &whole
		return true
	}
	if r.cutAtTo(c, s, r.knows) || r.cutAtTo(c, s, func(Timing) bool { return true }) || c.timingOrDay(s.Says, s.From) {
		return true
	}
	if c.far.says == "" && len(c.far.want) == 0 {
		c.far.want = []string{"to"}
	}
	return false
}

// cutAtTo reads DAY to DAY, where both are good.
func (r reader) cutAtTo(c *cursor, s *CancelStep, good func(Timing) bool) bool {
	for i := c.at + 1; i < len(c.words); i++ {
		if w := c.words[i].text; w != "to" && w != "until" && w != "through" {
			continue
		}
		var from, until Timing
		if c.part(c.at, i).timingOrDay(s.Says, &from) && c.part(i+1, len(c.words)).timingOrDay(s.Says, &until) &&
			good(from) && good(until) {
			s.From, s.Until = &from, &until
			return true
		}
	}
	return false
}

// cost reads COST.
func (r reader) cost(c *cursor, cost *Cost) bool {
	c.take("the")
	joints := []string{"plus", "and"}
	if c.take("greater of", "larger of", "higher of") != "" {
		cost.Greatest = true
		joints = []string{"or", "and"}
	}
	for {
		var part CostPart
		if !r.costPart(c, &part) {
			return false
		}
		cost.Parts = append(cost.Parts, part)
		if cost.Greatest && c.peek() == "plus" {
			return c.refuse(`what is compared in "the greater of" is one cost each, without "plus"`)
		}
		if c.take(joints...) == "" {
			break
		}
	}
	if cost.Greatest && len(cost.Parts) < 2 {
		return c.fail("or")
	}
	return true
}

func (r reader) costPart(c *cursor, part *CostPart) bool {
	c.noise()
	if c.take("nothing", "no charge", "no fee", "no cost", "free of charge", "free") != "" {
		return true
	}
	if c.take("first payment", "deposit", "retainer") != "" {
		part.Form = FirstPayment
		return true
	}
	if share, ok := c.percent(); ok {
		part.Share, part.Form = share, OfPrice
		return c.take("of") == "" || c.costOf(part)
	}
	if c.refused() || c.inFigures() {
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
	c.take("the")
	switch c.need("rest", "what has been paid", "what was paid", "what is paid", "amount paid",
		"what is unpaid", "unpaid balance", "price", "total price", "total", "paid", "unpaid") {
	case "":
		return false
	case "rest":
		part.Form = OfRest
	case "what has been paid", "what was paid", "what is paid", "amount paid", "paid":
		part.Form = OfPaid
	case "what is unpaid", "unpaid balance", "unpaid":
		part.Form = OfUnpaid
	}
	return true
}
