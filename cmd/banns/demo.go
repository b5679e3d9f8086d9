package main

import (
	"bytes"
	"crypto/rand"
	"fmt"
	"net"
	"os"
	"regexp"

	"banns/milestones"
	"banns/store"
	"banns/testdata"
)

type demoCmd struct {
	Lan    bool   `help:"Serve the local network, so that a phone in the room can subscribe."`
	Listen string `help:"Address to listen on." default:"${listen}" placeholder:"HOST:PORT"`
}

// Run serves the invented wedding of Maren and Theo from a temporary store.
func (c *demoCmd) Run(e *env) error {
	dir, err := os.MkdirTemp("", "banns-demo-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	s, err := store.Open(e.ctx, dir)
	if err != nil {
		return err
	}
	defer s.Close()
	l, base, err := c.listen(e)
	if err != nil {
		return err
	}
	if err := s.SetPublic(e.ctx, base, e.now()); err != nil {
		return err
	}
	doc, events, err := demoPlan(e)
	if err != nil {
		return err
	}
	done, err := s.Import(e.ctx, store.Import{Document: doc, By: "demo"}, e.now())
	if err != nil {
		return err
	}
	if _, _, err := s.AddSource(e.ctx, store.Source{Wedding: done.Name, Name: "alder-harbor", Body: events}, e.now()); err != nil {
		return err
	}
	door := rand.Text()
	if err := c.show(e, s, done.Name, doc.Plan, door); err != nil {
		return err
	}
	return serve(e, s, l, serving{base: base, door: door})
}

// listen takes the usual port, or any other where that is taken.
func (c *demoCmd) listen(e *env) (l net.Listener, base string, err error) {
	host, port, err := net.SplitHostPort(c.Listen)
	if err != nil {
		return nil, "", wrongf("%q is no address; write for instance %s", c.Listen, defaultListen)
	}
	if c.Lan {
		if host, err = lanHost(); err != nil {
			return nil, "", err
		}
	}
	l, err = listen(e.ctx, net.JoinHostPort(host, port))
	if err != nil && c.Listen == defaultListen {
		l, err = listen(e.ctx, net.JoinHostPort(host, "0"))
	}
	if err != nil {
		return nil, "", err
	}
	return l, "http://" + l.Addr().String(), nil
}

// lanHost is this machine's address in the local network.
func lanHost() (string, error) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return "", err
	}
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && !n.IP.IsLoopback() && !n.IP.IsLinkLocalUnicast() {
			return n.IP.String(), nil
		}
	}
	return "", wrongf("this machine is in no local network that a phone could share; leave --lan out, or join one")
}

func (c *demoCmd) show(e *env, s *store.Store, name string, p *milestones.Plan, door string) error {
	base, err := s.Public(e.ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(e.out, "%s. Everybody and everything in it is invented.\n", heading(p))
	fmt.Fprintf(e.out, "The desk, where it is planned, signed in:\n  %s/desk/door/%s\n", base, door)
	fmt.Fprintf(e.out, "Each page below is one person's: it shows their dates, and puts them on their phone.\n\n")
	all, err := s.Addresses(e.ctx, name)
	if err != nil {
		return err
	}
	for _, a := range all {
		if err := printAddress(e.out, base, a, false); err != nil {
			return err
		}
	}
	if c.Lan {
		fmt.Fprintf(e.out, "\nPhones in this network can subscribe. Calendars that fetch from their own servers cannot reach %s.\n", base)
	} else {
		fmt.Fprintf(e.out, "\nThese links work on this machine alone. \"banns demo --lan\" lets a phone in the same network subscribe.\n")
	}
	fmt.Fprintf(e.out, "The store is temporary: ctrl-c ends it, and removes it.\n")
	return nil
}

var isoDay = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)

// aheadDays is how far ahead the demo's wedding lies: about ten months.
const aheadDays = 300

// demoPlan is the demo's plan, and what is on in its city, with every date
// moved by whole weeks, so that weekdays stay and the wedding is about ten
// months ahead.
func demoPlan(e *env) (doc *store.Document, events []byte, err error) {
	if doc, err = store.ReadPlan("demo", testdata.Demo); err != nil {
		return nil, nil, err
	}
	w := doc.Plan.Wedding
	ahead := w.Date.DaysSince(e.day(w.Zone))
	days := (aheadDays - ahead + 3*sign(aheadDays-ahead)) / 7 * 7
	doc, err = store.ReadPlan("demo", shifted(testdata.Demo, days))
	return doc, shifted(testdata.DemoEvents, days), err
}

// shifted is a text with every date in it moved by so many days.
func shifted(text []byte, days int) []byte {
	return isoDay.ReplaceAllFunc(bytes.Clone(text), func(b []byte) []byte {
		d, err := milestones.ParseDate(string(b))
		if err != nil {
			return b
		}
		return []byte(d.AddDays(days).String())
	})
}

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}
