package milestones

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// List names a place in which a phrase can stand.
type List string

// The lists of an agreement, what it says about moving, and a timing alone.
const (
	PayList      List = "pay"
	CancelList   List = "cancel"
	PostponeList List = "postpone"
	TimingList   List = "timing"
	ChangeList   List = "change"
	PapersList   List = "papers"
)

// Lists are all of them. A phrase that fits several is likelier to be meant
// for the earlier: nearly anything could be a label.
var Lists = []List{PayList, CancelList, PostponeList, TimingList, ChangeList, PapersList}

// Sense is how a phrase is understood in one list.
type Sense struct {
	In     List
	Phrase string // the same in the grammar's own plain words
	Pieces []Piece

	// What follows in a plan. Without one there is nothing here.
	Stands string // the id of the plan's line that says the same, or empty
	Items  []Item // what Schedule makes of it
	Cost   Amount // of a step: what leaving costs on CostOn
	CostOn Date   // its last day, or where it names none its first, or the wedding's
	guess  bool   // it counts from something that need not exist
}

// Parted reports whether r is paid in several parts.
func (r Sense) Parted() bool {
	return r.In == PayList && len(r.Items) > 1 && r.Items[1].Kind == KindPayment
}

// Piece is one thing that a phrase says.
type Piece struct {
	Name, Says string
	When       *Timing      // where it is a day
	Day        *Explanation // of When, in a plan
}

// Refusal is why a phrase cannot stand in a list, and which bytes of it are
// to blame.
type Refusal struct {
	In       List
	From, To int // at the end of the phrase where something is missing
	Says     string
	Mend     string
	Plain    bool // Says is a reason of its own, and no word was merely unknown
	last     bool // nothing of it was understood as this list has it
}

// Near reports whether a letter or two may be all that is wrong.
func (r Refusal) Near() bool { return strings.HasPrefix(r.Mend, "did you mean") }

// furthest orders refusals by how much of the phrase was understood. A label
// without a timing understood nothing, yet says more than a first word that
// means nothing.
func furthest(a, b Refusal) int {
	reach := func(r Refusal) int {
		if r.last {
			return 1
		}
		return 2 * r.From
	}
	return cmp.Or(cmp.Compare(reach(b), reach(a)), cmp.Compare(b2i(b.Near()), b2i(a.Near())))
}

// Senses are what a phrase means in every list that it could stand in, the
// likeliest first. Change and papers read alike, so change stands for both,
// unless the plan has such a paper.
// Of the refusals the first came furthest.
func Senses(p *Plan, c Closures, in, says string) (all []Sense, refused []Refusal) {
	for _, list := range Lists[:len(Lists)-1] {
		one, no := SenseAs(p, c, in, list, says)
		if no != nil {
			refused = append(refused, *no)
			continue
		}
		if list == ChangeList && one.Stands == "" {
			if paper, _ := SenseAs(p, c, in, PapersList, says); paper.Stands != "" {
				one = paper
			}
		}
		all = append(all, one)
	}
	slices.SortStableFunc(refused, furthest)
	sure := slices.DeleteFunc(slices.Clone(all), func(r Sense) bool { return r.guess })
	switch {
	case len(sure) > 0:
		return sure, refused
	case len(refused) > 0 && refused[0].From > 0 && refused[0].Near():
		return nil, refused // what is nearly right is likelier than an unknown name
	}
	return all, refused
}

// SenseAs is what a phrase means in one list. With a plan, it stands in the
// agreement called in, or in a new one where in is empty; p may be nil, and c
// is then not asked.
func SenseAs(p *Plan, c Closures, in string, list List, says string) (Sense, *Refusal) {
	s := newSketch(p, in, says)
	if len(says) > phraseMost {
		return Sense{}, &Refusal{In: list, From: phraseMost, To: len(says),
			Says: fmt.Sprintf("the phrase is longer than %d letters", phraseMost), Mend: "say it in one short line"}
	}
	if cur, ok := s.read(list, Line{Says: says}); !ok {
		return Sense{}, cur.refusal(list, says)
	}
	sense := Sense{In: list, Phrase: s.phrase(list), Pieces: s.pieces(list)}
	if p == nil {
		sense.guess = s.guesses(sense.Pieces)
		return sense, nil
	}
	if no := s.link(sense); no != nil {
		return Sense{}, no
	}
	sense.follow(s, c)
	return sense, nil
}

// refusal is the furthest failure with its place in the phrase.
func (c *cursor) refusal(in List, says string) *Refusal {
	r := &Refusal{In: in, From: len(says), To: len(says)}
	r.Says, r.Mend = c.reason(says)
	r.Plain = c.far.says != ""
	r.last = in == ChangeList && c.far.at >= len(c.words)
	if word, ok := c.pointed(says); ok {
		r.From, r.To = word.from, word.from+len(strings.TrimRight(word.as, ",;."))
	}
	return r
}

// follow works out what the line comes to in the plan, by Schedule and
// nothing else.
func (sense *Sense) follow(s *sketch, c Closures) {
	p, a, line, stands := s.placed(sense.In)
	if stands {
		sense.Stands = a.Key + "/" + line.Key
	}
	for i := range sense.Pieces {
		if piece := &sense.Pieces[i]; piece.When != nil {
			day := explain(p, c, a, *piece.When)
			piece.Day = &day
		}
	}
	if sense.In == CancelList {
		sense.leave(p, c, a)
	}
	if sense.In == TimingList && s.in == "" {
		return // nobody's, so there is no day to act by
	}
	for _, i := range Schedule(p, c) {
		if i.Agreement == a.Key && i.Term == line.Key {
			sense.Items = append(sense.Items, i)
		}
	}
}

// leave is what the only step of a costs on its last day, or else its first.
func (sense *Sense) leave(p *Plan, c Closures, a *Agreement) {
	r := newReckoning(p, c)
	sense.Cost, sense.CostOn = r.step(a, &a.Cancel[0])
}

// step is what a step of a costs on its last day, or else its first, or the
// wedding's, and that day.
func (r *reckoning) step(a *Agreement, step *CancelStep) (cost Amount, on Date) {
	on = r.plan.Wedding.Date
	for _, t := range []*Timing{step.From, step.Until} {
		if t != nil {
			n := r.nodeOf(*t, a)
			on = r.timing(n, n.reads()).Date
		}
	}
	if !on.IsZero() {
		acc := r.account(a)
		cost = acc.cost(step.Cost, on)
	}
	return cost, on
}

// StepFrom is how a step of an agreement comes to its first day, nil where it
// names none, and what leaving costs then.
func StepFrom(p *Plan, c Closures, a *Agreement, step *CancelStep) (from *Explanation, cost Amount) {
	if step.From != nil {
		x := explain(p, c, a, *step.From)
		from = &x
	}
	cost, _ = newReckoning(p, c).step(a, step)
	return from, cost
}
