package desk

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"banns/store"
)

// noKey stands in a form's paths for the key of what is not there yet. It is
// no key that a plan can hold.
const noKey = "+"

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
	key := freshKey(r.PostForm, what, one)
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
