package milestones

import (
	"slices"
	"strconv"
	"strings"
)

// sum reads 25%, 25% of the rest, or an amount.
func (r reader) sum(c *cursor, p *Payment) bool {
	// The first payment is often called a deposit or a retainer; the word
	// changes nothing.
	deposit := c.take("deposit of", "deposit", "retainer of", "retainer") != ""
	if share, ok := c.percent(); ok {
		p.Form, p.Share = ByShare, share
		if !deposit {
			c.take("deposit", "retainer")
		}
		if c.take("of") == "" {
			return true
		}
		c.take("the")
		of := c.need("rest", "what remains", "total price", "price", "total")
		p.OfRest = of == "rest" || of == "what remains"
		return of != ""
	}
	if c.refused() || c.inFigures() {
		return false
	}
	if amount, ok := r.amount(c); ok {
		p.Form, p.Sum = FixedSum, amount
		if !deposit {
			c.take("deposit", "retainer")
		}
		return true
	}
	return c.fail("balance", "security", "25%", "1,000.00")
}

// percent reads 25%, 25 %, 25 percent, twenty-five per cent or half.
func (c *cursor) percent() (Percent, bool) {
	if p := c.worded(); p != 0 {
		return p, true
	}
	mark, text := c.at, c.peek()
	words := cursor{words: c.words, at: c.at, far: &misread{}}
	if n, ok := words.number(); ok {
		text, c.at = strconv.Itoa(n), words.at
	} else {
		c.at++
	}
	if !strings.HasSuffix(text, "%") && c.take("%", "percent", "per cent") != "" {
		text += "%"
	}
	if !strings.HasSuffix(text, "%") {
		c.at = mark
		return 0, false
	}
	p, err := ParsePercent(text)
	if err != nil {
		c.at = mark
		return 0, c.refuse("%s", err)
	}
	return p, true
}

// worded reads a share that contracts say in words.
func (c *cursor) worded() Percent {
	switch {
	case c.take("one half", "one-half", "half") != "":
		return Whole / 2
	case c.take("one quarter", "one-quarter", "quarter") != "":
		return Whole / 4
	case c.take("all", "everything") != "":
		return Whole
	}
	return 0
}

// inFigures refuses a third, which no share in figures is, and says how to
// come near.
func (c *cursor) inFigures() bool {
	words := *c
	if words.take("one third", "one-third", "third") == "" {
		return false
	}
	return !c.refuse("write it as 33.33%%")
}

// amount reads 500, 2,500.00, $500, USD 500 or 500 USD.
func (r reader) amount(c *cursor) (Money, bool) {
	mark, code := c.at, strings.ToLower(string(r.currency))
	named := c.take(code) != ""
	m, err := r.currency.Parse(c.peek())
	if err != nil {
		if other := foreign(c); other != "" {
			c.refuse("the plan's sums are in %s, and %s is not; reckon it over, or ask what it comes to", r.currency, other)
		} else if strings.ContainsAny(c.peek(), "0123456789") {
			c.refuse("%s", err)
		}
		c.at = mark
		return 0, false
	}
	c.at++
	if !named {
		c.take(code)
	}
	return m, true
}

// foreign is the sign or code of another currency before a sum.
func foreign(c *cursor) string {
	if sign := strings.TrimRight(c.peek(), "0123456789.,"); sign != c.peek() && slices.Contains([]string{"$", "€", "£", "¥"}, sign) {
		return sign
	}
	if c.at+1 < len(c.words) && amountForm.MatchString(c.words[c.at+1].text) {
		if as := c.words[c.at].as; len(as) == 3 && as == strings.ToUpper(as) {
			code, _ := ParseCurrency(as)
			return string(code)
		}
	}
	return ""
}
