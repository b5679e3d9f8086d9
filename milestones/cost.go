package milestones

// Cost is what leaving an agreement costs on a given day: its parts added
// up, or the greatest of them.
type Cost struct {
	Parts    []CostPart
	Greatest bool // the greater of the parts, not their sum
}

// CostPart is one member of a Cost.
type CostPart struct {
	Form  CostForm
	Share Percent
	Sum   Money
}

// CostForm is what a CostPart is a share of.
type CostForm int

// The forms of a cost.
const (
	NoCost       CostForm = iota // nothing
	OfPrice                      // a share of the price
	OfRest                       // a share of the price less the parts before it
	OfPaid                       // a share of what has been paid
	OfUnpaid                     // a share of the price less what has been paid
	SumOfMoney                   // a sum of its own
	FirstPayment                 // the first payment, also called the deposit
)

// paid is the state of an agreement's payments on one day.
type paid struct {
	price, paid, first Money
}

// on is what the cost comes to.
func (c Cost) on(p paid) Money {
	var sum, greatest Money
	for _, part := range c.Parts {
		m := part.on(p, sum)
		if greatest = max(greatest, m); !c.Greatest {
			sum += m
		}
	}
	if c.Greatest {
		return greatest
	}
	return sum
}

func (part CostPart) on(p paid, before Money) Money {
	switch part.Form {
	case OfPrice:
		return part.Share.Of(p.price)
	case OfRest:
		return part.Share.Of(max(0, p.price-before))
	case OfPaid:
		return part.Share.Of(p.paid)
	case OfUnpaid:
		return part.Share.Of(max(0, p.price-p.paid))
	case SumOfMoney:
		return part.Sum
	case FirstPayment:
		return p.first
	}
	return 0
}

// known reports whether the cost can be told where so much is known.
func (c Cost) known(price, settled, first bool) bool {
	for _, part := range c.Parts {
		switch part.Form {
		case OfPrice, OfRest:
			if !price {
				return false
			}
		case OfPaid:
			if !settled {
				return false
			}
		case OfUnpaid:
			if !price || !settled {
				return false
			}
		case FirstPayment:
			if !first {
				return false
			}
		}
	}
	return true
}
