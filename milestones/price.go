package milestones

// Price is what an agreement costs: a sum, or so much a head.
type Price struct {
	Sum     *Money // a sum, or nil
	Each    *Money // by the head, or nil
	Count   int    // heads; 0 until known
	AtLeast int    // the fewest that are charged
	AtMost  int    // the most that may come, or 0
	Service Percent
	Tax     Percent
	TaxOn   TaxOn
}

// TaxOn is what the tax of a price by the head is reckoned on.
type TaxOn string

const (
	TaxOnAll  TaxOn = "all"  // food and service
	TaxOnFood TaxOn = "food" // food alone
)

// Amount is the price: exact for a sum or a known count; from the least to
// the most that may come before that. Without a most its high is not known,
// and so neither is the amount.
func (p Price) Amount() Amount {
	switch {
	case p.Sum != nil:
		return Exactly(*p.Sum)
	case p.Each == nil:
		return Amount{}
	case p.Count > 0:
		return Exactly(p.heads(max(p.Count, p.AtLeast)))
	case p.AtLeast > 0 && p.AtMost > 0:
		return Between(p.heads(p.AtLeast), p.heads(p.AtMost))
	}
	return Amount{}
}

// heads is the price for n heads: food, service on it, then tax, each
// rounded half up to the minor unit.
func (p Price) heads(n int) Money {
	food := *p.Each * Money(n)
	service := p.Service.Of(food)
	taxed := food
	if p.TaxOn != TaxOnFood {
		taxed += service
	}
	return food + service + p.Tax.Of(taxed)
}
