package milestones

// node is one dated thing of the plan: a timing, and the agreement whose
// business days it counts in.
type node struct {
	when  *Timing
	owner *Agreement // nil outside agreements
	at    *Clock     // the hour of an appointment or occasion
	shift int        // months later: the parts of equal payments
	path  string

	answers []Answer // on its line
	back    bool     // it is when a security deposit comes back
}

// nodes are all dated things by ref.
func (p *Plan) nodes() map[ref]node {
	all := map[ref]node{}
	p.eachNode(func(r ref, n node) { all[r] = n })
	return all
}

// refs are the keys of nodes in the plan's order.
func (p *Plan) refs() []ref {
	var all []ref
	p.eachNode(func(r ref, _ node) { all = append(all, r) })
	return all
}

func (p *Plan) eachNode(visit func(ref, node)) {
	for i := range p.Agreements {
		p.Agreements[i].eachNode(visit)
	}
	for _, m := range p.meetings() {
		visit(m.ref, node{when: &m.When, at: m.At, path: m.path(), answers: m.Answers})
	}
	for i := range p.Countdown.Add {
		m := &p.Countdown.Add[i]
		visit(ref("countdown/"+m.Key), node{when: &m.When, path: "countdown/add/" + m.Key, answers: m.Answers})
	}
}

func (a *Agreement) eachNode(visit func(ref, node)) {
	for i := range a.Pay {
		p := &a.Pay[i]
		path := linePath(a, "pay", i)
		if p.Form == Equal {
			for n := range p.Times {
				visit(partRef(a, *p, n+1), node{when: &p.When, owner: a, shift: n, path: path, answers: p.Answers})
			}
			continue
		}
		visit(termRef(a, p.Key), node{when: &p.When, owner: a, path: path, answers: p.Answers})
		if p.Back != nil {
			visit(termRef(a, p.Key)+"/back", node{when: p.Back, owner: a, path: path, answers: p.Answers, back: true})
		}
	}
	for i := range a.Cancel {
		s := &a.Cancel[i]
		r, path := termRef(a, s.Key), linePath(a, "cancel", i)
		if s.From != nil {
			visit(r+"/from", node{when: s.From, owner: a, path: path, answers: s.Answers})
		}
		if s.Until != nil {
			visit(r, node{when: s.Until, owner: a, path: path, answers: s.Answers})
		}
	}
	for i := range a.Change {
		t := &a.Change[i]
		visit(termRef(a, t.Key), node{when: &t.When, owner: a, path: linePath(a, "change", i), answers: t.Answers})
	}
	for i := range a.Papers {
		t := &a.Papers[i]
		visit(termRef(a, t.Key), node{when: &t.When, owner: a, path: linePath(a, "papers", i), answers: t.Answers})
	}
	if a.Postpone != nil && a.Postpone.Notice.Says != "" {
		visit(termRef(a, Postponing), node{when: &a.Postpone.Notice, owner: a, path: "agreements/" + a.Key + "/postpone", answers: a.Postpone.Answers})
	}
}
