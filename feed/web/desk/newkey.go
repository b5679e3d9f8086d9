package desk

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"banns/milestones"
)

// noKey stands in a form's paths for the key of what is not there yet. It is
// no key that a plan can hold.
const noKey = "+"

// slugMost is the most of a name that goes into a key.
const slugMost = 48

// numbered is a key for what has a name, or else for what it is, as a version
// brings it in.
func numbered(name, otherwise string, version int) string {
	slug := plainKey(name)
	if slug == "" {
		slug = otherwise
	}
	return strings.TrimRight(slug[:min(len(slug), slugMost)], "-") + "-" + strconv.Itoa(version)
}

// newKey is a key for something new of a list of the plan. The version that
// the edit makes is in it: so no key is ever given twice, and the choice tells
// nothing of what is hidden.
func (s *sight) newKey(list, name, otherwise string) string {
	for version := s.doc.Plan.Version + 1; ; version++ {
		if key := numbered(name, otherwise, version); !keyed(s.doc.Plan, list, key) { // unless somebody wrote it by hand
			return key
		}
	}
}

// sentBefore is the key under which what a form was sent with is in the plan
// already, for the visitor to see: it was sent twice.
func (s *sight) sentBefore(sent url.Values, list, name, otherwise string) (key string, twice bool) {
	seen, _ := strconv.Atoi(sent.Get("seen"))
	key = numbered(name, otherwise, seen+1)
	return key, keyed(s.plan, list, key)
}

// keyFor is newKey for what a form was sent with; sent twice, it adds one.
func (s *sight) keyFor(sent url.Values, list, name, otherwise string) string {
	if key, twice := s.sentBefore(sent, list, name, otherwise); twice {
		return key
	}
	return s.newKey(list, name, otherwise)
}

// keyed reports whether a plan has something of that key in a list.
func keyed(p *milestones.Plan, list, key string) bool {
	_, there := named(p)[strings.TrimSuffix(list, "/add")+"/"+key]
	return there
}

// saveNew keeps something new of a list of the plan, which one is what it is
// called where its name gives no key, and sends the browser on to it.
func (d *Desk) saveNew(w http.ResponseWriter, r *http.Request, list, one, to string, ask func(*sight, string) form, show func(int, form) error) error {
	if err := r.ParseForm(); err != nil {
		return badForm(w, r, err)
	}
	what := list + "/" + noKey + "/what"
	if strings.TrimSpace(r.PostForm.Get(what)) == "" {
		f := ask(sightOf(r), noKey)
		f.sets(r.PostForm)
		f.fault(what, "it has no name yet", "write what it is")
		return show(http.StatusUnprocessableEntity, f)
	}
	key := sightOf(r).keyFor(r.PostForm, list, r.PostForm.Get(what), one)
	swap := strings.NewReplacer(list+"/"+noKey+"/", list+"/"+key+"/")
	sent := url.Values{}
	for path, values := range r.PostForm {
		sent[swap.Replace(path)] = values
	}
	r.PostForm = sent
	f := ask(sightOf(r), key)
	return d.save(w, r, &f, to+key, func(status int) error {
		f.rename(list+"/"+key+"/", list+"/"+noKey+"/")
		return show(status, f)
	})
}

// rename has the form ask for places of a list under another key.
func (f *form) rename(was, is string) {
	for n := range f.Fields {
		one := &f.Fields[n]
		id := one.ID()
		one.Path = strings.Replace(one.Path, was, is, 1)
		for k := range f.Faults {
			if f.Faults[k].ID == id {
				f.Faults[k].ID = one.ID()
			}
		}
	}
}
