package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	qr "github.com/piglig/go-qr"

	"banns/store"
)

type feedsCmd struct {
	List    feedsListCmd    `cmd:"" help:"Show the private link of each person."`
	Reissue feedsReissueCmd `cmd:"" help:"Close a person's link and give a new one."`
	Revoke  feedsRevokeCmd  `cmd:"" help:"Close a person's link."`
}

type feedsListCmd struct {
	Name string `arg:"" help:"Name of a stored wedding."`
	For  string `help:"Only this person's." placeholder:"PERSON"`
	QR   bool   `name:"qr" help:"Draw each link as a QR code."`
}

// Run shows where everybody's dates are to be had.
func (c *feedsListCmd) Run(e *env) error {
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	doc, err := e.stored(s, c.Name)
	if err != nil {
		return err
	}
	if c.For != "" {
		if _, err := somebody(doc.Plan, c.For); err != nil {
			return err
		}
	}
	base, err := s.Public(e.ctx)
	if err != nil {
		return err
	}
	if base == "" {
		base = "http://" + defaultListen
		fmt.Fprintf(e.err, "banns: no server has run yet; \"banns serve\" makes these links work\n")
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
	return nil
}

// printAddress shows somebody's page and calendar.
func printAddress(out io.Writer, base string, a store.Address, draw bool) error {
	fmt.Fprintf(out, "%s (%s, %s)\n", a.Name, a.Person, a.Part)
	if a.Token == "" {
		fmt.Fprintf(out, "  closed; \"banns feeds reissue %s %s\" gives a new link\n", a.Wedding, a.Person)
		return nil
	}
	page := base + "/p/" + a.Token
	fmt.Fprintf(out, "  page      %s\n  calendar  %s/c/%s.ics\n", page, base, a.Token)
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
	Name   string `arg:"" help:"Name of a stored wedding."`
	Person string `arg:"" help:"Key of the person."`
}

// Run closes the person's link and shows the new one.
func (c *feedsReissueCmd) Run(e *env) error {
	if err := revoke(e, c.Name, c.Person, true); err != nil {
		return err
	}
	fmt.Fprintf(e.err, "banns: the old link is closed; whoever subscribed to it must subscribe again\n")
	return (&feedsListCmd{Name: c.Name, For: c.Person}).Run(e)
}

type feedsRevokeCmd struct {
	Name   string `arg:"" help:"Name of a stored wedding."`
	Person string `arg:"" help:"Key of the person, who need not be in the plan any more."`
}

// Run closes the person's link.
func (c *feedsRevokeCmd) Run(e *env) error {
	if err := revoke(e, c.Name, c.Person, false); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "Closed; a running server follows within a second. What a phone has copied already stays on it until that phone removes the calendar.\n")
	return nil
}

func revoke(e *env, name, person string, again bool) error {
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	doc, err := e.stored(s, name)
	if err != nil {
		return err
	}
	if _, err := somebody(doc.Plan, person); err != nil && again {
		return err
	}
	err = s.Revoke(e.ctx, name, person, again, e.now())
	if errors.Is(err, store.ErrUnknown) {
		_, err = somebody(doc.Plan, person)
	}
	return err
}
