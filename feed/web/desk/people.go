package desk

import (
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
)

var peopleTemplate = page("people.html", "reach.html")

// peoplePage lists everybody in the plan.
type peoplePage struct {
	pageFrame
	Parts   []peopleOfPart
	Left    []string // lasting ids of those who have left the plan, and whose link still opens
	Planner bool
}

// peopleOfPart are those who have one part.
type peopleOfPart struct {
	Name   string
	People []personRow
}

type personRow struct {
	Key, Name string
	You       bool
	Groups    string
	Link      linkState
	Reach     reach
}

// partNames is what a part is called: over several people, and of one.
var partNames = map[milestones.Part]struct{ many, one string }{
	milestones.Couple:    {"The couple", "One of the couple"},
	milestones.Planner:   {"Planner", "Planner"},
	milestones.Family:    {"Family", "Family"},
	milestones.Attendant: {"Attendants", "Attendant"},
	milestones.Vendor:    {"At the vendors", "At a vendor"},
	milestones.Officiant: {"Officiant", "Officiant"},
	milestones.Helper:    {"Helpers", "Helper"},
}

// people answers GET of the people.
func (d *Desk) people(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	links, err := d.linkStates(r)
	if err != nil {
		return err
	}
	p := peoplePage{pageFrame: newPageFrame(r, "People", "people"), Planner: s.planner()}
	for _, part := range milestones.Parts {
		of := peopleOfPart{Name: partNames[part].many}
		for _, who := range s.plan.People {
			if who.Part == part {
				of.People = append(of.People, personRow{who.Key, who.Name, who.Key == s.key, strings.Join(who.Groups, ", "),
					stateOf(links, who.ID()), reachOf(&who)})
			}
		}
		if of.People != nil {
			p.Parts = append(p.Parts, of)
		}
	}
	if s.planner() {
		for id := range links {
			if !slices.ContainsFunc(s.plan.People, func(who milestones.Person) bool { return who.ID() == id }) {
				p.Left = append(p.Left, id)
			}
		}
		slices.Sort(p.Left)
	}
	return web.Show(w, r, http.StatusOK, peopleTemplate, p)
}

// reach is how somebody is reached.
type reach struct {
	Phone, Email string
	Call, Write  template.URL // of schemes that are ours to vouch for
}

func reachOf(who *milestones.Person) reach {
	at := reach{Phone: who.Phone, Email: who.Email}
	if number := dialled(who.Phone); number != "" {
		at.Call = template.URL("tel:" + number) // RFC 3966
	}
	if who.Email != "" {
		at.Write = template.URL("mailto:" + url.PathEscape(who.Email)) // RFC 6068
	}
	return at
}

// dialled is a telephone number as a phone dials it, or empty.
func dialled(phone string) string {
	digits := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, phone)
	if digits != "" && strings.HasPrefix(strings.TrimSpace(phone), "+") {
		return "+" + digits
	}
	return digits
}

// somebody is the person that r names, as the visitor sees them.
func (s *sight) somebody(key string) (*milestones.Person, bool) { return s.plan.Person(key) }

// mayOpen reports whether the link of somebody is the visitor's to have. A
// partner has their own alone: another's opens whatever may come to be hidden
// from them, and whether it is offered would tell that something is.
func (s *sight) mayOpen(who *milestones.Person) bool { return s.planner() || who.Key == s.key }

// ids are the items that entries are of.
func ids(entries []feed.Entry) map[string]bool {
	all := make(map[string]bool, len(entries))
	for i := range entries {
		all[entries[i].ID] = true
	}
	return all
}
