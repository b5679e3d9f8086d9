package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"banns/feed"
	"banns/store"
)

type feedsTogetherCmd struct {
	Name  string   `arg:"" help:"What to call the joint feed, or the name of one that is there."`
	Who   []string `arg:"" optional:"" help:"Whose dates of which wedding, each as WEDDING/PERSON." placeholder:"WEDDING/PERSON"`
	Title string   `help:"What its calendar is called on the phone; NAME unless said otherwise." placeholder:"TITLE"`
}

// Run puts somebody's dates of several weddings behind one link.
func (c *feedsTogetherCmd) Run(e *env) error {
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	var who []store.Pair
	for _, one := range c.Who {
		pair, err := c.pair(e, s, one)
		if err != nil {
			return err
		}
		who = append(who, pair)
	}
	_, err = s.Joint(e.ctx, c.Name)
	switch isNew := errors.Is(err, store.ErrUnknown); {
	case err != nil && !isNew:
		return err
	case isNew && len(who) == 0:
		return wrongf("there is no joint feed called %q yet; to make it, say whose dates of which weddings, each as WEDDING/PERSON", c.Name)
	case !isNew && len(who) == 0 && c.Title == "":
		return wrongf("nothing to do: say whose dates to add, each as WEDDING/PERSON, or another --title")
	}
	j, err := s.Together(e.ctx, c.Name, c.Title, who, e.now())
	switch {
	case errors.Is(err, store.ErrName):
		return wrongf("%v; what its calendar is called goes with --title", err)
	case errors.Is(err, store.ErrTaken):
		return wrongf("%v; nothing was changed\n\"banns feeds apart\" takes a wedding out", err)
	case err != nil:
		return err
	}
	return showJoints(e, s, []store.Joint{j}, false)
}

// pair reads WEDDING/PERSON, both of which must be there.
func (c *feedsTogetherCmd) pair(e *env, s *store.Store, text string) (store.Pair, error) {
	wedding, person, ok := strings.Cut(text, "/")
	if !ok || wedding == "" || person == "" {
		return store.Pair{}, wrongf("%q is no WEDDING/PERSON; write for instance maren-and-theo/odile", text)
	}
	doc, err := e.stored(s, wedding)
	if err != nil {
		return store.Pair{}, err
	}
	if _, err := somebody(doc.Plan, person); err != nil {
		return store.Pair{}, fmt.Errorf("%s: %w", wedding, err)
	}
	return store.Pair{Wedding: wedding, Person: person}, nil
}

type feedsApartCmd struct {
	Name     string   `arg:"" help:"Name of the joint feed."`
	Weddings []string `arg:"" help:"Names of the weddings to take out." placeholder:"WEDDING"`
}

// Run takes weddings out of a joint feed.
func (c *feedsApartCmd) Run(e *env) error {
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	had, err := s.Joint(e.ctx, c.Name)
	if errors.Is(err, store.ErrUnknown) {
		return noJoint(e, s, c.Name)
	} else if err != nil {
		return err
	}
	j, err := s.Apart(e.ctx, c.Name, c.Weddings, e.now())
	if errors.Is(err, store.ErrUnknown) {
		var names []string
		for _, one := range had.Carries {
			names = append(names, one.Wedding)
		}
		return wrongf("%v; it has: %s; nothing was changed", err, strings.Join(names, ", "))
	} else if err != nil {
		return err
	}
	return showJoints(e, s, []store.Joint{j}, false)
}

func revokeJoint(e *env, s *store.Store, verb, name string, again bool) error {
	err := s.RevokeJoint(e.ctx, name, again, e.now())
	if !errors.Is(err, store.ErrUnknown) {
		return err
	}
	if _, err := s.Load(e.ctx, name); !errors.Is(err, store.ErrUnknown) {
		return wrongf("%s is a wedding; say whose link: banns feeds %s %s PERSON", name, verb, name)
	}
	return noJoint(e, s, name)
}

// noJoint says which joint feeds there are.
func noJoint(e *env, s *store.Store, name string) error {
	all, err := s.Joints(e.ctx)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		return wrongf("there is no joint feed called %q, nor any other; \"banns feeds together\" makes one", name)
	}
	var names []string
	for _, j := range all {
		names = append(names, j.Name)
	}
	return wrongf("there is no joint feed called %q; there are: %s", name, strings.Join(names, ", "))
}

// showJoints shows joint feeds: what each carries, and where it is to be had.
func showJoints(e *env, s *store.Store, all []store.Joint, draw bool) error {
	if len(all) == 0 {
		fmt.Fprintf(e.out, "There is no joint feed. \"banns feeds list WEDDING\" shows the links of a wedding's people.\n")
		return nil
	}
	base, err := linkBase(e, s)
	if err != nil {
		return err
	}
	return printJoints(e.out, base, all, draw)
}

func printJoints(out io.Writer, base string, all []store.Joint, draw bool) error {
	for _, j := range all {
		if err := printJoint(out, base, j, draw); err != nil {
			return err
		}
	}
	return nil
}

func printJoint(out io.Writer, base string, j store.Joint, draw bool) error {
	fmt.Fprintf(out, "%s (%s, a joint feed of %s)\n", j.Title, j.Name, plural(len(j.Carries), "wedding"))
	for n, one := range j.Carries {
		lead := "carries"
		if n > 0 {
			lead = ""
		}
		gone := ""
		if one.Left {
			gone = "  (has left the plan)"
		}
		fmt.Fprintf(out, "  %-8s  %s/%s%s\n", lead, one.Wedding, one.Person, gone)
	}
	switch {
	case j.Bytes > feed.MostBytes:
		fmt.Fprintf(out, "  too long  %.1f MB, and some phones refuse more than 1 MB: make two of it, with \"banns feeds apart\" and \"together\"\n", float64(j.Bytes)/1e6)
	case j.Brief:
		fmt.Fprintf(out, "  brief     it would be too long for some phones, so that entries say less and lead to the page\n")
	}
	if j.Token == "" {
		fmt.Fprintf(out, "  closed; \"banns feeds reissue %s\" gives a new link\n", j.Name)
		return nil
	}
	return printLinks(out, base, j.Token, draw)
}
