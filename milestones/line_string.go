package milestones

import (
	"fmt"
	"slices"
	"strings"
)

// The phrases below are what the readers in *_read.go read, and reading one
// gives the same thing again. Sums need the currency they are written in.

// Phrase is p in the grammar's own plain words.
func (p Payment) Phrase(c Currency) string {
	switch p.Form {
	case Balance:
		return "balance " + p.When.String()
	case Equal:
		from := " from "
		if p.When.With {
			from = " "
		}
		return fmt.Sprintf("%d equal payments monthly%s%s", p.Times, from, p.When.bare())
	case Security:
		says := "security " + c.short(p.Sum) + " " + p.When.String()
		if p.Back != nil {
			says += ", back " + p.Back.String()
		}
		return says
	}
	return p.sum(c) + " " + p.When.String()
}

// sum is how p states its sum.
func (p Payment) sum(c Currency) string {
	switch {
	case p.Form == ByShare && p.OfRest:
		return p.Share.String() + " of the rest"
	case p.Form == ByShare:
		return p.Share.String()
	}
	return c.short(p.Sum)
}

// short is m without cents that are none: 500, or 500.50.
func (c Currency) short(m Money) string {
	text := c.Plain(m)
	return strings.TrimSuffix(text, "."+strings.Repeat("0", c.Digits()))
}

// Phrase is s in the grammar's own plain words.
func (s CancelStep) Phrase(c Currency) string {
	says := s.Cost.Phrase(c)
	if s.Then {
		return says + " after that"
	}
	if s.From != nil {
		says += " from " + s.From.bare()
	}
	switch {
	case s.From != nil && s.Until != nil:
		says += " to " + s.Until.bare()
	case s.Until != nil:
		says += " until " + s.Until.bare()
	}
	return says
}

// Phrase is c in the grammar's own plain words.
func (c Cost) Phrase(in Currency) string {
	var parts []string
	for _, part := range c.Parts {
		parts = append(parts, part.phrase(in))
	}
	if c.Greatest {
		return "the greater of " + strings.Join(parts, " or ")
	}
	return strings.Join(parts, " plus ")
}

func (part CostPart) phrase(in Currency) string {
	switch part.Form {
	case OfPrice:
		return part.Share.String()
	case OfRest:
		return part.Share.String() + " of the rest"
	case OfPaid:
		return part.Share.String() + " of what has been paid"
	case OfUnpaid:
		return part.Share.String() + " of what is unpaid"
	case SumOfMoney:
		return in.short(part.Sum)
	case FirstPayment:
		return "the first payment"
	}
	return "nothing"
}

// String is t in the grammar's own plain words.
func (t ChangeBy) String() string { return labelled(t.Label, t.When) }

// String is t in the grammar's own plain words.
func (t Paper) String() string { return labelled(t.Label, t.When) }

// labelled is a label and its timing. A colon parts them where the label's
// last word would otherwise be read as the timing's first: "count due: on
// 2027-05-03".
func labelled(label string, t Timing) string {
	joint := " "
	if words := split(label); len(words) > 0 && slices.Contains(timingWords, words[len(words)-1].text) {
		joint = ": "
	}
	return label + joint + t.String()
}

// Phrase is p in the grammar's own plain words.
func (p Postpone) Phrase(c Currency) string {
	var clauses []string
	switch {
	case p.Times == 1:
		clauses = append(clauses, "once")
	case p.Times > 1:
		clauses = append(clauses, fmt.Sprintf("%d times", p.Times))
	}
	if p.Notice.N > 0 {
		clauses = append(clauses, "with "+p.Notice.span()+owned(p.Notice.N)+" notice")
	}
	if p.Fee > 0 || len(clauses) == 0 && p.Latest == nil {
		clauses = append(clauses, "for "+c.short(p.Fee))
	}
	switch t := p.Latest; {
	case t == nil:
	case t.N > 0:
		clauses = append(clauses, "to a date within "+t.span())
	default:
		clauses = append(clauses, "to a date by "+t.Anchor.String())
	}
	return strings.Join(clauses, ", ")
}

// owned ends a span that owns something: 1 day's notice, 60 days' notice.
func owned(n int) string {
	if n == 1 {
		return "'s"
	}
	return "'"
}
