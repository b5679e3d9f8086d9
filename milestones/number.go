package milestones

import (
	"slices"
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
	n, ok := c.below100()
	if c.take("hundred") == "" {
		return n, ok || c.fail()
	}
	if !ok {
		n = 1 // "a hundred"
	} else if n < 1 || n > 9 {
		c.at--
		return 0, c.fail()
	}
	mark := c.at
	c.take("and")
	rest, ok := c.below100()
	if !ok || rest > 99 {
		c.at, rest = mark, 0
	}
	return n*100 + rest, true
}

// below100 reads one number word or figure, or two words such as "forty five".
func (c *cursor) below100() (int, bool) {
	n := number(c.peek())
	if n < 0 {
		return 0, false
	}
	round := slices.Contains(tens[2:], c.peek())
	c.at++
	if one := slices.Index(ones, c.peek()); round && one > 0 && one < 10 {
		c.at++
		n += one
	}
	return n, true
}

// withoutEchoes drops brackets, and what stands in one where that repeats the
// number before it: "one hundred and twenty (120)", "25 (twenty-five)",
// "fifty percent (50%)".
func withoutEchoes(words []word) []word {
	var kept []word
	for i := 0; i < len(words); i++ {
		w := words[i]
		if !strings.HasPrefix(w.text, "(") {
			kept = append(kept, w)
			continue
		}
		if n := echo(kept, words[i:]); n > 0 {
			i += n - 1
			continue
		}
		if w.text = strings.Trim(w.text, "()"); w.text != "" {
			kept = append(kept, w)
		}
	}
	return kept
}

// echo is how many words of next are a bracket that repeats the number at the
// end of before.
func echo(before, next []word) int {
	end := slices.IndexFunc(next, func(w word) bool { return strings.HasSuffix(w.text, ")") })
	if end < 0 || end > 4 {
		return 0
	}
	inner := make([]word, end+1)
	for i, w := range next[:end+1] {
		inner[i] = word{text: strings.Trim(w.text, "()%")}
	}
	for n := len(before); n > 0 && slices.Contains([]string{"percent", "per", "cent", "%"}, before[n-1].text); n-- {
		before = before[:n-1]
	}
	said, ok := whole(inner)
	for from := max(0, len(before)-5); ok && from < len(before); from++ {
		if n, same := whole(before[from:]); same {
			return (end + 1) * b2i(n == said)
		}
	}
	return 0
}

// whole reads all of words as one number.
func whole(words []word) (int, bool) {
	c := cursor{words: words, far: &misread{}}
	n, ok := c.number()
	return n, ok && c.done()
}

var ordinalWords = strings.Fields("first second third fourth fifth sixth seventh eighth ninth tenth")
var ordinalFigures = strings.Fields("1st 2nd 3rd 4th 5th 6th 7th 8th 9th 10th")

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
