package milestones

import (
	"fmt"
	"strings"
)

// sums asks where the payments do not make the price. No reading settles it:
// the plan has to say more.
func (s *schedule) sums(a *Agreement, acc *account) {
	q := Question{Doubt: DoubtPaid, Path: "agreements/" + a.Key, Agreement: a.Key, Words: phrases(acc.parts)}
	c, spare := s.plan.Wedding.Currency, acc.spare
	switch {
	case !acc.price.Known:
		s.noPrice(a, acc, q)
		return
	case len(acc.parts) == 0 && acc.price.High > 0:
		q.Says = fmt.Sprintf("no payment of %s is written down: %s has no day", a.With, c.Range(acc.price))
		q.Mend = `add a payment with its day, as "balance 14 days before the wedding"`
		q.Readings = []Reading{{Key: "missing payment", Says: "it is paid on a day that is not written down", Amount: acc.price}}
	case spare.High > 0:
		missing := spare.Over(Exactly(0))
		q.Says = fmt.Sprintf("the payments of %s come to less than the price: %s has no day", a.With, c.Range(missing))
		q.Mend = "add the missing payment, or write the price that the payments make"
		q.Readings = []Reading{
			{Key: "missing payment", Says: "so much is paid on a day that is not written down", Amount: missing},
			{Key: "lower price", Says: "the price is what the payments make", Amount: acc.price.Over(missing)},
		}
	case spare.High < 0:
		over := Exactly(0).Over(spare)
		q.Says = fmt.Sprintf("what was paid to %s, and is still to be paid, is more than the price by %s", a.With, c.Words(-spare.High))
		q.Mend = "write the amounts that were paid, or the price that they make"
		q.Readings = []Reading{
			{Key: "money back", Says: "so much was paid too much, and comes back", Amount: over},
			{Key: "higher price", Says: "the price is what is paid in all", Amount: acc.price.Plus(over)},
		}
	default:
		return
	}
	s.ask(&q)
}

// noPrice asks for the price where something depends on it.
func (s *schedule) noPrice(a *Agreement, acc *account, q Question) {
	var unknown []part
	for _, p := range acc.parts {
		if !p.sum.Known {
			unknown = append(unknown, p)
		}
	}
	if len(unknown) == 0 {
		return
	}
	q.Doubt, q.Words = DoubtPrice, phrases(unknown)
	q.Says = fmt.Sprintf("the price of %s is not known yet, so these have no sum: %s", a.With, q.Words)
	q.Mend = `write the price, or so much a head with "at least" and "at most"`
	s.ask(&q)
}

// phrases are those of some payments, each once.
func phrases(parts []part) string {
	var all []string
	for i, p := range parts {
		if i == 0 || p.Payment != parts[i-1].Payment {
			all = append(all, p.Says)
		}
	}
	return strings.Join(all, "; ")
}
