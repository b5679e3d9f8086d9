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

// Dates are the items of Schedule in no order, without what only their readers
// ask for: sums, what leaving costs, questions, and why a milestone has its
// day. It is for a plan that is tried on many days.
func Dates(p *Plan, c Closures) []Item {
	s := newSchedule(p, c)
	s.bare, s.r.bare = true, true
	s.work()
	return s.items
}

// Questions are what the plan leaves open, and what of it was answered, in the
// plan's order.
func Questions(p *Plan, c Closures) []Question { return work(p, c).questions }

func work(p *Plan, c Closures) *schedule {
	s := newSchedule(p, c)
	s.work()
	s.order()
	return s
}

func newSchedule(p *Plan, c Closures) *schedule {
	s := &schedule{plan: p, r: newReckoning(p, c), heard: map[*Answer]bool{}, ids: map[string]int{}}
	room := 1 + len(s.r.nodes)
	if p.Countdown.Wanted {
		room += len(defaultCountdown)
	}
	s.items = make([]Item, 0, room)
	return s
}

func (s *schedule) work() {
	s.wedding()
	for i := range s.plan.Agreements {
		s.agreement(&s.plan.Agreements[i])
	}
	for _, m := range s.plan.meetings() {
		s.meeting(m)
	}
	s.countdown()
}

// order puts the items in order. An Item is large, so each is moved once.
func (s *schedule) order() {
	order := make([]*Item, len(s.items))
	for n := range s.items {
		order[n] = &s.items[n]
	}
	slices.SortStableFunc(order, inOrder)
	all := make([]Item, len(order))
	for n, i := range order {
		all[n] = *i
	}
	s.items = all
}

// inOrder orders items by day, hour and id, undated ones last.
func inOrder(a, b *Item) int {
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
	bare      bool // only the days are asked for
	items     []Item
	questions []Question
	heard     map[*Answer]bool // answers to what is asked, or may yet be
	ids       map[string]int   // how many questions would have each id

	left  []LeftOut // of the countdown
	chain []string  // titles of what holds it up
	room  int       // days that can be lost there
}

func (s *schedule) add(i Item) {
	if !s.bare {
		s.askAll(&i)
	}
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
	if !s.bare {
		s.absences(m, &i)
	}
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
