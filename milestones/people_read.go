package milestones

import (
	"fmt"
	"slices"
)

// people refuses names that stand for nobody.
func (rd *planReader) people() {
	r := rd.roll()
	for i := range rd.plan.Agreements {
		a := &rd.plan.Agreements[i]
		path := "agreements/" + a.Key
		r.one(a.Payer, path+"/payer")
		r.one(a.Contact, path+"/contact")
		r.hidden(a.Hide, path)
		a.lines(func(l *Line, in string, j int) {
			r.asked(l.For, linePath(a, in, j))
			r.hidden(l.Hide, linePath(a, in, j))
		})
	}
	for _, m := range rd.plan.meetings() {
		r.asked(m.For, m.path())
		r.hidden(m.Hide, m.path())
	}
	for _, m := range rd.plan.Countdown.Add {
		r.asked(m.For, "countdown/add/"+m.Key)
		r.hidden(m.Hide, "countdown/add/"+m.Key)
	}
	for i, away := range rd.plan.Away {
		r.one(away.Who, fmt.Sprintf("away[%d]/who", i+1))
	}
}

// roll is who can be named: people by key, and parts and groups too.
type roll struct {
	*planReader
	keys, all []string
}

func (rd *planReader) roll() roll {
	r := roll{planReader: rd, all: []string{Everybody}}
	for _, part := range Parts {
		r.all = append(r.all, string(part))
	}
	for _, p := range rd.plan.People {
		r.all = append(append(r.all, p.Key), p.Groups...)
		r.keys = append(r.keys, p.Key)
	}
	return r
}

// one refuses a key that is nobody's.
func (r roll) one(key, path string) {
	if key != "" && !slices.Contains(r.keys, key) {
		r.fault(path, Nearest(key, r.keys), "nobody under people has the key %q", key)
	}
}

// asked refuses a name that is close to a known one; another may be a group
// that has nobody in it yet.
func (r roll) asked(names []string, path string) {
	path += "/for"
	for _, n := range names {
		switch hint := Nearest(n, r.all); {
		case slices.Contains(r.all, n):
		case hint != "":
			r.nobody(n, path, hint)
		default:
			r.notes = append(r.notes, Note{path, fmt.Sprintf("nobody is called %q or is in a group of that name, so nobody is asked by it", n)})
		}
	}
}

// hidden refuses every unknown name: it would hide nothing.
func (r roll) hidden(names []string, path string) {
	for _, n := range names {
		if !slices.Contains(r.all, n) {
			r.nobody(n, path+"/hide from", Nearest(n, r.all))
		}
	}
}

func (r roll) nobody(n, path, hint string) {
	r.fault(path, hint, "%q is no person, group or part here", n)
}
