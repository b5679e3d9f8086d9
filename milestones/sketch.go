package milestones

import (
	"fmt"
	"slices"
	"strings"
)

// sketch is an agreement with one line, which is tried out.
type sketch struct {
	Agreement
	plan *Plan // nil: the phrase stands alone
	in   string
	reader
}

// newSketch is a sketch for the agreement of p called in, or for one that is
// not in the plan.
func newSketch(p *Plan, in, says string) *sketch {
	s := &sketch{plan: p, in: in}
	if p == nil {
		s.reader = reader{currencyIn(says), []scope{usual()}}
		return s
	}
	s.Agreement = Agreement{Key: "-", With: "the agreement", Standing: Signed, BusinessDays: Banks}
	if a, ok := p.Agreement(in); ok {
		s.Agreement = *a
	}
	_, shared := p.scopes()
	s.reader = reader{p.Wedding.Currency, []scope{s.own(), shared}}
	s.Pay, s.Cancel, s.Change, s.Papers, s.Postpone = nil, nil, nil, nil, nil
	return s
}

// usual are the names that any agreement may have.
func usual() scope {
	a := Agreement{Pay: []Payment{{Form: Security}}}
	for range ordinalWords {
		a.Pay = append(a.Pay, Payment{Form: ByShare})
	}
	a.Pay = append(a.Pay, Payment{Form: Balance})
	_, s := (&Plan{}).scopes()
	for as, refs := range a.own() {
		s[as] = refs
	}
	return s
}

// currencyIn is the currency whose sign stands in a phrase without a plan.
func currencyIn(says string) Currency {
	for _, c := range []Currency{"EUR", "GBP"} {
		if strings.Contains(says, c.sign()) {
			return c
		}
	}
	return "USD"
}

// read reads l as the one line of s.
func (s *sketch) read(in List, l Line) (c *cursor, ok bool) {
	switch in {
	case PayList:
		s.Pay = []Payment{{Line: l}}
		return s.payment(&s.Pay[0])
	case CancelList:
		s.Cancel = []CancelStep{{Line: l}}
		return s.cancel(&s.Cancel[0])
	case PostponeList:
		s.Postpone = &Postpone{Line: l}
		return s.postpone(s.Postpone)
	case ChangeList:
		s.Change = []ChangeBy{{Line: l}}
		return s.labelled(l.Says, &s.Change[0].Label, &s.Change[0].When)
	}
	s.Papers = []Paper{{Line: l}}
	t := &s.Papers[0]
	if in == PapersList {
		return s.labelled(l.Says, &t.Label, &t.When)
	}
	c = newCursor(l.Says)
	return c, c.timingTo(l.Says, &t.When)
}

func (s *sketch) phrase(in List) string {
	switch in {
	case PayList:
		return s.Pay[0].Phrase(s.currency)
	case CancelList:
		return s.Cancel[0].Phrase(s.currency)
	case PostponeList:
		return s.Postpone.Phrase(s.currency)
	case ChangeList:
		return s.Change[0].String()
	case PapersList:
		return s.Papers[0].String()
	}
	return s.Papers[0].When.String()
}

// guesses reports whether a piece counts from something that no agreement has
// of itself.
func (s *sketch) guesses(pieces []Piece) bool {
	return slices.ContainsFunc(pieces, func(p Piece) bool { return p.When != nil && !s.knows(*p.When) })
}

// link ties the timings of the line to what they count from in the plan.
func (s *sketch) link(sense Sense) *Refusal {
	var faults []Fault
	l := linker{shared: s.scopes[1], faults: &faults}
	for _, piece := range sense.Pieces {
		t := piece.When
		l.link(t, s.scopes[0], "")
		if len(faults) == 0 {
			continue
		}
		says := s.says()
		from := max(0, strings.Index(says, t.Says))
		from += max(0, strings.LastIndex(t.Says, t.Anchor.Says))
		return &Refusal{In: sense.In, From: from, To: min(len(says), from+len(t.Anchor.Says)),
			Says: strings.TrimPrefix(faults[0].Says, fmt.Sprintf("%q: ", t.Says)), Mend: faults[0].Mend}
	}
	return nil
}

// says is the phrase of the one line.
func (s *sketch) says() string {
	if s.Postpone != nil {
		return s.Postpone.Says
	}
	return s.Lines()[0].Says
}
