package desk

import (
	"fmt"
	"slices"
	"strings"

	"banns/milestones"
	"banns/store"
)

// mentions are the places of a plan that name one person.
type mentions struct {
	lists []mention // "for" and "hide from"
	pays  []mention
	asked []mention // as the contact at a vendor
	away  []int     // places in its list, from 1
}

type mention struct {
	path string
	what string   // in words; empty where nothing is to be said of it
	list []string // everybody whom the place names
}

func mentionsOf(p *milestones.Plan, key string) mentions {
	var all mentions
	list := func(path, what string, names []string) {
		if slices.Contains(names, key) {
			all.lists = append(all.lists, mention{path, what, names})
		}
	}
	both := func(path, what string, asked, hidden []string) {
		list(path+"/for", what, asked)
		list(path+"/hide from", "", hidden)
	}
	for i := range p.Agreements {
		a := &p.Agreements[i]
		at := "agreements/" + a.Key
		if a.Payer == key {
			all.pays = append(all.pays, mention{path: at + "/payer", what: a.With})
		}
		if a.Contact == key {
			all.asked = append(all.asked, mention{path: at + "/contact", what: a.With})
		}
		list(at+"/hide from", "", a.Hide)
		paths := a.Paths()
		for n, l := range a.Lines() {
			in, _, _ := strings.Cut(paths[n], "[")
			both(in+"/"+l.Key, a.With+": "+l.Says, l.For, l.Hide)
		}
		if a.Postpone != nil {
			both(at+"/postpone", a.With+": "+a.Postpone.Says, a.Postpone.For, a.Postpone.Hide)
		}
	}
	for _, m := range p.Appointments {
		both("appointments/"+m.Key, m.What, m.For, m.Hide)
	}
	for _, m := range p.Occasions {
		both("occasions/"+m.Key, m.What, m.For, m.Hide)
	}
	for _, m := range p.Countdown.Add {
		both("countdown/add/"+m.Key, m.What, m.For, m.Hide)
	}
	for n, a := range p.Away {
		if a.Who == key {
			all.away = append(all.away, n+1)
		}
	}
	return all
}

// says tells what becomes of what somebody was named in.
func (m mentions) says() []string {
	var names, all []string
	for _, one := range m.lists {
		if one.what != "" {
			names = append(names, one.what)
		}
	}
	if names != nil {
		all = append(all, "They are asked no more: "+strings.Join(names, "; ")+".")
	}
	for _, one := range m.pays {
		all = append(all, "The payments of "+one.what+" are the couple’s from then on.")
	}
	for _, one := range m.asked {
		all = append(all, "Nobody at "+one.what+" gets its dates any more, until you name somebody there.")
	}
	return all
}

// sets take the person with that key out of all places.
func (m mentions) sets(key string) []store.Set {
	var all []store.Set
	for _, one := range m.lists {
		rest := slices.DeleteFunc(slices.Clone(one.list), func(name string) bool { return name == key })
		all = append(all, store.Set{Path: one.path, Value: rest, List: true})
	}
	for _, one := range append(m.pays, m.asked...) {
		all = append(all, store.Set{Path: one.path})
	}
	for _, n := range slices.Backward(m.away) { // from the end, so that places stay what they are
		all = append(all, store.Set{Path: fmt.Sprintf("away/%d", n)})
	}
	return all
}
