package milestones

import (
	"fmt"
	"slices"
	"strings"
)

// String is t in the grammar's own plain words. Reading them gives t again,
// whatever synonyms it was written with.
func (t Timing) String() string { return t.words("on ") }

// bare is String without the "on" of a plain day, as after "until". A name
// that begins like a timing keeps it, lest it be read as one.
func (t Timing) bare() string {
	if slices.Contains(timingWords, firstWord(t.Anchor.String())) {
		return t.words("on ")
	}
	return t.words("")
}

// timingWords begin a timing, or come before the count of one.
var timingWords = strings.Fields("with within more fewer less least than at no not on by upon due until the a an one hundred")

func firstWord(s string) string {
	first, _, _ := strings.Cut(strings.ToLower(s), " ")
	return first
}

func (t Timing) words(on string) string {
	says := t.dayWords(on)
	switch {
	case t.Midnight:
		says += " by midnight"
	case t.Clock != nil:
		says += " by " + t.Clock.String()
	}
	if t.Zone != "" {
		says += " " + t.Zone
	}
	return says
}

func (t Timing) dayWords(on string) string {
	side := "before"
	if t.After {
		side = "after"
	}
	switch {
	case t.With:
		return "with " + t.Anchor.String()
	case t.Weekday != nil:
		return fmt.Sprintf("the %s %s %s", t.Weekday, side, t.Anchor)
	case t.N == 0:
		return on + t.Anchor.String()
	}
	bound := ""
	switch t.Bound {
	case MoreThan:
		bound = "more than "
	case FewerThan:
		bound = "fewer than "
	case WithinOf:
		if bound = "within "; !t.Sided {
			side = "of"
		}
	}
	return fmt.Sprintf("%s%s %s %s", bound, t.span(), side, t.Anchor)
}

// span is what t counts: 1 day, 10 business days.
func (t Timing) span() string {
	if t.N == 1 {
		return "1 " + string(t.Unit)
	}
	return fmt.Sprintf("%d %ss", t.N, t.Unit)
}

// String is what is counted from, with the article that people give it.
func (a Anchor) String() string {
	switch {
	case !a.Date.IsZero():
		return a.Date.String()
	case a.ref == weddingRef:
		return "the wedding"
	case a.signing():
		return "signing"
	}
	as := strings.Join(strings.Fields(a.Says), " ")
	switch n := name(as); {
	case n == "wedding", n == "balance", n == "deposit", n == "security", strings.HasSuffix(n, " payment"):
		return "the " + n
	case n == "signing":
		return n
	}
	return as
}
