package main

import (
	"fmt"

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
		fmt.Fprintf(p.out, "  %s.%s\n", c.Says, p.concerned(was, is, c))
		if c.WithWedding() {
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

// concerned says whom a change concerns.
func (p printer) concerned(was, is *milestones.Plan, c feed.Change) string {
	if says := c.Concerns(was, is); says != "" {
		return p.paint(quiet, " ["+says+"]")
	}
	return ""
}
