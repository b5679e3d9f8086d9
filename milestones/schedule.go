package milestones

import (
	"cmp"
	"slices"
)

// Schedule works out every dated item of a plan that Read found no fault in,
// in order of date, hour and id, undated ones last. It takes no today: the
// same plan gives the same items.
func Schedule(p *Plan, c Closures) []Item {
	return work(p, c).items
}

// Questions are what the plan leaves open, and what of it was answered, in the
// plan's order.
func Questions(p *Plan, c Closures) []Question { return work(p, c).questions }

func work(p *Plan, c Closures) *schedule {
	s := &schedule{plan: p, r: newReckoning(p, c), heard: map[*Answer]bool{}, ids: map[string]int{}}
	s.wedding()
	for i := range p.Agreements {
		s.agreement(&p.Agreements[i])
	}
	for _, m := range p.meetings() {
		s.meeting(m)
	}
	s.countdown()
	slices.SortStableFunc(s.items, inOrder)
	return s
}

// inOrder orders items by day, hour and id, undated ones last.
func inOrder(a, b Item) int {
	return cmp.Or(
		cmp.Compare(b2i(a.Undated()), b2i(b.Undated())),
		a.Date.Compare(b.Date),
		cmp.Compare(minute(a.Clock), minute(b.Clock)),
		cmp.Compare(a.ID, b.ID))
}

// minute is the minute of the day; a day without an hour comes first.
func minute(c *Clock) int {
	if c == nil {
		return -1
	}
	return c.Hour*60 + c.Minute
}

type schedule struct {
	plan      *Plan
	r         *reckoning
	items     []Item
	questions []Question
	heard     map[*Answer]bool // answers to what is asked, or may yet be
	ids       map[string]int   // how many questions would have each id

	left  []LeftOut // of the countdown
	chain []string  // titles of what holds it up
	room  int       // days that can be lost there
}

func (s *schedule) add(i Item) {
	s.askAll(&i)
	s.items = append(s.items, i)
}

func (s *schedule) wedding() {
	w := s.plan.Wedding
	res := s.r.day(weddingRef)
	s.add(Item{ID: "wedding", Kind: KindWedding, Title: w.Title, Moment: res.Moment, WaitsFor: res.waits,
		Place: w.Place, For: []string{Everybody}})
}

func (s *schedule) meeting(m meeting) {
	res := s.r.day(m.ref)
	i := Item{ID: string(m.ref), Kind: m.kind, Title: m.What, Place: m.Place,
		For: m.For, Hide: m.Hide, Rule: m.When.Says, Note: m.Note}
	s.place(&i, res)
	if i.Clock != nil {
		i.Until = m.Until
	}
	s.absences(m, &i)
	s.add(i)
}

// place gives i its day, or what it waits for.
func (s *schedule) place(i *Item, res result) {
	if i.WaitsFor = res.waits; res.waits != "" {
		s.wait(s.r.nodes[ref(i.ID)])
		return
	}
	i.Moment = res.Moment
	for _, q := range res.doubts {
		q.Readings = slices.Clone(q.Readings) // res is kept for whatever counts from it
		i.ask(q)
	}
}
