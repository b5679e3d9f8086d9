package milestones

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Read reads every phrase of p, gives keys to lines that have none, and ties
// each timing to what it counts from. It returns all faults at once, and
// notes on what is no fault but worth a look. Schedule takes only plans in
// which Read found no fault.
func (p *Plan) Read() (faults []Fault, notes []Note) {
	return (&planReader{plan: p}).read()
}

func (rd *planReader) read() (faults []Fault, notes []Note) {
	p := rd.plan
	for i := range p.Agreements {
		p.Agreements[i].keys()
	}
	p.eachAnswer(func(a *Answer, _ place) { a.Reads = reading(a.Reads) })
	// A label may end where the name of another line begins ("bar count with
	// final headcount"), so lines are read until that teaches no new name.
	rd.own, rd.shared = p.scopes()
	for before := -1; rd.names() > before; {
		rd.faults, rd.notes, rd.unread = nil, nil, nil
		for i := range p.Agreements {
			rd.agreement(&p.Agreements[i], reader{p.Wedding.Currency, []scope{rd.own[i], rd.shared}})
		}
		before = rd.names()
		rd.own, rd.shared = p.scopes()
	}
	for _, fault := range rd.unread {
		rd.faults = append(rd.faults, fault())
	}
	rd.rest()
	rd.licence()
	rd.link()
	rd.told()
	rd.countdown()
	if len(rd.faults) == 0 {
		rd.circles()
	}
	if len(rd.faults) == 0 {
		rd.sums()
	}
	rd.people()
	rd.answers()
	return rd.faults, rd.notes
}

type planReader struct {
	plan   *Plan
	own    []scope // of each agreement
	shared scope
	veil   *Veil // nil: whoever writes sees all
	faults []Fault
	notes  []Note
	unread []func() Fault // put into words once no reading can mend them
}

func (rd *planReader) fault(path, mend, format string, args ...any) {
	rd.faults = append(rd.faults, Fault{path, fmt.Sprintf(format, args...), mend})
}

func linePath(a *Agreement, list string, i int) string {
	return "agreements/" + a.Key + "/" + list + "[" + strconv.Itoa(i+1) + "]"
}

// names is how many names there are for things that can be counted from.
func (rd *planReader) names() int {
	n := len(rd.shared)
	for _, s := range rd.own {
		n += len(s)
	}
	return n
}

// keys gives the lines of a that have no key one by their place: pay-1.
func (a *Agreement) keys() {
	taken := map[string]bool{}
	a.lines(func(l *Line, _ string, _ int) { taken[l.Key] = true })
	a.lines(func(l *Line, list string, i int) {
		stem := strings.TrimSuffix(list, "s") // papers: paper-1
		for n := i + 1; l.Key == ""; n++ {
			if k := fmt.Sprintf("%s-%d", stem, n); !taken[k] {
				l.Key, taken[k] = k, true
			}
		}
	})
}

// lines visits every line of a with its list and place.
func (a *Agreement) lines(visit func(l *Line, list string, i int)) {
	for i := range a.Pay {
		visit(&a.Pay[i].Line, "pay", i)
	}
	for i := range a.Cancel {
		visit(&a.Cancel[i].Line, "cancel", i)
	}
	for i := range a.Change {
		visit(&a.Change[i].Line, "change", i)
	}
	for i := range a.Papers {
		visit(&a.Papers[i].Line, "papers", i)
	}
}

// agreement reads the phrases of a.
func (rd *planReader) agreement(a *Agreement, r reader) {
	line := func(says, path string, read func(r reader) (*cursor, bool)) {
		if !rd.short(says, path) {
			return
		}
		if c, ok := read(rd.readerAt(path, a, r)); !ok {
			rd.unread = append(rd.unread, func() Fault { return c.fault(path, says) })
		}
	}
	for i := range a.Pay {
		t := &a.Pay[i]
		*t = Payment{Line: t.Line}
		line(t.Says, linePath(a, "pay", i), func(r reader) (*cursor, bool) { return r.payment(t) })
	}
	unread := len(rd.unread)
	for i := range a.Cancel {
		t := &a.Cancel[i]
		*t = CancelStep{Line: t.Line}
		line(t.Says, linePath(a, "cancel", i), func(r reader) (*cursor, bool) { return r.cancel(t) })
	}
	cancel := len(rd.unread) == unread // every step was understood
	for i := range a.Change {
		t := &a.Change[i]
		*t = ChangeBy{Line: t.Line}
		line(t.Says, linePath(a, "change", i), func(r reader) (*cursor, bool) { return r.labelled(t.Says, &t.Label, &t.When) })
	}
	for i := range a.Papers {
		t := &a.Papers[i]
		*t = Paper{Line: t.Line}
		line(t.Says, linePath(a, "papers", i), func(r reader) (*cursor, bool) { return r.labelled(t.Says, &t.Label, &t.When) })
	}
	if t := a.Postpone; t != nil {
		*t = Postpone{Line: t.Line}
		line(t.Says, "agreements/"+a.Key+"/postpone", func(r reader) (*cursor, bool) { return r.postpone(t) })
	}
	rd.whole(a)
	if cancel {
		rd.follows(a)
	}
}

// short refuses phrases too long to be read in no time.
func (rd *planReader) short(says, path string) bool {
	if len(says) > phraseMost {
		rd.fault(path, "say it in one short line, and keep the contract's own sentence beside it as its wording", "the phrase is longer than %d letters", phraseMost)
	}
	return len(says) <= phraseMost
}

// whole checks what only the lines together can show.
func (rd *planReader) whole(a *Agreement) {
	seen := map[string]string{}
	a.lines(func(l *Line, list string, i int) {
		path := linePath(a, list, i)
		if first, twice := seen[l.Key]; twice {
			rd.fault(path, "give one of them another key", "the key %q is used already at %s", l.Key, first)
		}
		seen[l.Key] = path
		if l.Amount != nil && list != "pay" {
			rd.fault(path, "leave the amount out", "only a payment has an amount")
		}
	})
	rd.settled(a)
	balances, equals := 0, 0
	for _, p := range a.Pay {
		balances += b2i(p.Form == Balance)
		equals += b2i(p.Form == Equal)
	}
	if balances+equals > 1 {
		rd.fault("agreements/"+a.Key+"/pay", "give the others sums or shares of their own",
			"only one line can take what remains: one balance, or one set of equal payments")
	}
	labelled := func(label, path string) {
		if sumInLabel.MatchString(label) {
			rd.notes = append(rd.notes, Note{path, fmt.Sprintf("the label %q holds a sum, and everyone who sees the line sees its label; use what: for another", label)})
		}
	}
	for i, t := range a.Change {
		labelled(t.label(t.Label), linePath(a, "change", i))
	}
	for i, t := range a.Papers {
		labelled(t.label(t.Label), linePath(a, "papers", i))
	}
}

// follows checks that a step "after that" has one before it.
func (rd *planReader) follows(a *Agreement) {
	ends := slices.ContainsFunc(a.Cancel, func(s CancelStep) bool { return s.Until != nil })
	for i, s := range a.Cancel {
		if s.Then && !ends {
			rd.fault(linePath(a, "cancel", i), `write a step that ends before it, as "50% until 90 days before the wedding"`,
				"%q follows nothing", s.Says)
		}
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// rest reads the timings outside agreements.
func (rd *planReader) rest() {
	read := func(t *Timing, path string) {
		says := t.Says
		if !rd.short(says, path) {
			return
		}
		c := newCursor(says)
		found, ok := c.timing(says, grammar{})
		if !ok {
			rd.faults = append(rd.faults, c.fault(path, says))
		}
		found.Says = says
		*t = found
	}
	for _, m := range rd.plan.meetings() {
		read(&m.When, m.path())
		if m.At != nil && m.When.Clock != nil {
			rd.fault(m.path(), "keep one of them", "there are two hours, one in the words of its day and one of its own")
		}
	}
	for i := range rd.plan.Countdown.Add {
		m := &rd.plan.Countdown.Add[i]
		read(&m.When, "countdown/add/"+m.Key)
	}
	for i := range rd.plan.Countdown.Move {
		m := &rd.plan.Countdown.Move[i]
		read(&m.When, "countdown/move/"+m.Key)
	}
}

// link ties every timing to its anchor.
func (rd *planReader) link() {
	l := linker{rd.shared, &rd.faults, slices.Clone(rd.faults)}
	link := func(t *Timing, a *Agreement, own scope, path string) {
		if p, theirs := rd.seen(path); theirs {
			rd.linkVeiled(l, p, t, a, path)
			return
		}
		l.link(t, own, path)
	}
	for i := range rd.plan.Agreements {
		a := &rd.plan.Agreements[i]
		own := rd.own[i]
		for j := range a.Pay {
			link(&a.Pay[j].When, a, own, linePath(a, "pay", j))
			link(a.Pay[j].Back, a, own, linePath(a, "pay", j))
		}
		for j := range a.Cancel {
			link(a.Cancel[j].From, a, own, linePath(a, "cancel", j))
			link(a.Cancel[j].Until, a, own, linePath(a, "cancel", j))
		}
		for j := range a.Change {
			link(&a.Change[j].When, a, own, linePath(a, "change", j))
		}
		for j := range a.Papers {
			link(&a.Papers[j].When, a, own, linePath(a, "papers", j))
		}
		if a.Postpone != nil {
			link(&a.Postpone.Notice, a, own, "agreements/"+a.Key+"/postpone")
		}
	}
	for _, m := range rd.plan.meetings() {
		link(&m.When, nil, nil, m.path())
	}
	for i := range rd.plan.Countdown.Add {
		m := &rd.plan.Countdown.Add[i]
		link(&m.When, nil, nil, "countdown/add/"+m.Key)
	}
	for i := range rd.plan.Countdown.Move {
		m := &rd.plan.Countdown.Move[i]
		link(&m.When, nil, nil, "countdown/move/"+m.Key)
	}
}

// circles refuses timings that wait for each other.
func (rd *planReader) circles() {
	nodes := rd.plan.nodes()
	state := map[ref]int{} // 1: on the path, 2: done
	var trail []ref
	var visit func(r ref)
	visit = func(r ref) {
		n, known := nodes[r]
		if !known || state[r] == 2 {
			return
		}
		trail = append(trail, r)
		if state[r] == 1 {
			loop := trail[slices.Index(trail, r):]
			rd.fault(n.path, "count one of them from the wedding or from a date", "these wait for each other: %s", strings.ReplaceAll(joinRefs(loop), " or ", " -> "))
		} else {
			state[r] = 1
			visit(n.when.Anchor.ref)
			state[r] = 2
		}
		trail = trail[:len(trail)-1]
	}
	for _, r := range rd.plan.refs() {
		visit(r)
	}
}

// sums refuses payments that come to more than the price.
func (rd *planReader) sums() {
	r, c := newReckoning(rd.plan, NoClosures{}), rd.plan.Wedding.Currency
	for i := range rd.plan.Agreements {
		a := &rd.plan.Agreements[i]
		acc := r.account(a)
		if acc.excess > 0 {
			rd.fault("agreements/"+a.Key+"/pay", "lower one of them, or write the last as the balance",
				"the payments come to %s, which is %s more than the price of %s",
				c.Words(acc.price.High+acc.excess), c.Words(acc.excess), c.Words(acc.price.High))
		}
	}
}
