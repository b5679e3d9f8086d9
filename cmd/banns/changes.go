package main

import (
	"fmt"
	"strings"

	"banns/feed"
	"banns/milestones"
)

// changeJSON is one change; see historyCmd.
type changeJSON struct {
	Item      *string             `json:"item"`
	Agreement *string             `json:"agreement"`
	Aspects   []milestones.Aspect `json:"aspects"`
	Says      string              `json:"says"`
	For       []string            `json:"for"`
	Hidden    []string            `json:"hidden_from"`
	Each      []changeJSON        `json:"each"`
}

func newChanges(all []feed.Change, who string) []changeJSON {
	out := []changeJSON{}
	for _, c := range all {
		one := changeJSON{text(c.ID), text(c.Agreement), c.Aspects, c.Says, c.For, c.Hidden, newChanges(c.Each, who)}
		if who != "" {
			one.For = []string{who}
		}
		if one.For == nil {
			one.For = []string{}
		}
		if one.Hidden == nil {
			one.Hidden = []string{}
		}
		out = append(out, one)
	}
	return out
}

// How much of a list of changes is printed.
const (
	changesAll   = 0  // no end
	changesShown = 12 // after a command that did something else
)

// namesShown is how many of those whom a change concerns are named.
const namesShown = 5

// eachShown is how many of those that one change counts are printed under it.
const eachShown = 12

// changes prints what is otherwise, with whom it concerns; of no more than
// most, unless most is changesAll. It returns how many are left.
func (p printer) changes(is, was *milestones.Plan, all []feed.Change, most int) (left int) {
	if len(all) == 0 {
		fmt.Fprintln(p.out, "  Nothing changed.")
		return 0
	}
	for n, c := range all {
		if most != changesAll && n == most {
			return len(all) - n
		}
		fmt.Fprintf(p.out, "  %s.%s\n", c.Says, p.concerned(is, was, c))
		if moved(c) {
			continue
		}
		for n, one := range c.Each {
			if n == eachShown {
				fmt.Fprintf(p.out, "      and %d more\n", len(c.Each)-n)
				break
			}
			fmt.Fprintf(p.out, "      %s\n", one.Says)
		}
	}
	return 0
}

// moved reports whether c counts what moved with the wedding: what matters is
// how far, and compare --each tells the rest.
func moved(c feed.Change) bool {
	return c.Each != nil && c.ID == "" && c.Agreement == "" && c.Aspects[0] == milestones.AspectMoved
}

// concerned says whom a change concerns besides the couple and the planners,
// who see everything but what is hidden from them.
func (p printer) concerned(is, was *milestones.Plan, c feed.Change) string {
	var names, hidden []string
	for _, key := range c.For {
		if who := somewhere(is, was, key); who != nil && who.Part != milestones.Couple && who.Part != milestones.Planner {
			names = append(names, who.Name)
		}
	}
	for _, key := range c.Hidden {
		if who := somewhere(is, was, key); who != nil {
			hidden = append(hidden, who.Name)
		}
	}
	var says []string
	switch {
	case len(c.For) > 1 && len(c.For) >= len(is.People):
		says = append(says, "for everybody")
	case len(names) > namesShown+1:
		says = append(says, fmt.Sprintf("for %s and %d more", strings.Join(names[:namesShown], ", "), len(names)-namesShown))
	case len(names) > 0:
		says = append(says, "for "+strings.Join(names, ", "))
	}
	if len(hidden) > 0 {
		says = append(says, "hidden from "+strings.Join(hidden, ", "))
	}
	if len(says) == 0 {
		return ""
	}
	return p.paint(quiet, " ["+strings.Join(says, "; ")+"]")
}

func somewhere(is, was *milestones.Plan, key string) *milestones.Person {
	if who, ok := is.Person(key); ok {
		return who
	}
	who, _ := was.Person(key)
	return who
}
