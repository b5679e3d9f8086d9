package milestones

// part is one payment of an agreement; equal payments have a part each.
type part struct {
	*Payment
	ref  ref
	res  result
	done Date   // the day it was done, or zero
	paid *Money // what was paid or invoiced, or nil
	sum  Amount
}

// account is what one agreement is paid, part by part, without security.
type account struct {
	price  Amount
	parts  []part
	spare  Amount // what no part pays: positive where something has no day
	excess Money  // by how much the parts named are more than the price can be
}

// account works out the sums of a's payments. Shares round half up; the
// balance, the equal payments together, or the last payment by date where
// the shares make the whole, take what remains, so that all sum to the price.
func (r *reckoning) account(a *Agreement) account {
	acc := account{price: r.price(a).Amount()}
	for i := range a.Pay {
		p := &a.Pay[i]
		switch p.Form {
		case Security:
		case Equal:
			for n := range p.Times {
				acc.add(r, p, n+1, partRef(a, *p, n+1))
			}
		default:
			acc.add(r, p, 1, termRef(a, p.Key))
		}
	}
	low, spareLow, _ := acc.share(acc.price.Low)
	high, spareHigh, excess := acc.share(acc.price.High)
	for i := range acc.parts {
		p := &acc.parts[i]
		p.sum = following(acc.price, low[i], high[i])
		p.sum.Known = acc.price.Known || p.fixed()
	}
	if acc.price.Known {
		acc.spare, acc.excess = following(acc.price, spareLow, spareHigh), excess
	}
	return acc
}

// add adds the nth part of p.
func (acc *account) add(r *reckoning, p *Payment, n int, to ref) {
	one := part{Payment: p, ref: to, res: r.day(to), done: p.doneOn(n), paid: p.Amount}
	if len(p.DoneParts) > 0 && one.done.IsZero() {
		one.paid = nil // the amount is that of the parts that were done
	}
	acc.parts = append(acc.parts, one)
}

// fixed reports whether the part's sum is known without the price.
func (p part) fixed() bool { return p.paid != nil || p.Form == FixedSum }

// rests reports whether the part takes what the others leave.
func (p part) rests() bool { return p.paid == nil && (p.Form == Balance || p.Form == Equal) }

// says is what the phrase makes of the price, after so much of it was named.
func (p part) says(price, named Money) Money {
	switch {
	case p.Form == FixedSum:
		return p.Sum
	case p.Form == ByShare && p.OfRest:
		return p.Share.Of(max(0, price-named))
	case p.Form == ByShare:
		return p.Share.Of(price)
	}
	return 0
}

// share gives each part its sum of one price. excess is how far the sums
// that the phrases name go beyond the price.
func (acc *account) share(price Money) (sums []Money, spare, excess Money) {
	sums = make([]Money, len(acc.parts))
	var named, nominal Money // as they stand, and as the phrases have them
	resting, shares := 0, Money(0)
	for i, p := range acc.parts {
		sums[i] = p.says(price, nominal)
		nominal += sums[i]
		if p.paid != nil {
			sums[i] = *p.paid
		}
		named += sums[i]
		shares += Money(b2i(p.Form == ByShare))
		resting += b2i(p.rests())
	}
	left, over := price-named, nominal-price
	switch last := acc.last(); {
	case resting > 0:
		acc.spread(sums, max(0, left), resting)
		left = min(0, left)
	case last >= 0 && over <= shares && -over <= shares: // the shares make the whole
		took := max(-sums[last], left)
		sums[last], left = sums[last]+took, left-took
	}
	// Each share may have been rounded up by half a minor unit.
	if over > shares {
		return sums, left, over
	}
	return sums, left + acc.trim(sums, min(-left, over)), 0
}

// trim takes n minor units that only rounding made off the later shares, and
// returns how many it took.
func (acc *account) trim(sums []Money, n Money) (took Money) {
	for i := len(sums) - 1; i >= 0 && took < n; i-- {
		if p := acc.parts[i]; p.Form == ByShare && p.paid == nil && sums[i] > 0 {
			sums[i]--
			took++
		}
	}
	return took
}

// spread shares left among the resting parts; the last takes the rounding.
func (acc *account) spread(sums []Money, left Money, n int) {
	each := (2*left + Money(n)) / Money(2*n)
	given := 0
	for i, p := range acc.parts {
		if !p.rests() {
			continue
		}
		if given++; given == n {
			sums[i] = left
			return
		}
		sums[i] = min(each, left)
		left -= sums[i]
	}
}

// last is the last part by date whose sum is not settled, undated ones last
// of all, or -1. One that was done without an amount serves only where no
// other is left.
func (acc *account) last() int {
	last := -1
	for i, p := range acc.parts {
		if p.paid == nil && (last < 0 || !p.earlier(acc.parts[last])) {
			last = i
		}
	}
	return last
}

// earlier reports whether p comes before q for what remains.
func (p part) earlier(q part) bool {
	switch {
	case p.done.IsZero() != q.done.IsZero():
		return !p.done.IsZero()
	case p.res.waits != "" || q.res.waits != "":
		return p.res.waits == ""
	}
	return p.res.Before(q.res.Date)
}

// paidBy is what has been paid on d: what was done by then, and what was due
// by then.
func (acc *account) paidBy(d Date) Amount {
	sum := Exactly(0)
	for _, p := range acc.parts {
		done := !p.done.IsZero() && !p.done.After(d)
		due := p.res.waits == "" && !p.res.After(d)
		if done || due {
			sum = sum.Plus(p.sum)
		}
	}
	return sum
}

// cost is what c comes to on d.
func (acc *account) cost(c Cost, d Date) Amount {
	var first Amount
	if len(acc.parts) > 0 {
		first = acc.parts[0].sum
	}
	settled := acc.paidBy(d)
	if !c.known(acc.price.Known, settled.Known, first.Known) {
		return Amount{}
	}
	low := c.on(paid{acc.price.Low, settled.Low, first.Low})
	high := c.on(paid{acc.price.High, settled.High, first.High})
	return following(acc.price, low, high)
}
