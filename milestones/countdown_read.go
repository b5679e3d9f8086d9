package milestones

import (
	"fmt"
	"slices"
	"strings"
)

// countdown checks what the plan says of its countdown: each key is one that
// the countdown has, and nothing waits for itself.
func (rd *planReader) countdown() {
	c := &rd.plan.Countdown
	keys := customKeys()
	for i := range c.Add {
		keys = append(keys, c.Add[i].Key)
	}
	known := func(key, path string) {
		if !slices.Contains(keys, key) && !slices.ContainsFunc(rd.faults, func(f Fault) bool { return f.Path == path }) {
			rd.fault(path, nearestKey(key, keys), "the countdown has nothing called %q", key)
		}
	}
	for i, key := range c.Drop {
		known(key, fmt.Sprintf("countdown/drop[%d]", i+1))
	}
	for _, one := range c.Done {
		known(one.Name, "countdown/done/"+one.Name)
	}
	for _, m := range c.Move {
		known(m.Key, "countdown/move/"+m.Key)
		if w := m.When; w.Bound == WithinOf || w.Midnight {
			rd.fault("countdown/move/"+m.Key, "say the day, as \"9 weeks before the wedding\"", "%q leaves the day open", w.Says)
		}
	}
	for i := range c.Add {
		m := &c.Add[i]
		rd.takes(m)
		if p, theirs := rd.seen(m.afterPath()); theirs {
			own := len(rd.faults)
			rd.after(m, slices.DeleteFunc(slices.Clone(keys), func(key string) bool { return hides(p, rd.plan, key) }), p.scope())
			rd.veil.Faults = append(rd.veil.Faults, rd.faults[own:]...)
			continue
		}
		rd.after(m, keys, rd.shared)
	}
	rd.countdownCircles()
}

func nearestKey(key string, keys []string) string {
	if hint := Nearest(key, keys); hint != "" {
		return hint
	}
	return "\"banns countdown\" shows the key of each milestone"
}

// takes reads how long a milestone of the plan's own takes.
func (rd *planReader) takes(m *Milestone) {
	m.takes = 0
	if m.Takes == "" {
		return
	}
	p, ok := readPeriod(m.Takes)
	switch {
	case !ok || p.short || p.from != fromEither || p.unit != Day && p.unit != Week:
		rd.fault("countdown/add/"+m.Key+"/takes", "write it as 1 day or 2 weeks", "%q is no number of days or weeks", m.Takes)
	case p.unit == Week:
		m.takes = p.n * week
	default:
		m.takes = p.n
	}
}

func (m *Milestone) afterPath() string { return "countdown/add/" + m.Key + "/after" }

// hides reports whether a milestone of the plan's own is not among what is
// seen of it.
func hides(seen, whole *Plan, key string) bool {
	has := func(p *Plan) bool {
		return slices.ContainsFunc(p.Countdown.Add, func(m Milestone) bool { return m.Key == key })
	}
	return has(whole) && !has(seen)
}

// after finds what a milestone of the plan's own waits for: other milestones,
// or anything of the plan that has a name.
func (rd *planReader) after(m *Milestone, keys []string, scope scope) {
	m.gates, m.after = nil, nil
	path := m.afterPath()
	for _, key := range m.After {
		refs := scope[name(key)]
		switch {
		case slices.Contains(keys, key):
			m.gates = append(m.gates, key)
		case len(refs) == 1:
			m.after = append(m.after, refs[0])
		case len(refs) > 1:
			rd.fault(path, "name it by its key, as "+string(refs[0]), "%q could be any of %s", key, joinRefs(refs))
		default:
			names := slices.Clone(keys)
			for as := range scope {
				names = append(names, as)
			}
			slices.Sort(names)
			rd.fault(path, nearestKey(key, names), "nothing here is called %q", key)
		}
	}
}

// countdownCircles refuses milestones that wait for each other.
func (rd *planReader) countdownCircles() {
	waits := map[string][]string{}
	for _, c := range defaultCountdown {
		waits[c.key] = c.after
	}
	waits[licenceInHand] = []string{licenceKey}
	for _, m := range rd.plan.Countdown.Add {
		waits[m.Key] = slices.Concat(waits[m.Key], m.gates)
	}
	state := map[string]int{} // 1: on the path, 2: done
	var trail []string
	var visit func(key string)
	visit = func(key string) {
		if state[key] == 2 {
			return
		}
		trail = append(trail, key)
		if state[key] == 1 {
			loop := trail[slices.Index(trail, key):]
			rd.fault("countdown/add/"+rd.ownIn(loop)+"/after", "take one of them out", "these wait for each other: %s", strings.Join(loop, " -> "))
		} else {
			state[key] = 1
			for _, first := range waits[key] {
				visit(first)
			}
			state[key] = 2
		}
		trail = trail[:len(trail)-1]
	}
	for _, m := range rd.plan.Countdown.Add {
		visit(m.Key)
	}
}

// ownIn is the first key of loop that the plan itself added.
func (rd *planReader) ownIn(loop []string) string {
	for _, key := range loop {
		if rd.plan.added(key) != nil {
			return key
		}
	}
	return loop[0]
}
