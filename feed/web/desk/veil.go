package desk

import (
	"errors"
	"slices"
	"strings"

	"banns/store"
)

// veiled is an error of the store as the visitor may read it beside a form:
// what it says of things that are hidden from them is taken out, and so are
// their names where it offers any.
func (s *sight) veiled(err error, f *form) error {
	var faults store.Faults
	names, places := s.hidden()
	if !errors.As(err, &faults) || names == nil {
		return err
	}
	tells := func(text string) bool {
		return slices.ContainsFunc(places, func(at string) bool { return strings.Contains(text, at) })
	}
	all := slices.Clone(faults)
	for n := range all {
		one := &all[n]
		offer, offers := strings.CutPrefix(one.Mend, "did you mean ")
		offer = strings.ToLower(strings.Trim(offer[strings.LastIndex(offer, "/")+1:], `"?`))
		switch {
		case tells(one.Says), tells(one.Path) && f.of(one.Path) < 0:
			one.Path, one.Says, one.Mend = "", "something else in the plan counts from this", "ask whoever plans the wedding with you"
		case tells(one.Mend), offers && slices.ContainsFunc(names, func(name string) bool { return strings.Contains(name, offer) }):
			one.Mend = ""
		}
	}
	return all
}

// hidden are the names of what is hidden from the visitor, and how its places
// in the plan begin.
func (s *sight) hidden() (names, places []string) {
	who, ok := s.doc.Plan.Person(s.key)
	if !ok {
		return nil, nil
	}
	for i := range s.items {
		one := &s.items[i]
		if !who.Named(one.Hide) {
			continue
		}
		in, key, _ := strings.Cut(one.ID, "/")
		names = append(names, strings.ToLower(one.Title+" "+key+" "+one.Agreement))
		places = append(places, one.ID)
		switch {
		case one.Agreement != "":
			places = append(places, "agreements/"+one.Agreement)
		case in == "countdown":
			places = append(places, "countdown/add/"+key)
		}
	}
	return names, places
}
