package main

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

type eventsCmd struct {
	Read   eventsReadCmd   `cmd:"" help:"Look at a calendar or a table of public events, without keeping it."`
	Add    eventsAddCmd    `cmd:"" help:"Add a calendar or a table to a wedding; an address is read again each day."`
	List   eventsListCmd   `cmd:"" help:"List the public events that are known for a wedding."`
	Remove eventsRemoveCmd `cmd:"" help:"Remove a calendar or a table from a wedding."`
}

type eventsReadCmd struct {
	From string `arg:"" help:"File (- reads standard input) or address."`
	Zone string `required:"" help:"Time zone of the wedding, such as America/Detroit." placeholder:"ZONE"`
	Year int    `help:"Only this year's; this one's and the next two's otherwise." placeholder:"YEAR"`
	from
	JSON bool `name:"json" help:"Write JSON."`
}

// Validate refuses a zone that is none.
func (c *eventsReadCmd) Validate() error {
	if _, err := milestones.Zone(c.Zone); err != nil {
		return err
	}
	return validYear(c.Year)
}

// validYear refuses a year in which no wedding is planned.
func validYear(year int) error {
	if year != 0 && (year < 1900 || year > 2200) {
		return wrongf("%d is not between 1900 and 2200; look at the year", year)
	}
	return nil
}

// Run shows what is taken of a calendar or table, and what is not.
func (c *eventsReadCmd) Run(e *env) error {
	src, err := c.read(e, c.From)
	if err != nil {
		return err
	}
	first, last := eventYears(&milestones.Plan{}, e.day(c.Zone), c.Year)
	l, err := listing(src, milestones.ZoneOrUTC(c.Zone), first, last)
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(e.out, newEventsJSON([]known{{src, l}}))
	}
	fmt.Fprintf(e.out, "%s: %s\n", src.Name, found(l, first, last))
	newPrinter(e.out).events([]known{{src, l}})
	return nil
}

type eventsAddCmd struct {
	Name string `arg:"" help:"Name of a stored wedding."`
	From string `arg:"" help:"File (- reads standard input) or address."`
	As   string `help:"What to call it; one of the same name is replaced." placeholder:"SOURCE"`
	from
}

// Run keeps a calendar or a table.
func (c *eventsAddCmd) Run(e *env) error {
	s, doc, err := e.wedding(c.Name)
	if err != nil {
		return err
	}
	defer s.Close()
	src, err := c.read(e, c.From)
	if err != nil {
		return err
	}
	first, last := eventYears(doc.Plan, e.day(doc.Plan.Wedding.Zone), 0)
	l, err := listing(src, doc.Plan.Wedding.Location(), first, last)
	if err != nil {
		return err
	}
	src.Wedding, src.Name = c.Name, cmp.Or(c.As, callIt(src))
	name, replaced, err := s.AddSource(e.ctx, src, e.now())
	if err != nil {
		return err
	}
	src.Name = name
	word := "Added"
	if replaced {
		word = "Replaced"
	}
	fmt.Fprintf(e.out, "%s %s: %s\n", word, name, found(l, first, last))
	newPrinter(e.out).leftOut([]known{{src, l}})
	return nil
}

// callIt is what a source is called that was given no name: a file's name
// without its ending, or the name of the server.
func callIt(src store.Source) string {
	if src.Address != "" {
		return src.Name
	}
	return strings.TrimSuffix(src.Name, filepath.Ext(src.Name))
}

// found is how much a source lists.
func found(l conflicts.Listing, first, last milestones.Date) string {
	return fmt.Sprintf("%s between %s and %s.", plural(len(l.Events), "event"), first.Words(), last.Words())
}

type eventsListCmd struct {
	Name string `arg:"" help:"Name of a stored wedding."`
	Year int    `help:"Only this year's." placeholder:"YEAR"`
	JSON bool   `name:"json" help:"Write JSON."`
}

// Validate refuses a year that is out of reach.
func (c *eventsListCmd) Validate() error { return validYear(c.Year) }

// Run lists what is known, and what was left out.
func (c *eventsListCmd) Run(e *env) error {
	s, doc, err := e.wedding(c.Name)
	if err != nil {
		return err
	}
	defer s.Close()
	first, last := eventYears(doc.Plan, e.day(doc.Plan.Wedding.Zone), c.Year)
	all, err := e.known(s, doc.Plan, c.Name, first, last)
	if err != nil {
		return err
	}
	past, err := e.known(s, doc.Plan, c.Name, first.AddMonths(-12*conflicts.PastYears), last)
	if err != nil {
		return err
	}
	doubted := conflicts.Doubted(eventsOf(past), first.Year, last.Year, doc.Plan.Wedding.Region)
	if c.JSON {
		out := newEventsJSON(all)
		out.doubt(doubted)
		return writeJSON(e.out, out)
	}
	p := newPrinter(e.out)
	if len(all) == 0 {
		fmt.Fprintf(e.out, "No calendar of public events is known yet; \"banns events add %s FILE\" adds one.\n", c.Name)
		return nil
	}
	p.sources(all)
	p.events(all)
	p.doubted(doubted)
	return nil
}

type eventsRemoveCmd struct {
	Name   string `arg:"" help:"Name of a stored wedding."`
	Source string `arg:"" help:"Which calendar or table."`
}

// Run forgets a calendar or a table.
func (c *eventsRemoveCmd) Run(e *env) error {
	s, _, err := e.wedding(c.Name)
	if err != nil {
		return err
	}
	defer s.Close()
	err = s.RemoveSource(e.ctx, c.Name, c.Source)
	if errors.Is(err, store.ErrUnknown) {
		return e.noSource(s, c.Name, c.Source)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(e.out, "Removed %s.\n", c.Source)
	return nil
}

// noSource says which calendars and tables there are.
func (e *env) noSource(s *store.Store, wedding, name string) error {
	sources, err := s.Sources(e.ctx, wedding)
	if err != nil {
		return err
	}
	var names []string
	for _, src := range sources {
		names = append(names, src.Name)
	}
	switch hint := milestones.Nearest(name, names); {
	case len(names) == 0:
		return wrongf("%s has no calendars of public events", wedding)
	case hint != "":
		return wrongf("no calendar of public events is called %q; %s", name, hint)
	}
	return wrongf("no calendar of public events is called %q; known are: %s", name, strings.Join(names, ", "))
}
