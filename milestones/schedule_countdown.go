package milestones

import (
	"cmp"
	"fmt"
	"slices"
)

// countdown adds the milestones of the plan. It comes last, since they wait
// for everything else.
func (s *schedule) countdown() {
	if c := &s.plan.Countdown; !c.Wanted && len(c.Add) == 0 && s.plan.Licence == nil {
		return
	}
	d := s.drawing()
	sorted := d.draw()
	if !d.bare {
		d.chained(sorted)
	}
	for _, key := range d.order {
		d.item(d.steps[key])
	}
	s.left = d.left
}

func (s *schedule) drawing() *drawing {
	d := &drawing{schedule: s, rows: s.plan.customs(s.r.closures), customs: map[string]*custom{}, fixtures: s.fixtures(), spared: map[string]bool{}}
	for i := range d.rows {
		d.customs[d.rows[i].key] = &d.rows[i]
	}
	for i := range s.plan.Agreements {
		d.services = append(d.services, serviceWords(s.plan.Agreements[i].Service))
	}
	return d
}

// draw gives every step its day, each behind what it waits for. What can be
// left out for want of time is, and then the rest has more room.
func (d *drawing) draw() []*task {
	for {
		d.build()
		sorted := d.sorted()
		if d.plan.Wedding.Date.IsZero() {
			for _, st := range sorted {
				d.undated(st)
			}
			return sorted
		}
		d.forward(sorted)
		d.backward(sorted)
		if !d.spare(sorted) {
			d.settle(sorted)
			return sorted
		}
	}
}

// undated is a step while the wedding has no date: only what is done, or was
// given a day of its own, has one.
func (d *drawing) undated(st *task) {
	if !st.toDo() {
		st.day = st.done
	} else if !st.pinned {
		st.lacks = d.r.day(weddingRef).waits
	}
}

// item adds the item of a step.
func (d *drawing) item(st *task) {
	i := Item{ID: "countdown/" + st.key, Kind: KindMilestone, Title: st.title, For: st.who, Rule: st.rule, Note: st.note, Done: st.done}
	if m := st.added; m != nil {
		i.Hide = m.Hide
	}
	res := result{Moment: Moment{Date: st.day}, waits: st.lacks, doubts: st.doubts}
	if st.toDo() {
		res.Clock, res.Zone = st.clock, st.zone
	} else {
		res = result{Moment: res.Moment, doubts: st.doubts}
	}
	d.place(&i, res)
	if st.late > 0 {
		i.LateBy = &st.late
	}
	if !d.bare {
		i.Aim = st.aimed()
		d.doubts(st, &i)
	}
	d.schedule.add(i)
}

// aimed is the room that st has, and why.
func (st *task) aimed() *Aim {
	a := &Aim{Who: st.who, Why: st.why(), HoldsUp: st.chain}
	if st.added == nil && st.usual != "" {
		a.Source = cmp.Or(st.source, "common practice")
	}
	for _, first := range st.before {
		a.After = append(a.After, "countdown/"+first.key)
	}
	a.After = append(a.After, ids(st.from)...)
	a.Serves = ids(st.by)
	if st.toDo() {
		a.Earliest, a.Latest = st.earliest.day, st.latest.day
	}
	if st.late > 0 {
		a.Late = st.lateSays()
	}
	return a
}

// doubts asks what st leaves open.
func (d *drawing) doubts(st *task, i *Item) {
	if st.asks != "" && st.toDo() {
		i.ask(Question{Doubt: DoubtLicence, Says: st.asks,
			Mend: "ask the office, and write for the licence whether its time runs from application or from issue, as \"3 days from application\""})
	}
	d.missed(st, i)
}

// missed asks about those who are to do what the plan gives a day of its own,
// and are away on it.
func (d *drawing) missed(st *task, i *Item) {
	if !st.pinned || !st.toDo() || i.Undated() {
		return
	}
	away := d.away(i.Date, slices.Concat(st.needs, st.who))
	if away == nil {
		return
	}
	who, _ := d.plan.Person(away.Who)
	i.ask(Question{Doubt: DoubtThere,
		Says: fmt.Sprintf("%s is away from %s to %s, and %s is set for %s", who.Name, away.From.Words(), away.To.Words(), quoted(st.title), i.Date.Words()),
		Mend: "give it another day, or somebody else to do it"})
}

// ids are those of what sets bounds, but for what is hidden from somebody.
func ids(bounds []bound) (all []string) {
	for _, b := range bounds {
		if b.id != "" {
			all = append(all, b.id)
		}
	}
	return all
}
