package feed

import (
	"fmt"
	"strings"

	"banns/milestones"
)

// concernedMost is how many of those whom a change concerns are named.
const concernedMost = 5

// Concerns says whom a change from one plan to another concerns besides the
// couple and the planners, who see everything but what is hidden from them;
// empty where it is nobody else.
func (c *Change) Concerns(was, is *milestones.Plan) string {
	called := func(key string) (*milestones.Person, bool) {
		if who, ok := is.Person(key); ok {
			return who, true
		}
		return was.Person(key)
	}
	var names, hidden, says []string
	for _, key := range c.For {
		if who, ok := called(key); ok && who.Part != milestones.Couple && who.Part != milestones.Planner {
			names = append(names, who.Name)
		}
	}
	for _, key := range c.Hidden {
		if who, ok := called(key); ok {
			hidden = append(hidden, who.Name)
		}
	}
	switch {
	case len(c.For) > 1 && len(c.For) >= len(is.People):
		says = append(says, "for everybody")
	case len(names) > concernedMost+1:
		says = append(says, fmt.Sprintf("for %s and %d more", strings.Join(names[:concernedMost], ", "), len(names)-concernedMost))
	case len(names) > 0:
		says = append(says, "for "+strings.Join(names, ", "))
	}
	if len(hidden) > 0 {
		says = append(says, "hidden from "+strings.Join(hidden, ", "))
	}
	return strings.Join(says, "; ")
}

// WithWedding reports whether c counts what moved with the wedding: what
// matters of it is how far.
func (c *Change) WithWedding() bool {
	return c.Each != nil && c.ID == "" && c.Agreement == "" && c.Aspects[0] == milestones.AspectMoved
}
