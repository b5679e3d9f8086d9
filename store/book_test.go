package store_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// book is a small wedding that is edited at random. People go by the key they
// had first, whatever they are called by now.
type book struct {
	Title    string
	Date     string // empty: open
	People   []guest
	Pacts    []pact
	Meetings []meeting
}

type guest struct{ ID, Key, Was, Name, Part string }

// pact is an agreement.
type pact struct {
	Key, Standing, Payer, Contact string
	Lines                         []clause
}

// clause is a line of an agreement. Its tag stands in its title for good.
type clause struct {
	List, Tag, Key string
	Words, When    string
	Sum            int
	For, Hide      []string
	Done, Owed     bool
}

// meeting is an appointment, or an occasion where it hangs on the wedding.
type meeting struct {
	Tag, Words, When string
	For, Hide        []string
}

func newBook() *book {
	return &book{
		Title: "Ann and Bo", Date: "2027-09-18",
		People: []guest{
			{ID: "ann", Key: "ann", Name: "The ann", Part: "couple"}, {ID: "bo", Key: "bo", Name: "The bo", Part: "couple"},
			{ID: "odile", Key: "odile", Name: "The odile", Part: "planner"},
			{ID: "pat", Key: "pat", Name: "The pat", Part: "family"},
			{ID: "vic", Key: "vic", Name: "The vic", Part: "vendor"}, {ID: "rue", Key: "rue", Name: "The rue", Part: "attendant"}, {ID: "kit", Key: "kit", Name: "The kit", Part: "helper"},
		},
		Pacts: []pact{
			{Key: "hall", Standing: "signed", Payer: "pat", Contact: "vic", Lines: []clause{
				{List: "pay", Tag: "tag1", Sum: 100, When: "90 days before the wedding"},
				{List: "change", Tag: "tag2", Words: "chairs", When: "14 days before the wedding by 17:00", For: []string{"rue"}},
				{List: "change", Tag: "tag3", Words: "plates", When: "by 2027-05-03", Hide: []string{"bo"}},
				{List: "papers", Tag: "tag4", Words: "floor plan", When: "30 days before the wedding"},
			}},
			{Key: "film", Standing: "quoted", Contact: "vic", Lines: []clause{
				{List: "pay", Tag: "tag5", Sum: 50, When: "on signing"},
				{List: "change", Tag: "tag6", Words: "songs", When: "21 days before the wedding", For: []string{"kit"}},
				{List: "papers", Tag: "tag7", Words: "permit", When: "10 days after signing", Owed: true},
			}},
		},
		Meetings: []meeting{
			{Tag: "tag8", Words: "fitting", When: `on: 2027-02-10, at: "11:00"`, For: []string{"rue"}, Hide: []string{"bo"}},
			{Tag: "tag9", Words: "rehearsal", When: `when: 1 day before the wedding, at: "17:30", until: "18:30"`, For: []string{"rue", "kit"}},
		},
	}
}

// copied is b once more, with nothing shared.
func (b *book) copied() *book {
	var c book
	text, err := json.Marshal(b)
	if err == nil {
		err = json.Unmarshal(text, &c)
	}
	if err != nil {
		panic(err) // texts alone
	}
	return &c
}

// person is whoever had that key first, where they are in the plan.
func (b *book) person(id string) *guest {
	for i := range b.People {
		if b.People[i].ID == id {
			return &b.People[i]
		}
	}
	return nil
}

// sees is the table of who sees what, as the design has it.
func (b *book) sees(who *guest, p *pact, l *clause) bool {
	boss := who.Part == "couple" || who.Part == "planner"
	pays := p.Payer == who.ID || p.Payer == "" && who.Part == "couple"
	named := slices.Contains(l.For, who.ID)
	switch {
	case slices.Contains(l.Hide, who.ID):
		return false
	case p.Standing == "quoted":
		return boss
	case p.Standing == "replaced":
		return l.Owed && (who.Part == "planner" || pays)
	case l.List == "cancel":
		return boss || pays || named
	case l.List == "pay":
		return boss || pays || named || p.Contact == who.ID
	}
	return boss || named || p.Contact == who.ID
}

// meets reports who sees m.
func (b *book) meets(who *guest, m *meeting) bool {
	return !slices.Contains(m.Hide, who.ID) && (who.Part == "couple" || who.Part == "planner" || slices.Contains(m.For, who.ID))
}

// whoSees are those who see l of p, by their first keys.
func (b *book) whoSees(p *pact, l *clause) map[string]bool {
	all := map[string]bool{}
	for i := range b.People {
		all[b.People[i].ID] = b.sees(&b.People[i], p, l)
	}
	return all
}

func (b *book) whoMeets(m *meeting) map[string]bool {
	all := map[string]bool{}
	for i := range b.People {
		all[b.People[i].ID] = b.meets(&b.People[i], m)
	}
	return all
}

// keys are people as the plan calls them; who is not in it is left out.
func (b *book) keys(ids []string) string {
	var keys []string
	for _, id := range ids {
		if p := b.person(id); p != nil {
			keys = append(keys, p.Key)
		}
	}
	return "[" + strings.Join(keys, ", ") + "]"
}

// text is the plan file as made from a version, with keys or without.
func (b *book) text(keyed bool, version int) string {
	var f strings.Builder
	date := b.Date
	if date == "" {
		date = "open"
	}
	fmt.Fprintf(&f, "banns: 1\nwedding: {version: %d, title: %s, date: %s, start: \"16:30\", zone: America/Detroit, region: US-MI, currency: USD}\npeople:\n", version, b.Title, date)
	for _, p := range b.People {
		was := ""
		if p.Was != "" {
			was = ", was: " + p.Was
		}
		fmt.Fprintf(&f, "  %s: {name: %s, part: %s%s}\n", p.Key, p.Name, p.Part, was)
	}
	f.WriteString("agreements:\n")
	for _, p := range b.Pacts {
		b.pact(&f, &p, keyed)
	}
	f.WriteString("appointments:\n")
	for _, m := range b.Meetings {
		fmt.Fprintf(&f, "  %s: {what: %s %s, %s, for: %s, hide from: %s}\n", m.Tag, m.Words, m.Tag, m.When, b.keys(m.For), b.keys(m.Hide))
	}
	return f.String()
}

func (b *book) pact(f *strings.Builder, p *pact, keyed bool) {
	fmt.Fprintf(f, "  %s:\n    with: The %s\n    standing: %s\n    price: \"900.00\"\n", p.Key, p.Key, p.Standing)
	if p.Standing != "quoted" {
		f.WriteString("    signed: 2026-12-01\n")
	}
	if p.Payer != "" {
		fmt.Fprintf(f, "    payer: %s\n", b.person(p.Payer).Key)
	}
	fmt.Fprintf(f, "    contact: %s\n", b.person(p.Contact).Key)
	for _, list := range []string{"pay", "cancel", "change", "papers"} {
		head := "    " + list + ":\n"
		for _, l := range p.Lines {
			if l.List == list {
				f.WriteString(head + "      - {" + b.clause(&l, keyed) + "}\n")
				head = ""
			}
		}
	}
}

func (b *book) clause(l *clause, keyed bool) string {
	s := ""
	if keyed && l.Key != "" {
		s = "key: " + l.Key + ", "
	}
	switch l.List {
	case "pay":
		s += fmt.Sprintf("says: %d %s, what: %s", l.Sum, l.When, l.title())
	case "cancel":
		s += fmt.Sprintf("says: 50%% until %s, what: %s", l.When, l.title())
	default:
		s += fmt.Sprintf("says: %s %s", l.title(), l.When)
	}
	s += ", for: " + b.keys(l.For) + ", hide from: " + b.keys(l.Hide)
	if l.Done {
		s += ", done: 2027-01-10"
	}
	if l.Owed {
		s += ", owed: yes"
	}
	return s
}

func (l *clause) title() string { return strings.TrimSpace(l.Words + " " + l.Tag) }
