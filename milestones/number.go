package milestones

import (
	"strconv"
	"strings"
)

// countMost is the largest count that is read.
const countMost = 20_000

var ones = strings.Fields("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
var tens = strings.Fields("_ _ twenty thirty forty fifty sixty seventy eighty ninety")

// number reads a whole number in figures or one English word ("thirty",
// "forty-five"), or returns -1.
func number(s string) int {
	if n, err := strconv.Atoi(s); err == nil && n >= 0 && n <= countMost {
		return n
	}
	for i, w := range ones {
		if s == w {
			return i
		}
	}
	ten, one, compound := strings.Cut(s, "-")
	for i, w := range tens {
		if ten == w && i > 1 {
			if !compound {
				return i * 10
			}
			if n := number(one); n > 0 && n < 10 {
				return i*10 + n
			}
		}
	}
	return -1
}

// number reads a count: 30, thirty, one hundred and twenty.
func (c *cursor) number() (int, bool) {
	n := number(c.peek())
	if n < 0 {
		return 0, c.fail()
	}
	c.at++
	if n > 0 && n < 10 && c.take("hundred") != "" {
		n *= 100
		mark := c.at
		c.take("and")
		if rest := number(c.peek()); rest > 0 && rest < 100 {
			c.at++
			n += rest
		} else {
			c.at = mark
		}
	}
	return n, true
}

var ordinalWords = strings.Fields("first second third fourth fifth sixth seventh eighth ninth tenth")

// ordinal is the place that a word such as "second" or "2nd" names, or 0.
func ordinal(s string) int {
	for i, w := range ordinalWords {
		if s == w {
			return i + 1
		}
	}
	for _, suffix := range []string{"st", "nd", "rd", "th"} {
		if digits, ok := strings.CutSuffix(s, suffix); ok {
			if n, err := strconv.Atoi(digits); err == nil && n > 0 && n < 100 {
				return n
			}
		}
	}
	return 0
}
