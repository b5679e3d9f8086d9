package store

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"banns/milestones"
)

// Keeping is what the newest version knew of the world and a document that is
// saved over it did not say.
type Keeping struct {
	Kept []Fact
	Lost []Fact // what could not be kept, since the plan says something else there now
}

// Fact is something that was done, paid, given or answered.
type Fact struct {
	Of   string // what it is about: Hollow Oak Table, “25% on signing”
	Says string // paid on Fri 2 Oct 2026
}

// prefers tells which of two facts holds where both have one.
type prefers int

const (
	fileWins  prefers = iota // the file was written by somebody
	storeWins                // the file is an old version: what came after is news to it
)

// unseen tells of what stands at a path of a document that whoever wrote it
// had not seen what the newest version knows there: leaving it out means
// nothing.
type unseen func(path string) bool

func allUnseen(string) bool { return true }

// unseen tells what the writer of d, who began from was, had not seen: lines
// that name no key and say what lines of was say, for they were written anew
// and not taken from an export. now is d's plan with all keys.
func (d *Document) unseen(now, was *milestones.Plan) unseen {
	anew := map[string]bool{}
	for i := range now.Agreements {
		a := &now.Agreements[i]
		before, ok := was.Agreement(a.Key)
		if !ok {
			continue
		}
		said := map[string]subject{}
		for _, list := range lists {
			for _, s := range subjects(before, list) {
				said[s.key] = s
			}
		}
		for _, list := range lists {
			for n, s := range subjects(a, list) {
				old, ok := said[s.key]
				anew[fmt.Sprintf("agreements/%s/%s[%d]", a.Key, list, n+1)] = ok && (old.whole == s.whole || old.label == s.label)
			}
		}
		for n, l := range d.Plan.Agreements[i].Lines() {
			if l.Keyed {
				delete(anew, a.Paths()[n])
			}
		}
	}
	return func(path string) bool { return anew[path] }
}

// keeping is d with the facts of last that it does not know of. What cannot
// stand in it is lost, and said to be.
func (d *Document) keeping(last *Document, wins prefers, blind unseen) (*Document, Keeping, error) {
	text, err := d.Text()
	if err != nil {
		return nil, Keeping{}, err
	}
	base, err := ReadPlan(d.File, text)
	if err != nil || last.root == nil {
		return base, Keeping{}, err
	}
	lost := map[string]bool{}
	for {
		next, facts, err := base.with(last, wins, blind, lost)
		var faults Faults
		if !errors.As(err, &faults) {
			return next, split(facts, lost), err
		}
		before := len(lost)
		for _, f := range facts {
			if slices.ContainsFunc(faults, func(one Fault) bool { return strings.HasPrefix(one.Path+"/", f.path+"/") }) {
				lost[f.name()] = true
			}
		}
		if len(lost) == before { // no fault is a fact's own: none of them can stay
			for _, f := range facts {
				lost[f.name()] = true
			}
		}
		if len(lost) == before {
			return nil, Keeping{}, err
		}
	}
}

func split(facts []fact, lost map[string]bool) (k Keeping) {
	for _, f := range facts {
		if lost[f.name()] {
			k.Lost = append(k.Lost, f.Fact)
		} else {
			k.Kept = append(k.Kept, f.Fact)
		}
	}
	return k
}
