package milestones

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"pgregory.net/rapid"
)

// rewrites are how people say what the canonical phrases say, in order.
var rewrites = []struct {
	find *regexp.Regexp
	say  func(t *rapid.T, found string) string
}{
	{regexp.MustCompile(`(?:(?:more than|fewer than|within|payments monthly from) )?\d+ (?:business )?(?:day|week|month|year|hour)s? (?:before|after)\b`), leadIn},
	{regexp.MustCompile(`\b\d+ (?:business |equal )?(?:day|week|month|year|hour|payment|time)s?\b`), spokenCount},
	{regexp.MustCompile(`\d[\d.]*%`), spokenShare},
	{regexp.MustCompile(`business day`), sayOne("business day", "working day", "banking day")},
	{regexp.MustCompile(`fewer than`), sayOne("fewer than", "less than")},
	{regexp.MustCompile(` before `), sayOne(" before ", " prior to ", " ahead of ", " before of ")},
	{regexp.MustCompile(` after (?:that)?`), func(t *rapid.T, found string) string {
		if found == " after that" {
			return oneOf(t, "then", found, " thereafter")
		}
		return oneOf(t, "after", found, " from ", " following ")
	}},
	{regexp.MustCompile(`\b(?:on )?\d{4}-\d\d-\d\d`), spokenDate},
	{regexp.MustCompile(` by \d\d:\d\d`), spokenHour},
	{regexp.MustCompile(`the wedding`), sayOne("the wedding", "our wedding", "wedding", "of the wedding")},
	{regexp.MustCompile(`^balance`), sayOne("balance", "the balance", "the remaining balance", "the rest", "remainder of the price")},
	{regexp.MustCompile(`^nothing`), sayOne("nothing", "no charge", "no fee", "free of charge")},
	{regexp.MustCompile(`^security`), sayOne("security", "a security deposit of", "the security")},
	{regexp.MustCompile(`, back`), sayOne(", back", " returned", "; refunded")},
	{regexp.MustCompile(`what has been paid`), sayOne("what has been paid", "the amount paid", "what was paid")},
	{regexp.MustCompile(` plus `), sayOne(" plus ", " and ", ", plus ")},
	{regexp.MustCompile(`'s? notice`), func(t *rapid.T, found string) string {
		return oneOf(t, "notice", found, strings.Replace(found, "'", "’", 1), strings.Replace(found, " ", " prior written ", 1))
	}},
	{regexp.MustCompile(`^once`), sayOne("once", "one time", "1 times")},
	{regexp.MustCompile(` `), sayOne(" ", " ", " ", "  ", "\t")},
	{regexp.MustCompile(`\S+`), func(t *rapid.T, found string) string {
		if strings.Contains(found, "/Chicago") || found == "UTC" {
			return found // a zone's name is what it is
		}
		return oneOf(t, "case", found, found, strings.ToUpper(found), strings.ToUpper(found[:1])+found[1:])
	}},
}

func sayOne(all ...string) func(*rapid.T, string) string {
	return func(t *rapid.T, _ string) string { return oneOf(t, "say", all...) }
}

// humanly says a canonical phrase as people might.
func humanly(t *rapid.T, says string) string {
	for _, r := range rewrites {
		says = r.find.ReplaceAllStringFunc(says, func(found string) string { return r.say(t, found) })
	}
	return says
}

// leadIn puts words before a count that change nothing.
func leadIn(t *rapid.T, found string) string {
	if found[0] > '9' {
		return found
	}
	return oneOf(t, "lead-in", "", "at least ", "no fewer than ", "not less than ", "no later than ", "the ") + found
}

func spokenDate(t *rapid.T, found string) string {
	iso, on := strings.CutPrefix(found, "on ")
	d, _ := ParseDate(iso)
	suffix := map[int]string{1: "st", 21: "st", 31: "st", 2: "nd", 22: "nd", 3: "rd", 23: "rd"}[d.Day]
	if suffix == "" {
		suffix = "th"
	}
	iso = oneOf(t, "date", iso, fmt.Sprintf("%d %s %d", d.Day, d.Month, d.Year), fmt.Sprintf("%.3s %d, %d", d.Month, d.Day, d.Year),
		fmt.Sprintf("the %d%s of %s, %d", d.Day, suffix, d.Month, d.Year), d.Weekday().String()+", "+iso)
	if !on {
		return iso
	}
	return oneOf(t, "on", "on ", "by ", "on or before ", "no later than ", "due on ") + iso
}

func spokenHour(t *rapid.T, found string) string {
	c, _ := ParseClock(found[len(" by "):])
	half, hour := "am", c.Hour
	if hour >= 12 {
		half, hour = "pm", hour-12
	}
	if hour == 0 {
		hour = 12
	}
	forms := []string{c.String(), fmt.Sprintf("%d:%02d%s", hour, c.Minute, half), fmt.Sprintf("%d:%02d %c.m.", hour, c.Minute, half[0])}
	if c == (Clock{Hour: 12}) {
		forms = append(forms, "noon")
	}
	return oneOf(t, "by", " by ", " at ", " before ", " no later than ") + oneOf(t, "hour", forms...)
}

func spokenCount(t *rapid.T, found string) string {
	figures, rest, _ := strings.Cut(found, " ")
	n, _ := strconv.Atoi(figures)
	if n >= 1000 {
		return found
	}
	return oneOf(t, "count", figures, inWords(t, n), inWords(t, n)+" ("+figures+")", figures+" ("+inWords(t, n)+")") + " " + rest
}

func spokenShare(t *rapid.T, found string) string {
	number := strings.TrimSuffix(found, "%")
	forms := []string{found, number + " %", number + " percent", number + " per cent"}
	if n, err := strconv.Atoi(number); err == nil && n < 100 {
		forms = append(forms, inWords(t, n)+" percent", inWords(t, n)+" percent ("+found+")")
	}
	forms = append(forms, map[string][]string{"25%": {"a quarter"}, "50%": {"half", "one half"}, "100%": {"all"}}[found]...)
	return oneOf(t, "share", forms...)
}

// inWords spells n below 1000.
func inWords(t *rapid.T, n int) string {
	switch hundreds, below := n/100, n%100; {
	case hundreds > 0 && below == 0:
		return ones[hundreds] + " hundred"
	case hundreds > 0:
		return ones[hundreds] + " hundred " + oneOf(t, "and", "", "and ") + inWords(t, below)
	case n < 20:
		return ones[n]
	case n%10 == 0:
		return tens[n/10]
	}
	return tens[n/10] + oneOf(t, "hyphen", "-", " ") + ones[n%10]
}
