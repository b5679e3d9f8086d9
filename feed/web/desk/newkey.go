package desk

import (
	"net/url"
	"strconv"
	"strings"

	"banns/store"
)

// newKey stands in a form's paths for the key of what is not there yet. It is
// no key that a plan can hold.
const newKey = "+"

// slugMost is the most of a name that goes into a key.
const slugMost = 48

// freshKey is a key for what is called as the form says under path. The
// version that the edit makes is in it: so no key is ever given twice, the
// choice tells nothing of what is hidden, and a form sent twice adds one.
func freshKey(sent url.Values, path, otherwise string) string {
	seen, _ := strconv.Atoi(sent.Get("seen"))
	slug := store.Slug(sent.Get(path), otherwise)
	return strings.TrimRight(slug[:min(len(slug), slugMost)], "-") + "-" + strconv.Itoa(seen+1)
}

// enter has what was sent about something new stand under its key.
func enter(sent url.Values, list, key string) {
	for path, values := range sent {
		if rest, ok := strings.CutPrefix(path, list+"/"+newKey+"/"); ok {
			sent[list+"/"+key+"/"+rest] = values
			delete(sent, path)
		}
	}
}

// leave has a form that was refused ask under the new key again.
func (f *form) leave(list, key string) {
	back := func(old string) (id, path string) {
		path = strings.Replace(old, list+"/"+key+"/", list+"/"+newKey+"/", 1)
		return field{Path: path}.ID(), path
	}
	for n := range f.Fields {
		one := &f.Fields[n]
		was := one.ID()
		id, path := back(one.Path)
		one.Path = path
		for k := range f.Faults {
			if f.Faults[k].ID == was {
				f.Faults[k].ID = id
			}
		}
	}
}
