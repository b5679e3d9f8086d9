package milestones

import "fmt"

// pieces are what the one line of s says, one thing after the other.
func (s *sketch) pieces(in List) []Piece {
	switch in {
	case PayList:
		return s.Pay[0].pieces(s.currency)
	case CancelList:
		return s.Cancel[0].pieces(s.currency)
	case PostponeList:
		return s.Postpone.pieces(s.currency)
	case ChangeList:
		t := &s.Change[0]
		return []Piece{{Name: "label", Says: t.Label}, day("by", &t.When)}
	}
	t := &s.Papers[0]
	if in == TimingList {
		return []Piece{day("day", &t.When)}
	}
	return []Piece{{Name: "label", Says: t.Label}, day("by", &t.When)}
}

func day(name string, t *Timing) Piece { return Piece{Name: name, Says: t.String(), When: t} }

func (p *Payment) pieces(c Currency) []Piece {
	sum := ""
	switch p.Form {
	case ByShare:
		sum = p.sum(c) + " of the price"
		if p.OfRest {
			sum = p.Share.String() + " of the price less the payments named before it"
		}
	case FixedSum:
		sum = c.Words(p.Sum)
	case Balance:
		sum = "what the other payments leave of the price"
	case Equal:
		sum = fmt.Sprintf("what the other payments leave of the price, in %d equal parts, a month apart", p.Times)
	case Security:
		sum = c.Words(p.Sum) + ", a deposit against damage, which is no part of the price"
	}
	all := []Piece{{Name: "sum", Says: sum}, day("due", &p.When)}
	if p.Back != nil {
		all = append(all, day("back", p.Back))
	}
	return all
}

func (s *CancelStep) pieces(c Currency) []Piece {
	all := []Piece{{Name: "costs", Says: s.Cost.words(c)}}
	switch {
	case s.Then:
		return append(all, Piece{Name: "from", Says: "the day after the last step that ends"})
	case s.From != nil:
		all = append(all, day("from", s.From))
	}
	if s.Until != nil {
		all = append(all, day("until", s.Until))
	}
	return all
}

// words are the phrase of c, with what its shares are shares of.
func (c Cost) words(in Currency) string {
	if len(c.Parts) == 1 && c.Parts[0].Form == OfPrice {
		return c.Parts[0].Share.String() + " of the price"
	}
	return c.Phrase(in)
}

func (p *Postpone) pieces(c Currency) []Piece {
	often := "it does not say how often"
	switch {
	case p.Times == 1:
		often = "once"
	case p.Times > 1:
		often = fmt.Sprintf("%d times", p.Times)
	}
	all := []Piece{{Name: "how often", Says: often}}
	if p.Notice.N > 0 {
		all = append(all, day("ask by", &p.Notice))
	}
	if p.Fee > 0 {
		all = append(all, Piece{Name: "for", Says: c.Words(p.Fee)})
	}
	if p.Latest != nil {
		all = append(all, day("latest", p.Latest))
	}
	return all
}
