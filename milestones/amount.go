package milestones

// Amount is a sum that may lie between a low and a high until something is
// known, or have a low alone, or be not known at all: the zero Amount.
type Amount struct {
	Low, High Money
	Known     bool // false: nothing can be said of the sum yet
	// Open: nobody can say how high it goes. High is then no bound; of what
	// follows a price by the head, it is the sum for more guests than anybody
	// asks, so that sums of one price can be compared.
	Open bool `json:",omitempty"`
}

// Exactly is the amount that is m and no other.
func Exactly(m Money) Amount { return Amount{Low: m, High: m, Known: true} }

// Between is the amount from low to high.
func Between(low, high Money) Amount { return Amount{Low: low, High: high, Known: true} }

// AtLeast is the amount of which low alone is known.
func AtLeast(low Money) Amount { return Amount{Low: low, High: low, Known: true, Open: true} }

// following is the amount from low to high that follows price: it has no
// high where price has none and makes a difference.
func following(price Amount, low, high Money) Amount {
	return Amount{Low: low, High: high, Known: true, Open: price.Open && low != high}
}

// Exact returns the one sum of a, where there is one.
func (a Amount) Exact() (Money, bool) { return a.Low, a.Known && !a.Open && a.Low == a.High }

// Plus is the sum of both; it is known where both are.
func (a Amount) Plus(b Amount) Amount {
	return Amount{a.Low + b.Low, a.High + b.High, a.Known && b.Known, a.Open || b.Open}
}

// Or is an amount that may be either of the two.
func (a Amount) Or(b Amount) Amount {
	return Amount{min(a.Low, b.Low), max(a.High, b.High), a.Known && b.Known, a.Open || b.Open}
}

// Over is by how much a goes beyond b, and never below nothing. Both have to
// follow one price, so that their lows belong together, and their highs.
func (a Amount) Over(b Amount) Amount {
	low, high := max(0, a.Low-b.Low), max(0, a.High-b.High)
	return Amount{min(low, high), max(low, high), a.Known && b.Known, (a.Open || b.Open) && high > low}
}

// Range is a as people read it, in currency c.
func (c Currency) Range(a Amount) string {
	switch m, exact := a.Exact(); {
	case exact:
		return c.Words(m)
	case a.Known && a.Open:
		return "at least " + c.Words(a.Low)
	case a.Known:
		return c.Words(a.Low) + " to " + c.Words(a.High)
	}
	return "a sum not known yet"
}
