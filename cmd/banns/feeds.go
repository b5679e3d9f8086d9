package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	qr "github.com/piglig/go-qr"

	"banns/store"
)

type feedsCmd struct {
	List     feedsListCmd     `cmd:"" help:"Show private links: of each person of a wedding, or of joint feeds."`
	Together feedsTogetherCmd `cmd:"" help:"Give somebody's dates of several weddings one link: make a joint feed, or add to it."`
	Apart    feedsApartCmd    `cmd:"" help:"Take weddings out of a joint feed."`
	Reissue  feedsReissueCmd  `cmd:"" help:"Close a link and give a new one."`
	Revoke   feedsRevokeCmd   `cmd:"" help:"Close a link."`
}

type feedsListCmd struct {
	Name string `arg:"" optional:"" help:"Name of a stored wedding, or of a joint feed. Without it: every joint feed."`
	For  string `help:"Only this person's." placeholder:"PERSON"`
	QR   bool   `name:"qr" help:"Draw the link as a QR code."`
}

// Run shows where everybody's dates are to be had.
func (c *feedsListCmd) Run(e *env) error {
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	if _, err := s.Load(e.ctx, c.Name); errors.Is(err, store.ErrUnknown) && c.For == "" {
		if j, err := s.Joint(e.ctx, c.Name); err == nil {
			return showJoints(e, s, []store.Joint{j}, c.QR)
		} else if !errors.Is(err, store.ErrUnknown) {
			return err
		}
	}
	if c.QR && c.For == "" {
		return wrongf("a code fills the screen: say whose, with --for PERSON or the name of a joint feed")
	}
	if c.Name != "" {
		return c.people(e, s)
	}
	joints, err := s.Joints(e.ctx)
	if err != nil {
		return err
	}
	return showJoints(e, s, joints, false)
}

// people shows the links of a wedding's people, and the joint feeds that
// carry somebody of it.
func (c *feedsListCmd) people(e *env, s *store.Store) error {
	doc, err := e.stored(s, c.Name)
	if err != nil {
		return err
	}
	if c.For != "" {
		if _, err := somebody(doc.Plan, c.For); err != nil {
			return err
		}
	}
	base, err := linkBase(e, s)
	if err != nil {
		return err
	}
	all, err := s.Addresses(e.ctx, c.Name)
	if err != nil {
		return err
	}
	for _, a := range all {
		if c.For == "" || c.For == a.Person {
			if err := printAddress(e.out, base, a, c.QR); err != nil {
				return err
			}
		}
	}
	joints, err := s.Joints(e.ctx)
	if err != nil {
		return err
	}
	joints = slices.DeleteFunc(joints, func(j store.Joint) bool { return !c.carriedBy(j) })
	return printJoints(e.out, base, joints, false)
}

// carriedBy reports whether a joint feed has what the list is of.
func (c *feedsListCmd) carriedBy(j store.Joint) bool {
	return slices.ContainsFunc(j.Carries, func(one store.Carried) bool {
		return one.Wedding == c.Name && (c.For == "" || c.For == one.Person)
	})
}

// linkBase is what links begin with.
func linkBase(e *env, s *store.Store) (string, error) {
	base, err := s.Public(e.ctx)
	if base == "" && err == nil {
		base = "http://" + defaultListen
		fmt.Fprintf(e.err, "banns: no server has run yet; \"banns serve\" makes these links work\n")
	}
	return base, err
}

// printAddress shows somebody's page and calendar.
func printAddress(out io.Writer, base string, a store.Address, draw bool) error {
	if a.Left {
		fmt.Fprintf(out, "%s (has left the plan; \"banns feeds revoke %s %s\" closes the link)\n", a.Person, a.Wedding, a.Person)
	} else {
		fmt.Fprintf(out, "%s (%s, %s)\n", a.Name, a.Person, a.Part)
	}
	if a.Token == "" {
		fmt.Fprintf(out, "  closed; \"banns feeds reissue %s %s\" gives a new link\n", a.Wedding, a.Person)
		return nil
	}
	return printLinks(out, base, a.Token, draw)
}

// printLinks shows the page and the calendar that a token opens.
func printLinks(out io.Writer, base, token string, draw bool) error {
	page := base + "/p/" + token
	fmt.Fprintf(out, "  page      %s\n  calendar  %s/c/%s.ics\n", page, base, token)
	if !draw {
		return nil
	}
	code, err := qr.EncodeText(page, qr.Medium)
	if err != nil {
		return err
	}
	fmt.Fprint(out, blocks(code))
	return nil
}

// blocks draws a QR code with half blocks, two modules to a character, dark
// on light whatever the terminal's colours, inside its quiet zone of four.
func blocks(code *qr.QrCode) string {
	const margin = 4
	var b strings.Builder
	size := code.Size()
	for y := -margin; y < size+margin; y += 2 {
		b.WriteString("\x1b[30;47m")
		for x := -margin; x < size+margin; x++ {
			switch top, low := code.Module(x, y), code.Module(x, y+1); {
			case top && low:
				b.WriteRune('█')
			case top:
				b.WriteRune('▀')
			case low:
				b.WriteRune('▄')
			default:
				b.WriteRune(' ')
			}
		}
		b.WriteString("\x1b[0m\n")
	}
	return b.String()
}

type feedsReissueCmd struct {
	Name   string `arg:"" help:"Name of a stored wedding, or of a joint feed."`
	Person string `arg:"" optional:"" help:"Key of the person, in a wedding."`
}

// Run closes the link and shows the new one.
func (c *feedsReissueCmd) Run(e *env) error {
	if err := revoke(e, "reissue", c.Name, c.Person, true); err != nil {
		return err
	}
	fmt.Fprintf(e.err, "banns: the old link is closed; whoever subscribed to it must subscribe again\n")
	return (&feedsListCmd{Name: c.Name, For: c.Person}).Run(e)
}

type feedsRevokeCmd struct {
	Name   string `arg:"" help:"Name of a stored wedding, or of a joint feed."`
	Person string `arg:"" optional:"" help:"Key of the person, in a wedding; of somebody who has left its plan the one they had first."`
}

// Run closes the link.
func (c *feedsRevokeCmd) Run(e *env) error {
	if err := revoke(e, "revoke", c.Name, c.Person, false); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "Closed; a running server follows within a second. What a phone has copied already stays on it until that phone removes the calendar.\n")
	return nil
}

// revoke closes a person's link, or, without a person, that of a joint feed.
// Who has left the plan is given no new one.
func revoke(e *env, verb, name, person string, again bool) error {
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	if person == "" {
		return revokeJoint(e, s, verb, name, again)
	}
	doc, err := e.stored(s, name)
	if err != nil {
		return err
	}
	_, stranger := somebody(doc.Plan, person)
	if stranger != nil && again {
		return stranger
	}
	err = s.Revoke(e.ctx, name, person, again, e.now())
	if errors.Is(err, store.ErrUnknown) && stranger != nil {
		return stranger
	}
	return err
}
