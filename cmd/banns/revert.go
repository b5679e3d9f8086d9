package main

import (
	"fmt"

	"banns/store"
)

type revertCmd struct {
	Wedding string `arg:"" help:"Name of a stored wedding."`
	Version int    `arg:"" help:"The version to go back to."`
}

// Run saves an older version as the newest, and says what that changes and
// what it kept of what was done since.
func (c *revertCmd) Run(e *env) error {
	s, newest, err := e.wedding(c.Wedding)
	if err != nil {
		return err
	}
	defer s.Close()
	if newest.Plan.Version == c.Version {
		return wrongf("version %d of %s is the newest already; \"banns history %s\" tells of those before it", c.Version, c.Wedding, c.Wedding)
	}
	if _, err := e.version(s, c.Wedding, c.Version); err != nil {
		return err
	}
	done, err := s.Revert(e.ctx, c.Wedding, c.Version, fmt.Sprintf("back to version %d", c.Version), e.now())
	if err != nil {
		return err
	}
	fmt.Fprintf(e.out, "Saved version %d of %s again, as version %d. No version is lost.\n", c.Version, done.Title, done.Version)
	e.difference(done, changesAll)
	return nil
}

// difference prints what saving a plan changed, and what was kept of the
// version before it.
func (e *env) difference(done store.Imported, most int) {
	for _, n := range done.Newcomers {
		fmt.Fprintf(e.err, "banns: %s\n", greeting(n))
	}
	p := newPrinter(e.out)
	fmt.Fprintf(e.out, "\nWhat changed since version %d:\n", done.Version-1)
	changes := compared(done.Was, done.Is, "", e.day(done.Is.Wedding.Zone))
	if left := p.changes(done.Is, done.Was, changes, most); left > 0 {
		fmt.Fprintf(e.out, "  and %d more: banns history %s\n", left, done.Name)
	}
	p.facts("\nKept, since it was done, paid, given or answered:", done.Kept)
	p.facts("\nNot kept, since the plan says something else there now:", done.Lost)
}

// facts prints what was kept or lost, a line for each thing it is about.
func (p printer) facts(title string, all []store.Fact) {
	if len(all) == 0 {
		return
	}
	fmt.Fprintln(p.out, title)
	for n, f := range all {
		switch {
		case n > 0 && all[n-1].Of == f.Of:
			fmt.Fprintf(p.out, ", %s", f.Says)
		case n > 0:
			fmt.Fprintf(p.out, "\n  %s: %s", f.Of, f.Says)
		default:
			fmt.Fprintf(p.out, "  %s: %s", f.Of, f.Says)
		}
	}
	fmt.Fprintln(p.out)
}
