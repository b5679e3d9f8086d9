package main

import (
	"errors"
	"fmt"
	"strings"

	"banns/store"
)

type importCmd struct {
	File string `arg:"" help:"Plan file; - reads standard input."`
	As   string `help:"What to call a wedding that is new." placeholder:"NAME"`
	Over bool   `help:"Save it even where the stored plan is newer."`
}

// Run saves the plan as the wedding's next version and publishes it.
func (c *importCmd) Run(e *env) error {
	doc, err := e.file(c.File)
	if err != nil {
		return err
	}
	s, err := e.open()
	if err != nil {
		return err
	}
	defer s.Close()
	done, err := s.Import(e.ctx, store.Import{Document: doc, Name: c.As, Over: c.Over, By: c.by()}, e.now())
	switch {
	case errors.Is(err, store.ErrStale):
		return wrongf("%v; nothing was saved\nbring your changes into the output of \"banns export\", or save over it with --over", err)
	case errors.Is(err, store.ErrHeld):
		return wrongf("%v; nothing was saved\ngo on from the output of \"banns export\", which has every key and what is done, or save this file over it with --over", err)
	case errors.Is(err, store.ErrTaken):
		return wrongf("%v; give this one another with --as NAME; nothing was saved", err)
	case err != nil:
		return err
	}
	fmt.Fprintf(e.out, "Saved %s as %s, version %d: a private feed for each of %s.\n",
		doc.Plan.Wedding.Title, done.Name, done.Version, people(len(doc.Plan.People)))
	switch {
	case done.New:
		fmt.Fprintf(e.out, "Next: banns feeds list %s\n", done.Name)
	case c.Over:
		e.difference(done, changesAll)
	default:
		e.difference(done, changesShown)
	}
	return nil
}

// greeting says what became of the links of somebody whose key another has.
func greeting(n store.Newcomer) string {
	was := n.Was
	if was == "" {
		was = "somebody"
	}
	left := "had left"
	if n.Left > 0 {
		left = fmt.Sprintf("left in version %d", n.Left)
	}
	says := fmt.Sprintf("%s was the key of %s, who %s; that link is closed, and %s has a new one", n.Key, was, left, n.Name)
	if len(n.From) > 0 {
		says += "; the joint feed " + strings.Join(n.From, ", ") + " carries this wedding no more"
	}
	return says
}

// by says what saved the version.
func (c *importCmd) by() string {
	if c.Over {
		return "import --over"
	}
	return "import"
}

func people(n int) string {
	if n == 1 {
		return "1 person"
	}
	return fmt.Sprintf("%d people", n)
}
