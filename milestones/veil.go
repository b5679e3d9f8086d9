package milestones

import (
	"maps"
	"slices"
)

// Veil is what somebody who writes a plan does not see of it. What they write
// counts from nothing of that: it is read as if it were not there.
type Veil struct {
	Seen  func(*Plan) *Plan // the plan without it
	Wrote func(string) bool // whether the phrase at a path is theirs

	// What ReadVeiled found.
	Faults []Fault // of their phrases, in words that tell of nothing unseen
	Pins   []Pin
}

// Pin is a name in a phrase of theirs that stands for something else where
// all of the plan is seen, and one that stands for what they meant.
type Pin struct{ Path, Says, Be string }

// ReadVeiled is Read with the phrases of one writer read as they see the
// plan. They have to be written as the pins say to be read so by everybody.
func (p *Plan) ReadVeiled(v *Veil) (faults []Fault, notes []Note) {
	return (&planReader{plan: p, veil: v}).read()
}

// seen is the plan as whoever wrote the phrase at path sees it.
func (rd *planReader) seen(path string) (p *Plan, theirs bool) {
	if rd.veil == nil || !rd.veil.Wrote(path) {
		return rd.plan, false
	}
	return rd.veil.Seen(rd.plan), true
}

// readerAt is r, or for a phrase of theirs, one that knows what they see.
func (rd *planReader) readerAt(path string, a *Agreement, r reader) reader {
	if p, theirs := rd.seen(path); theirs {
		r.scopes = []scope{p.ownOf(a), p.scope()}
	}
	return r
}

// ownOf is what can be named inside a, of which p may hold less.
func (p *Plan) ownOf(a *Agreement) scope {
	if a == nil {
		return nil
	}
	if seen, ok := p.Agreement(a.Key); ok {
		return seen.own()
	}
	return a.own()
}

// linkVeiled ties a timing of theirs to what it counts from, and notes what
// would be read otherwise where all is seen.
func (rd *planReader) linkVeiled(all linker, p *Plan, t *Timing, a *Agreement, path string) {
	own := p.ownOf(a)
	linker{p.scope(), all.faults, all.unread}.link(t, own, path)
	if t == nil || t.Anchor.ref == "" {
		return
	}
	own = rd.plan.ownOf(a)
	if refs := all.refs(t.Anchor.Says, own); len(refs) == 1 && refs[0] == t.Anchor.ref {
		return
	}
	names := []string{string(t.Anchor.ref)}
	names = append(names, slices.Sorted(maps.Keys(own))...)
	names = append(names, slices.Sorted(maps.Keys(all.shared))...)
	for _, as := range names {
		if refs := all.refs(as, own); len(refs) == 1 && refs[0] == t.Anchor.ref {
			rd.veil.Pins = append(rd.veil.Pins, Pin{path, t.Anchor.Says, as})
			return
		}
	}
	rd.fault(path, "name it in other words", "%q cannot be told from something else here", t.Anchor.Says)
}

// told keeps the faults so far of what they wrote: none of them tells of what
// they do not see.
func (rd *planReader) told() {
	if rd.veil == nil {
		return
	}
	for _, f := range rd.faults {
		if rd.veil.Wrote(f.Path) {
			rd.veil.Faults = append(rd.veil.Faults, f)
		}
	}
}
