package main

import (
	"errors"
	"fmt"

	"banns/store"
)

type deskCmd struct {
	Invite deskInviteCmd `cmd:"" help:"Give somebody a one-time link to the desk."`
}

type deskInviteCmd struct {
	Name string `arg:"" optional:"" help:"Name of the wedding that they are to see; without it, they own the store."`
	As   string `help:"Who of its couple they are, so that what is hidden from them stays so; without it, they plan it." placeholder:"PERSON"`
}

// Run prints the link. It opens once.
func (c *deskInviteCmd) Run(e *env) error {
	if c.Name == "" && c.As != "" {
		return wrongf("--as names somebody of a wedding; name the wedding before it")
	}
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	if c.Name != "" {
		doc, err := e.stored(s, c.Name)
		if err != nil {
			return err
		}
		if c.As != "" {
			if _, err := somebody(doc.Plan, c.As); err != nil {
				return err
			}
		}
	}
	base, err := linkBase(e, s)
	if err != nil {
		return err
	}
	secret, err := s.Invite(e.ctx, store.Invitation{Owner: c.Name == "", Wedding: c.Name, Person: c.As}, e.now())
	if errors.Is(err, store.ErrUnfit) {
		return wrongf("%s cannot sign in at the desk: the couple and planners can; everybody else has a page of their own, which \"banns feeds list\" shows", c.As)
	} else if err != nil {
		return err
	}
	fmt.Fprintf(e.out, "%s/desk/in/%s\n", base, secret)
	fmt.Fprintf(e.err, "banns: the link lets one person in, once, within a week; send it so that nobody else reads it\n")
	return nil
}
