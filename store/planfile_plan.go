package store

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"banns/milestones"
)

var keyForm = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,63}$`)

// key refuses what cannot stand in an id.
func (f *filed) key(key, path string) {
	if !keyForm.MatchString(key) {
		f.fault(nil, path, `write it as "hair-and-makeup"`, "%q cannot be a key: keys are small letters, digits and hyphens, at most 64", key)
	}
}

func (f *filed) plan(root *yaml.Node) *milestones.Plan {
	t := f.table(root, "", "banns", "wedding", "people", "agreements", "appointments", "occasions",
		"countdown", "licence", "candidates", "away")
	f.torn = len(t.meant) > 0
	p := &milestones.Plan{}
	if form := t.must("banns", "banns: 1"); form != "" && form != "1" {
		f.fault(t.values["banns"], "banns", "write banns: 1", "this program reads plan files of form 1, not %q", form)
	}
	f.wedding(t, p)
	t.each("people", func(key string, n *yaml.Node, path string) {
		p.People = append(p.People, f.person(key, n, path))
	})
	f.identities(p.People)
	t.each("agreements", func(key string, n *yaml.Node, path string) {
		p.Agreements = append(p.Agreements, f.agreement(p.Wedding.Currency, key, n, path))
	})
	t.each("appointments", func(key string, n *yaml.Node, path string) {
		p.Appointments = append(p.Appointments, milestones.Appointment{Meeting: f.meeting(key, n, path)})
	})
	t.each("occasions", func(key string, n *yaml.Node, path string) {
		p.Occasions = append(p.Occasions, milestones.Occasion{Meeting: f.meeting(key, n, path)})
	})
	if n := t.values["countdown"]; !absent(n) {
		p.Countdown = f.countdown(n)
	}
	if n := t.values["licence"]; !absent(n) {
		l := f.table(n, "licence", "office", "waits", "lasts", "return within")
		p.Licence = &milestones.Licence{Office: l.text("office"), Waits: l.text("waits"), Lasts: l.text("lasts"), Return: l.text("return within")}
	}
	p.Candidates = t.dates("candidates")
	for _, one := range t.list("away") {
		p.Away = append(p.Away, f.absence(one))
	}
	return p
}

func (f *filed) wedding(t table, p *milestones.Plan) {
	n := t.values["wedding"]
	if absent(n) {
		f.fault(n, "wedding", "write at least its title, date, zone and currency", "the wedding is missing")
		return
	}
	w := f.table(n, "wedding", "id", "version", "title", "date", "start", "zone", "place", "region", "currency")
	p.ID = w.text("id")
	p.Version = read(w, "version", whole(0, 1<<30))
	p.Wedding = milestones.Wedding{
		Title:    w.must("title", "title: Maren and Theo"),
		Date:     read(w, "date", openDay),
		Start:    maybe(w, "start", milestones.ParseClock),
		Place:    f.place(w, "place"),
		Region:   w.text("region"),
		Currency: "USD",
	}
	if w.must("zone", "zone: America/Detroit") != "" {
		p.Wedding.Zone = read(w, "zone", zone)
	}
	if w.must("currency", "currency: USD") != "" {
		if c := read(w, "currency", milestones.ParseCurrency); c != "" {
			p.Wedding.Currency = c
		}
	}
}

func zone(s string) (string, error) {
	_, err := milestones.Zone(s)
	return s, err
}

func whole(least, most int) func(string) (int, error) {
	return func(s string) (int, error) {
		n, err := strconv.Atoi(s)
		if err != nil || n < least || n > most {
			return 0, fmt.Errorf("%q does not do here; write a whole number from %d to %d", s, least, most)
		}
		return n, nil
	}
}

func (f *filed) place(t table, key string) milestones.Place {
	n := t.values[key]
	if absent(n) || n.Kind == yaml.ScalarNode {
		return milestones.Place{Name: t.text(key)}
	}
	at := f.table(n, t.sub(key), "name", "city", "at")
	p := milestones.Place{Name: at.text("name"), City: at.text("city")}
	if pair := at.list("at"); len(pair) == 2 {
		p.At = &[2]float64{f.degrees(pair[0], 90), f.degrees(pair[1], 180)}
	} else if len(pair) > 0 {
		f.fault(at.values["at"], at.sub("at"), "write it as [44.76, -85.62]", "a place on the map is two numbers, latitude and longitude")
	}
	return p
}

func (f *filed) degrees(e entry, most float64) float64 {
	v, err := strconv.ParseFloat(f.scalar(e.node, e.path), 64)
	if err != nil || !(v >= -most && v <= most) {
		f.fault(e.node, e.path, "write degrees such as 44.76", "this is no number from -%g to %g", most, most)
		return 0
	}
	return v
}

func (f *filed) person(key string, n *yaml.Node, path string) milestones.Person {
	f.key(key, path)
	t := f.table(n, path, "name", "part", "was", "groups", "email", "phone", "measures", "diet", "note")
	p := milestones.Person{Key: key, Was: t.text("was"), Name: t.must("name", "name: Priya Nair"), Groups: t.words("groups"),
		Email: t.text("email"), Phone: t.text("phone"), Diet: t.text("diet"), Note: t.text("note")}
	if t.must("part", "part: attendant") != "" {
		p.Part = oneOf(t, "part", milestones.Parts)
	}
	for _, part := range milestones.Parts {
		if key == string(part) || key == milestones.Everybody {
			f.fault(nil, path, "give the person a key of their own, such as their name", "%q already means everyone of that part", key)
			break
		}
	}
	if p.Was != "" {
		f.key(p.Was, t.sub("was"))
	}
	t.each("measures", func(name string, m *yaml.Node, at string) {
		p.Measures = append(p.Measures, milestones.Measure{Name: name, Size: f.scalar(m, at)})
	})
	return p
}

// identities refuses two people with one lasting id: they would share a
// calendar. It comes about when a key that somebody had is given away.
func (f *filed) identities(people []milestones.Person) {
	first := map[string]string{}
	for _, p := range people {
		if other, twice := first[p.ID()]; twice {
			f.fault(nil, "people/"+p.Key, "give whoever is new another key",
				"%s and %s would share one calendar, since both go back to the key %q", other, p.Key, p.ID())
			continue
		}
		first[p.ID()] = p.Key
	}
}

func (f *filed) meeting(key string, n *yaml.Node, path string) milestones.Meeting {
	f.key(key, path)
	t := f.table(n, path, "what", "on", "when", "at", "until", "for", "place", "note", "hide from", "answer", "answers")
	m := milestones.Meeting{Key: key, What: t.must("what", "what: First fitting"), At: maybe(t, "at", milestones.ParseClock),
		Until: maybe(t, "until", milestones.ParseClock), Place: f.place(t, "place"),
		For: t.words("for"), Hide: t.words("hide from"), Note: t.text("note"),
		Answers: t.answers(), Away: t.answersByName()}
	m.When.Says = f.when(t)
	if m.Until != nil && m.At == nil {
		f.fault(t.values["until"], t.sub("until"), `write at: "17:30" too`, "there is an end and no beginning")
	}
	return m
}

// when is the phrase that gives a meeting's day, or empty where none can be
// had.
func (f *filed) when(t table) string {
	on, when := t.text("on"), t.text("when")
	d := read(t, "on", day)
	switch {
	case on != "" && when != "":
		f.fault(t.values["when"], t.path, "keep one of them", "its day is given twice, as a date and in words")
	case when != "":
		return when
	case !d.IsZero():
		return "on " + d.String()
	case !t.misread("on") && !t.misread("when"):
		f.fault(nil, t.path, "write on: 2027-07-10, or when: 1 day before the wedding", "the day is missing")
	}
	f.unread[t.path] = true
	return ""
}

func (f *filed) countdown(n *yaml.Node) (c milestones.Countdown) {
	t := f.table(n, "countdown", "planning from", "drop", "done", "move", "add")
	c.Wanted = true
	c.From = read(t, "planning from", day)
	c.Drop = t.words("drop")
	c.Done = t.dated("done")
	for _, one := range c.Done {
		if path := "countdown/done/" + one.Name; f.hasFault(path) {
			f.unread[path] = true
		}
	}
	t.each("move", func(key string, m *yaml.Node, path string) {
		says := strings.TrimSpace(f.scalar(m, path))
		f.unread[path] = says == "" && f.hasFault(path)
		c.Move = append(c.Move, milestones.Move{Key: key, When: milestones.Timing{Says: says}})
	})
	t.each("add", func(key string, m *yaml.Node, path string) {
		f.key(key, path)
		a := f.table(m, path, "what", "when", "takes", "after", "done", "for", "hide from", "note", "answer")
		when := a.must("when", "when: 3 days before the wedding")
		f.unread[path] = when == ""
		c.Add = append(c.Add, milestones.Milestone{Key: key, What: a.must("what", "what: Fill the welcome bags"),
			When: milestones.Timing{Says: when}, Takes: a.text("takes"), After: a.words("after"), Done: read(a, "done", day),
			For: a.words("for"), Hide: a.words("hide from"), Note: a.text("note"), Answers: a.answers()})
	})
	return c
}

func (f *filed) absence(e entry) milestones.Absence {
	t := f.table(e.node, e.path, "who", "from", "to")
	a := milestones.Absence{Who: t.must("who", "who: priya")}
	if t.must("from", "from: 2027-08-01") != "" && t.must("to", "to: 2027-08-14") != "" {
		a.From, a.To = read(t, "from", day), read(t, "to", day)
		if a.To.Before(a.From) && !f.hasFault(t.sub("to")) {
			f.fault(e.node, e.path, "exchange the two", "it ends on %s, before it begins on %s", a.To, a.From)
		}
	}
	return a
}
