package desk

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"banns/milestones"
	"banns/store"
)

// sets are what was sent, for the store. What only belongs together is set
// together: a price is one sum or so much a head, and a new line is nothing
// until something is written in it.
func (f *agreementForm) sets() []store.Set {
	var all []store.Set
	for n := range f.Fields {
		one := &f.Fields[n]
		rel := strings.TrimPrefix(one.Path, f.base+"/")
		part, rest, _ := strings.Cut(rel, "/")
		key, _, _ := strings.Cut(rest, "/")
		switch {
		case !f.sent.Has(one.Path), part == "price", part == "postpone", part == "named":
		case strings.HasPrefix(key, "+") && f.blank(milestones.List(part), key):
		case rel == "signed" && f.now.Key != "": // a step, once it is in the plan
		case one.Kind == listKind && slices.Equal(f.named(one).Value, f.s.doc.At(one.Path)): // it may stand as one text
		default:
			all = append(all, f.named(one))
		}
	}
	all = append(all, f.priceSets()...)
	all = append(all, f.postponeSets()...)
	all = append(all, f.dateSets()...)
	if f.now.Key == "" {
		standing := milestones.Quoted
		if strings.TrimSpace(f.field("signed").Value) != "" {
			standing = milestones.Signed
		}
		all = append(all, store.Set{Path: f.base + "/standing", Value: []string{string(standing)}})
	}
	return all
}

// named is the set of a field, with people by their keys.
func (f *agreementForm) named(one *field) store.Set {
	set := one.set()
	if listsPeople(one.Path) {
		for n, word := range set.Value {
			set.Value[n] = keyOfName(f.s.plan, word)
		}
	}
	return set
}

// keyOfName is the key of whoever goes by a name, or the word itself: a key
// already, a group or a part, or nobody's.
func keyOfName(p *milestones.Plan, word string) string {
	folded, found := strings.ToLower(word), ""
	for _, who := range p.People {
		first, _, _ := strings.Cut(who.Name, " ")
		switch {
		case who.Key == folded, slices.Contains(who.Groups, word):
			return strings.ToLower(word)
		case strings.EqualFold(who.Name, word):
			return who.Key
		case strings.EqualFold(first, word) && found == "":
			found = who.Key
		case strings.EqualFold(first, word): // two of that name
			found = word
		}
	}
	if found != "" {
		return found
	}
	return folded
}

// heads are the places of a price by the head.
var heads = []string{"each", "count", "at least", "at most", "service", "tax", "tax on"}

func (f *agreementForm) priceSets() []store.Set {
	sum := f.base + "/price"
	if !f.sent.Has(sum) {
		return nil
	}
	var byHead []store.Set
	some := false
	for _, h := range heads {
		one := f.field("price/" + h)
		set := one.set()
		if h == "service" || h == "tax" {
			set.Value = percent(set.Value)
		}
		if h != "tax on" {
			some = some || len(set.Value) > 0
		}
		byHead = append(byHead, set)
	}
	whole := store.Set{Path: sum, Value: f.field("price").set().Value}
	inOne := len(f.s.doc.At(sum)) == 1
	switch {
	case len(whole.Value) > 0 && some:
		f.fault(sum, "there is one sum, and a price by the head", "take one of them out")
		return nil
	case len(whole.Value) > 0 || !some && inOne:
		return []store.Set{whole}
	case !some: // nothing, and nothing before, or a price by the head that was emptied
		return []store.Set{{Path: sum}}
	case inOne:
		return append([]store.Set{{Path: sum}}, byHead...)
	}
	return byHead
}

// percent adds the sign that a share is written with.
func percent(value []string) []string {
	for n, v := range value {
		if _, err := strconv.ParseFloat(v, 64); err == nil {
			value[n] = v + "%"
		}
	}
	return value
}

// postponeSets write what the agreement says about moving: in one piece while
// there is nothing beside it.
func (f *agreementForm) postponeSets() []store.Set {
	whole, says := f.base+"/postpone", f.field("postpone/says")
	if !f.sent.Has(says.Path) {
		return nil
	}
	var all []store.Set
	more := false
	for n := range f.Fields {
		one := &f.Fields[n]
		if strings.HasPrefix(one.Path, whole+"/") && f.sent.Has(one.Path) {
			all = append(all, f.named(one))
			more = more || one != says && strings.TrimSpace(one.Value) != ""
		}
	}
	inOne := len(f.s.doc.At(whole)) == 1
	switch {
	case strings.TrimSpace(says.Value) == "" && !more:
		return []store.Set{{Path: whole}}
	case !more && (inOne || len(f.s.doc.At(says.Path)) == 0):
		return []store.Set{{Path: whole, Value: says.set().Value}}
	}
	return all
}

// dateSets name the days that lines count from.
func (f *agreementForm) dateSets() []store.Set {
	all := map[string]store.Set{}
	for n := 1; f.sent.Has(fmt.Sprintf("%s/named/%d/name", f.base, n)); n++ {
		get := func(part string) string {
			return strings.TrimSpace(f.sent.Get(fmt.Sprintf("%s/named/%d/%s", f.base, n, part)))
		}
		was, name, date := get("was"), get("name"), get("date")
		if strings.Contains(name, "/") {
			f.fault(fmt.Sprintf("%s/named/%d/name", f.base, n), "a name has no stroke in it", "write it in words, as final invoice")
			continue
		}
		if date == "" {
			date = "open"
		}
		if _, taken := all[was]; was != "" && was != name && !taken {
			all[was] = store.Set{Path: f.base + "/dates/" + was}
		}
		if name != "" {
			all[name] = store.Set{Path: f.base + "/dates/" + name, Value: []string{date}}
		}
	}
	var sets []store.Set
	for _, name := range slices.Sorted(maps.Keys(all)) {
		sets = append(sets, all[name])
	}
	return sets
}
