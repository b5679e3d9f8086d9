package milestones

import (
	"slices"
	"strings"
)

// task is one milestone on its way to a day.
type task struct {
	*custom
	added  *Milestone // nil: one of the default countdown
	rule   string     // the phrase that sets its day, or when people do it
	pinned bool       // somebody set its day
	done   Date
	lacks  string // why it cannot have a day

	before, behind []*task
	from           []bound // of the plan: not before this
	by             []bound // of the plan: not after this
	doubts         []Question

	day      Date
	clock    *Clock // of a day that somebody gave it
	zone     string
	earliest limit // by all that holds
	soonest  limit // by the work alone: without the first day on which it makes sense
	latest   limit
	ready    limit // when what it waits for is done, as it is planned
	late     int   // days
	chain    bool
}

// bound is a day that something else of the plan sets.
type bound struct {
	day  Date
	id   string // of the item; empty where it is hidden from somebody
	what string // in words; empty likewise
	with string // the vendor whose term it is, or empty
}

// limit is a day, and what sets it: a step, something of the plan, or else
// the milestone's own lead and the day from which planning begins.
type limit struct {
	day  Date
	step *task
	at   *bound
}

// raise keeps the later of two days; of one day, what was found last.
func (l *limit) raise(to limit) {
	if l.day.IsZero() || !to.day.Before(l.day) {
		*l = to
	}
}

// lower keeps the earlier of two days; of one day, what was found first.
func (l *limit) lower(to limit) {
	if l.day.IsZero() || to.day.Before(l.day) {
		*l = to
	}
}

// toDo reports whether the step is still to be done.
func (st *task) toDo() bool { return st.done.IsZero() }

// drawing draws up the countdown of one plan.
type drawing struct {
	*schedule
	rows     []custom // the default ones that the plan asks for
	customs  map[string]*custom
	order    []string // keys, as they stand in the table and in the plan
	fixtures []fixture
	services [][]string // the words of each agreement's
	steps    map[string]*task
	left     []LeftOut
	spared   map[string]bool // left out for want of time
}

// customs are the default rows that the plan asks for.
func (p *Plan) customs(c Closures) []custom {
	var all []custom
	if p.Countdown.Wanted {
		all = append(all, defaultCountdown...)
	}
	if p.Licence != nil {
		all = slices.DeleteFunc(all, func(one custom) bool { return one.key == licenceRule })
		all = append(all, p.licenceCustoms(c)...)
	}
	return all
}

// customKeys are the keys of all default milestones.
func customKeys() []string {
	keys := []string{licenceKey, licenceInHand, licenceReturn}
	for _, c := range defaultCountdown {
		keys = append(keys, c.key)
	}
	return keys
}

// build makes the steps of the plan, tied to each other.
func (d *drawing) build() {
	d.steps, d.order, d.left = map[string]*task{}, nil, nil
	for i := range d.rows {
		c := &d.rows[i]
		if why, held := d.leaves(c); why != "" && d.plan.added(c.key) == nil {
			if why != notHere {
				d.left = append(d.left, LeftOut{c.key, c.title, why, held})
			}
			continue
		}
		d.put(&task{custom: c, rule: c.usual})
	}
	for i := range d.plan.Countdown.Add {
		if m := &d.plan.Countdown.Add[i]; !slices.Contains(d.plan.Countdown.Drop, m.Key) {
			d.add(m)
		}
	}
	d.moves()
	for _, key := range d.order {
		d.tie(d.steps[key])
	}
	d.ticks()
}

func (d *drawing) put(st *task) {
	if d.steps[st.key] == nil {
		d.order = append(d.order, st.key)
	}
	d.steps[st.key] = st
}

// notHere marks a row that nobody would look for in this plan.
const notHere = "not here"

// leaves is why the plan has no use for a row, or empty; held tells that it
// holds it already.
func (d *drawing) leaves(c *custom) (why string, held bool) {
	switch {
	case slices.Contains(d.plan.Countdown.Drop, c.key):
		return "the plan drops it", false
	case d.ticked(c.key).IsZero() && d.spared[c.key]:
		return c.spare, false
	case d.mentioned(c.key):
		return "", false
	case len(c.of) > 0 && !d.serves(c.of), c.having != "" && !d.someone(c.having), len(c.met) > 0 && d.found(c.met) == nil:
		return notHere, false
	case c.unless != "" && d.someone(c.unless):
		return c.settled, true
	case c.few && d.guests() > 0 && d.guests() <= fewMost:
		return "the guests are few enough to do without", false
	}
	if n, here := d.holds(c); n >= 0 {
		return here[n].says(), true
	}
	return "", false
}

// turns are the words by which the first, the second and the last of the same
// thing are told apart.
var turns = []string{"first", "second", "last", "final"}

// holds is which of the things here a row is held by already, or -1. Of three
// fittings it is the one meant; where the plan tells them apart and has not
// that one, none is.
func (d *drawing) holds(c *custom) (n int, here []fixture) {
	here = d.found(c.held)
	if here == nil {
		return -1, nil
	}
	turn, _, _ := strings.Cut(c.key, "-")
	named := func(turns ...string) int {
		return slices.IndexFunc(here, func(f fixture) bool {
			return slices.ContainsFunc(turns, func(turn string) bool { return strings.Contains(f.name, turn) })
		})
	}
	words := []string{turn}
	if turn == "last" {
		words = append(words, "final")
	}
	switch n = named(words...); {
	case n >= 0:
		return n, here
	case slices.Contains(turns, turn) && named(turns...) >= 0:
		return -1, nil
	}
	return 0, here
}

// mentioned reports whether the plan itself moves a milestone or ticks it off,
// and so has a use for it.
func (d *drawing) mentioned(key string) bool {
	return !d.ticked(key).IsZero() || slices.ContainsFunc(d.plan.Countdown.Move, func(m Move) bool { return m.Key == key })
}

// add puts a milestone of the plan's own among the steps, or in place of the
// default of the same key.
func (d *drawing) add(m *Milestone) {
	st := &task{custom: &custom{key: m.Key}}
	if c := d.customs[m.Key]; c != nil {
		*st.custom = *c
		st.gives, st.spare = "", ""
	}
	st.title, st.noun, st.added, st.rule, st.note = m.What, quoted(m.What), m, m.When.Says, m.Note
	st.takes, st.who, st.needs, st.open, st.pinned = m.takes, m.For, nil, anyDay, true
	st.after = append(slices.Clone(st.after), m.gates...)
	res := d.r.day(ref("countdown/" + m.Key))
	st.stands(res)
	for _, to := range m.after {
		if res := d.r.day(to); res.waits == "" {
			b := d.known(to)
			b.day = res.Date
			st.from = append(st.from, b)
		}
	}
	d.put(st)
}

// stands puts st on the day that somebody gave it.
func (st *task) stands(res result) {
	st.day, st.clock, st.zone, st.lacks, st.doubts = res.Date, res.Clock, res.Zone, res.waits, res.doubts
}

// moves sets the days that the plan moves milestones to.
func (d *drawing) moves() {
	for i := range d.plan.Countdown.Move {
		m := &d.plan.Countdown.Move[i]
		st := d.steps[m.Key]
		if st == nil {
			continue
		}
		n := node{when: &m.When}
		res := d.r.timing(n, n.reads())
		st.rule, st.pinned = m.When.Says, true
		st.stands(res)
	}
}

// tie finds what st waits for, and what it must not be later than.
func (d *drawing) tie(st *task) {
	for _, key := range st.after {
		d.waitFor(st, key, map[string]bool{})
	}
	for _, f := range d.found(st.custom.waits) {
		st.from = append(st.from, f.after(d.plan.Countdown.From, 0))
	}
	for _, t := range st.serves {
		for _, f := range d.found([]thing{t}) {
			if b, holds := f.deadline(d.plan.Countdown.From, t.gap); holds {
				st.by = append(st.by, b)
			}
		}
	}
}

// waitFor makes st wait for the milestone of that key; where the plan leaves
// it out, for what stands for it, and for what it would have waited for.
func (d *drawing) waitFor(st *task, key string, seen map[string]bool) {
	if seen[key] {
		return
	}
	seen[key] = true
	if first := d.steps[key]; first != nil {
		if !slices.Contains(st.before, first) {
			st.before = append(st.before, first)
			first.behind = append(first.behind, st)
		}
		return
	}
	c := d.customs[key]
	if c == nil {
		return
	}
	for _, t := range c.held {
		for _, f := range d.found([]thing{t}) {
			st.from = append(st.from, f.after(d.plan.Countdown.From, t.gap))
		}
	}
	for _, earlier := range c.after {
		d.waitFor(st, earlier, seen)
	}
}

// ticked is the day on which the plan ticks a milestone off, or zero.
func (d *drawing) ticked(key string) Date {
	for _, one := range d.plan.Countdown.Done {
		if one.Name == key {
			return one.Date
		}
	}
	if m := d.plan.added(key); m != nil {
		return m.Done
	}
	return Date{}
}

// ticks sets what is done: ticked off, or signed; and with it whatever it
// waited for, since it must have been done by then.
func (d *drawing) ticks() {
	for _, key := range d.order {
		st := d.steps[key]
		if st.done = d.ticked(key); st.toDo() && !st.pinned {
			st.done = d.ordered(st.signed)
		}
	}
	sorted := d.sorted()
	slices.Reverse(sorted)
	for _, st := range sorted {
		if !st.toDo() {
			continue
		}
		for _, next := range st.behind {
			if !next.toDo() && (st.toDo() || next.done.Before(st.done)) {
				st.done = next.done
			}
		}
	}
}

// sorted are the steps, each behind what it waits for.
func (d *drawing) sorted() []*task {
	var all []*task
	seen := map[*task]bool{}
	var visit func(*task)
	visit = func(st *task) {
		if seen[st] {
			return
		}
		seen[st] = true
		for _, first := range st.before {
			visit(first)
		}
		all = append(all, st)
	}
	for _, key := range d.order {
		visit(d.steps[key])
	}
	return all
}

// added is the plan's own milestone of that key, or nil.
func (p *Plan) added(key string) *Milestone {
	for i := range p.Countdown.Add {
		if p.Countdown.Add[i].Key == key {
			return &p.Countdown.Add[i]
		}
	}
	return nil
}

func quoted(s string) string { return "“" + strings.TrimRight(s, ".") + "”" }
