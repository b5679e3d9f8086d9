package main

import (
	"bufio"
	"cmp"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"text/template"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

type newCmd struct {
	File     string `arg:"" optional:"" help:"Where to write it; standard output otherwise."`
	Title    string `help:"Whose wedding, such as \"Maren and Theo\"."`
	Date     string `help:"The day, YYYY-MM-DD; open where it is not chosen." placeholder:"DATE"`
	Start    string `help:"When it begins, HH:MM." placeholder:"HH:MM"`
	Zone     string `help:"Time zone, such as America/Detroit."`
	Place    string `help:"Where."`
	City     string `help:"In which city."`
	Region   string `help:"Whose holidays count: US-MI, CA-ON, GB, DE."`
	Currency string `help:"Currency of the agreements: USD, CAD, GBP, EUR."`

	Today milestones.Date `kong:"-"` // the first day of planning
}

// question is one thing that new asks for where no flag says it.
type question struct {
	field *string
	asks  string
	usual string
	sense func(string) error // what an answer must be, or nil
}

//go:embed new.yaml.tmpl
var newPlan string

// Run writes a commented plan to start from.
func (c *newCmd) Run(e *env) error {
	if c.File != "" {
		if _, err := os.Stat(c.File); err == nil {
			return wrongf("%s is there already, and is left as it is; name another file", c.File)
		}
	}
	c.ask(e)
	if err := errors.Join(aRegion(c.Region), aZone(c.Zone)); err != nil {
		return err
	}
	c.Region, _ = conflicts.RegionCalled(c.Region)
	c.Zone, _ = milestones.ZoneCalled(c.Zone)
	c.Today = e.day(c.Zone)
	var text strings.Builder
	t := template.Must(template.New("plan").Funcs(template.FuncMap{"quote": quote}).Parse(newPlan))
	if err := t.Execute(&text, c); err != nil {
		return err
	}
	// What was answered may be wrong: say so now, by the words of the plan.
	if _, err := store.ReadPlan("the new plan", []byte(text.String())); err != nil {
		return err
	}
	if c.File == "" {
		_, err := io.WriteString(e.out, text.String())
		return err
	}
	f, err := os.OpenFile(c.File, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrNotExist) {
		return wrongf("there is no folder for %s; make it first", c.File)
	} else if err != nil {
		return err
	}
	_, err = io.WriteString(f, text.String())
	if err := errors.Join(err, f.Close()); err != nil {
		return err
	}
	fmt.Fprintf(e.out, "Wrote %s. Put in your agreements, then: banns check %s\n", c.File, c.File)
	return nil
}

// ask puts the questions that no flag answers, on standard error, each again
// until its answer makes sense; what is left empty, or never comes, is as
// usual.
func (c *newCmd) ask(e *env) {
	in := bufio.NewReader(e.in)
	for _, q := range []question{
		{&c.Title, "Whose wedding is it?", "Our wedding", nil},
		{&c.Date, "On which day, as 2027-09-18? Leave empty while it is open.", "open", aDay},
		{&c.Start, "When does it begin, as 16:30?", "16:00", anHour},
		{&c.Zone, "In which time zone?", machineZone(), aZone},
		{&c.Place, "Where?", "To be found", nil},
		{&c.City, "In which city?", "To be found", nil},
		{&c.Region, "Whose holidays count, as US-MI, CA-ON, GB or DE?", "US", aRegion},
		{&c.Currency, "In which currency are the agreements?", "USD", aCurrency},
	} {
		for *q.field == "" {
			fmt.Fprintf(e.err, "%s [%s] ", q.asks, q.usual)
			line, ended := in.ReadString('\n')
			answer := cmp.Or(strings.TrimSpace(line), q.usual)
			if ended != nil {
				fmt.Fprintln(e.err)
			}
			if q.sense != nil && ended == nil {
				if err := q.sense(answer); err != nil {
					fmt.Fprintln(e.err, "banns:", err)
					continue
				}
			}
			*q.field = answer
		}
	}
}

func aDay(s string) error {
	if s == "open" {
		return nil
	}
	_, err := milestones.ParseDate(s)
	return err
}

func anHour(s string) error {
	_, err := milestones.ParseClock(s)
	return err
}

func aZone(s string) error {
	if _, known := milestones.ZoneCalled(s); known {
		return nil
	}
	_, err := milestones.Zone(s)
	return err
}

func aRegion(s string) error {
	if _, known := conflicts.RegionCalled(s); !known {
		return wrongf("%q is no country, state or province that is known by name; write its code, such as US-MI, IE or DE", s)
	}
	return nil
}

func aCurrency(s string) error {
	_, err := milestones.ParseCurrency(s)
	return err
}

// machineZone is the zone that this machine is set to, or UTC.
func machineZone() string {
	if tz := os.Getenv("TZ"); strings.Contains(tz, "/") {
		return tz
	}
	link, err := os.Readlink("/etc/localtime")
	if _, zone, ok := strings.Cut(link, "zoneinfo/"); err == nil && ok && strings.Contains(zone, "/") {
		return strings.TrimPrefix(zone, "posix/")
	}
	return "UTC"
}

// quote is s as YAML text in quotes.
func quote(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' {
			return ' '
		}
		return r
	}, s)
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}
