package main

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"banns/feed"
	"banns/milestones"
	"banns/store"
)

// historyCmd is banns history. With --json it writes an array, newest first, of
//
//	{version, saved, by, changes: [C]}
//
// where C is {item, agreement, aspects, says, for, hidden_from, each: [C]}.
// saved is RFC 3339; by is null where it was not kept. changes is null for the
// first version, which changed nothing, and for one that this program cannot
// read. for are the keys of those whom a change concerns, hidden_from those of
// the couple and the planners from whom it is hidden; with --for, for is that
// person alone. each is what says counts, one by one. What does not apply is
// null.
type historyCmd struct {
	Wedding string `arg:"" help:"Name of a stored wedding."`
	For     string `help:"Only what this person may see." placeholder:"PERSON"`
	JSON    bool   `name:"json" help:"Write JSON."`
}

type versionJSON struct {
	Version int          `json:"version"`
	Saved   string       `json:"saved"`
	By      *string      `json:"by"`
	Changes []changeJSON `json:"changes"`
}

// step is one version, and what it changed; changes is nil where nothing can
// be said of that.
type step struct {
	store.Version
	was, is *store.Document // nil where it cannot be read
	changes []feed.Change
}

// Run tells what each version changed, the newest first.
func (c *historyCmd) Run(e *env) error {
	s, doc, err := e.wedding(c.Wedding)
	if err != nil {
		return err
	}
	defer s.Close()
	who, err := lastingID(doc.Plan, c.For)
	if err != nil {
		return err
	}
	steps, err := e.steps(s, c.Wedding, who)
	if err != nil {
		return err
	}
	slices.Reverse(steps)
	if c.For != "" { // that others changed something is theirs to know
		steps = slices.DeleteFunc(steps, func(one step) bool { return one.was != nil && one.is != nil && len(one.changes) == 0 })
	}
	if c.JSON {
		out := []versionJSON{}
		for _, one := range steps {
			v := versionJSON{Version: one.N, Saved: one.Saved.UTC().Format(time.RFC3339), By: text(one.By)}
			if one.was != nil && one.is != nil {
				v.Changes = newChanges(one.changes, c.For)
			}
			out = append(out, v)
		}
		return writeJSON(e.out, out)
	}
	newPrinter(e.out).history(doc.Plan, steps, who)
	return nil
}

// lastingID is the lasting id of the person with that key; of no key, none.
func lastingID(p *milestones.Plan, key string) (string, error) {
	if key == "" {
		return "", nil
	}
	who, err := somebody(p, key)
	if err != nil {
		return "", err
	}
	return who.ID(), nil
}

// steps are all versions of a wedding, the oldest first.
func (e *env) steps(s *store.Store, wedding, who string) ([]step, error) {
	versions, err := s.Versions(e.ctx, wedding)
	if err != nil {
		return nil, err
	}
	var all []step
	var last *store.Document
	for _, v := range versions {
		one := step{Version: v, was: last}
		one.is, err = s.LoadVersion(e.ctx, wedding, v.N)
		var faults store.Faults
		if err != nil && !errors.As(err, &faults) {
			return nil, err
		}
		if last != nil && one.is != nil {
			one.changes = compared(last.Plan, one.is.Plan, who, milestones.DateOf(v.Saved.In(one.is.Plan.Wedding.Location())))
		}
		last = one.is
		all = append(all, one)
	}
	return all, nil
}

// compared is what is otherwise in one plan than in another.
func compared(was, is *milestones.Plan, who string, on milestones.Date) []feed.Change {
	return feed.Compare(milestones.Work(was, closures(was)), milestones.Work(is, closures(is)), who, on)
}

// history prints versions with what each changed.
func (p printer) history(plan *milestones.Plan, steps []step, who string) {
	fmt.Fprintln(p.out, heading(plan))
	for _, one := range steps {
		head := fmt.Sprintf("Version %d, %s", one.N, one.Saved.In(plan.Wedding.Location()).Format("Mon 2 Jan 2006, 15:04"))
		if one.By != "" {
			head += ", " + one.By
		}
		fmt.Fprintf(p.out, "\n%s\n", head)
		switch {
		case one.is == nil:
			fmt.Fprintln(p.out, "  This version cannot be read by this program any more.")
		case one.N == 1:
			fmt.Fprintf(p.out, "  The first, with %s.\n", firstWords(one.is.Plan, who))
		case one.was == nil:
			fmt.Fprintln(p.out, "  The version before it cannot be read, so nothing can be said of what changed.")
		default:
			p.changes(one.is.Plan, one.was.Plan, one.changes, changesAll)
		}
	}
}

// firstWords count what a first version has, or what of it one person sees.
func firstWords(plan *milestones.Plan, who string) string {
	items := milestones.Schedule(plan, closures(plan))
	if who == "" {
		return people(len(plan.People)) + ", " + plural(len(plan.Agreements), "agreement") + " and " + plural(len(items), "date")
	}
	for i := range plan.People {
		if plan.People[i].ID() == who {
			return plural(len(feed.View(plan, items, plan.People[i].Key)), "date") + " for " + plan.People[i].Name
		}
	}
	return "nothing for them"
}
