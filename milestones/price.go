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

// What may be taxed.
const (
	TaxOnAll  TaxOn = "all"  // food and service
	TaxOnFood TaxOn = "food" // food alone
)

// manyHeads is more than are asked to any wedding, and the most that a plan
// file may say.
const manyHeads = 100_000

// Amount is the price: exact for a sum or a known count; before that, from
// the fewest that are charged to the most that may come. Without a most it
// has a low alone, and without either nothing is known of it.
func (p Price) Amount() Amount {
	switch {
	case p.Sum != nil:
		return Exactly(*p.Sum)
	case p.Each == nil:
		return Amount{}
	case p.Count > 0:
		return Exactly(p.heads(max(p.Count, p.AtLeast)))
	case p.AtMost > 0:
		return Between(p.heads(p.AtLeast), p.heads(p.AtMost))
	case p.AtLeast > 0:
		return Amount{Low: p.heads(p.AtLeast), High: p.heads(manyHeads), Known: true, Open: true}
	}
	return Amount{}
}

// price is what a costs, by the count that was given: of the change lines
// that say one, the latest by the day it was given, or was due. It replaces
// the plan's own count.
func (r *reckoning) price(a *Agreement) Price {
	price, latest := a.Price, Date{}
	for _, t := range a.Change {
		if t.Given == 0 {
			continue
		}
		day := t.Done
		if day.IsZero() {
			day = r.day(termRef(a, t.Key)).Date
		}
		if !day.Before(latest) {
			price.Count, latest = t.Given, day
		}
	}
	return price
}

// Prices are what the agreements of p cost, by their keys.
func Prices(p *Plan, c Closures) map[string]Amount {
	r, all := newReckoning(p, c), map[string]Amount{}
	for i := range p.Agreements {
		all[p.Agreements[i].Key] = r.price(&p.Agreements[i]).Amount()
	}
	return all
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
