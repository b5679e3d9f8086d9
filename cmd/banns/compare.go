package main

import (
	"errors"
	"fmt"

	"banns/feed"
	"banns/milestones"
	"banns/store"
)

// compareCmd is banns compare. With --json it writes {from, to, changes: [C]},
// where C is as in banns history --json.
type compareCmd struct {
	Wedding string `arg:"" help:"Name of a stored wedding."`
	A       int    `arg:"" help:"The version to begin from."`
	B       int    `arg:"" help:"The version to compare with it."`
	For     string `help:"Only what this person may see." placeholder:"PERSON"`
	Each    bool   `help:"Tell one by one what is only counted."`
	JSON    bool   `name:"json" help:"Write JSON."`
}

type compareJSON struct {
	From    int          `json:"from"`
	To      int          `json:"to"`
	Changes []changeJSON `json:"changes"`
}

// Run tells what is otherwise in one version than in another.
func (c *compareCmd) Run(e *env) error {
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	was, err := e.version(s, c.Wedding, c.A)
	if err != nil {
		return err
	}
	is, err := e.version(s, c.Wedding, c.B)
	if err != nil {
		return err
	}
	who := ""
	if c.For != "" {
		newest, err := e.stored(s, c.Wedding)
		if err != nil {
			return err
		}
		if who, err = lastingID(newest.Plan, c.For); err != nil {
			return err
		}
	}
	changes := compared(was.Plan, is.Plan, who, e.day(is.Plan.Wedding.Zone))
	if c.JSON {
		return writeJSON(e.out, compareJSON{c.A, c.B, newChanges(changes, c.For)})
	}
	if c.Each {
		changes = oneByOne(changes)
	}
	fmt.Fprintf(e.out, "%s: version %d beside version %d\n\n", is.Plan.Wedding.Title, c.B, c.A)
	newPrinter(e.out).changes(is.Plan, was.Plan, changes, changesAll)
	return nil
}

// oneByOne puts what changes count in their place.
func oneByOne(all []feed.Change) []feed.Change {
	var out []feed.Change
	for _, c := range all {
		each := c.Each
		if c.Each = nil; each == nil || c.Aspects[0] != milestones.AspectMoved && c.Aspects[0] != milestones.AspectStayed {
			out = append(out, c)
		}
		out = append(out, each...)
	}
	return out
}

// version loads one version, or says which there are.
func (e *env) version(s *store.Store, wedding string, n int) (*store.Document, error) {
	if _, err := e.stored(s, wedding); err != nil {
		return nil, err
	}
	doc, err := s.LoadVersion(e.ctx, wedding, n)
	if !errors.Is(err, store.ErrUnknown) {
		return doc, err
	}
	all, err := s.Versions(e.ctx, wedding)
	if err != nil {
		return nil, err
	}
	return nil, wrongf("there is no version %d of %s; there are versions %d to %d, and \"banns history %s\" tells of each",
		n, wedding, all[0].N, all[len(all)-1].N, wedding)
}
