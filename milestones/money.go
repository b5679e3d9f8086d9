package milestones

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/govalues/money"
)

// Money is an exact sum in the minor units of the plan's currency: cents for
// USD, whole yen for JPY.
type Money int64

// most is the largest sum that is read; a price for all heads then fits.
const most Money = 1e12

// Currency is an ISO 4217 code in capitals.
type Currency string

// ParseCurrency reads an ISO 4217 code of any case.
func ParseCurrency(s string) (Currency, error) {
	c, err := money.ParseCurr(s)
	if err != nil {
		return "", fmt.Errorf("%q is no code of a currency; write its three letters, such as USD, CAD, GBP or EUR", s)
	}
	return Currency(c.Code()), nil
}

// Digits is the number of decimals of c; 2 where c is unknown.
func (c Currency) Digits() int {
	if k, err := money.ParseCurr(string(c)); err == nil {
		return k.Scale()
	}
	return 2
}

var amountForm = regexp.MustCompile(`^(\d{1,3}(?:,\d{3})+|\d+)(?:\.(\d+))?$`)

// Parse reads a sum such as 2500, 2,500 or 2,500.00, perhaps with the
// currency's own sign or code in front.
func (c Currency) Parse(s string) (Money, error) {
	text := strings.TrimSpace(s)
	text = strings.TrimSpace(strings.TrimPrefix(text, string(c)))
	text = strings.TrimPrefix(text, c.sign())
	m := amountForm.FindStringSubmatch(text)
	if m == nil {
		return 0, fmt.Errorf("%q is no sum; write it as 2500 or 2,500.00", s)
	}
	digits := c.Digits()
	if len(m[2]) > digits {
		return 0, fmt.Errorf("%q has more decimals than %s has (%d)", s, c, digits)
	}
	n, err := strconv.ParseInt(strings.ReplaceAll(m[1], ",", "")+m[2]+strings.Repeat("0", digits-len(m[2])), 10, 64)
	if err != nil || Money(n) > most {
		return 0, fmt.Errorf("%q is more than can be reckoned with", s)
	}
	return Money(n), nil
}

// Plain is m as machines read it: 5180.00.
func (c Currency) Plain(m Money) string {
	digits := c.Digits()
	text := fmt.Sprintf("%0*d", digits+1, max(m, -m))
	if cut := len(text) - digits; digits > 0 {
		text = text[:cut] + "." + text[cut:]
	}
	if m < 0 {
		text = "-" + text
	}
	return text
}

// Words is m as people read it: $5,180.00, or CAD 5,180.00 where the sign
// could be another country's.
func (c Currency) Words(m Money) string {
	text := c.Plain(max(m, -m))
	whole, cents, _ := strings.Cut(text, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if cents != "" {
		whole += "." + cents
	}
	if sign := c.sign(); sign != "" {
		whole = sign + whole
	} else {
		whole = string(c) + " " + whole
	}
	if m < 0 {
		whole = "-" + whole
	}
	return whole
}

func (c Currency) sign() string {
	switch c {
	case "USD":
		return "$"
	case "EUR":
		return "€"
	case "GBP":
		return "£"
	}
	return ""
}

// Percent is a share in ten-thousandths of one per cent: 22 % is 220000.
type Percent int64

// Whole is 100 %.
const Whole Percent = 1_000_000

// ParsePercent reads 25%, 33.33% or 22 %, from 0 to 100 with at most four
// decimals.
func ParsePercent(s string) (Percent, error) {
	number, ok := strings.CutSuffix(strings.TrimSpace(s), "%")
	m := amountForm.FindStringSubmatch(strings.TrimSpace(number))
	if !ok || m == nil || len(m[2]) > 4 || len(m[1]) > 3 {
		return 0, fmt.Errorf("%q is no share; write it as 25%% or 33.33%%", s)
	}
	n, err := strconv.ParseInt(m[1]+m[2]+strings.Repeat("0", 4-len(m[2])), 10, 64)
	if err != nil || Percent(n) > Whole {
		return 0, fmt.Errorf("%q is more than the whole; a share is at most 100%%", s)
	}
	return Percent(n), nil
}

// Of is p of m, rounded half up to the minor unit.
func (p Percent) Of(m Money) Money {
	const whole = Money(Whole)
	return m/whole*Money(p) + (m%whole*Money(p)+whole/2)/whole // in two, lest the product overflow
}

// String is p as it is written: 22% or 33.33%.
func (p Percent) String() string {
	text := fmt.Sprintf("%d.%04d", p/10_000, p%10_000)
	return strings.TrimRight(strings.TrimRight(text, "0"), ".") + "%"
}
