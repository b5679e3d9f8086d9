package conflicts

import (
	"strings"

	"banns/milestones"
)

// atPlace reports whether e is at the very place of the wedding.
func (s *Scales) atPlace(e *Event) bool {
	return samePlace(e.Place, s.place) || weightOf(e.Kind).effects[atDoor][0] != Streets && samePoint(e.Place, s.place) // a street's event goes past
}

// samePlace reports whether two places go by one name. A calendar's LOCATION
// has the address behind the name, after a comma (RFC 5545 3.8.1.7 has it so
// by its examples): the name decides, unless what is behind it is elsewhere.
func samePlace(a, b milestones.Place) bool {
	nameA, behindA := nameOf(a)
	nameB, behindB := nameOf(b)
	switch {
	case nameA == "" || !strings.EqualFold(nameA, nameB):
		return false
	case a.At != nil && b.At != nil:
		return distance(*a.At, *b.At) <= doorKm
	case a.City != "" && b.City != "":
		return strings.EqualFold(a.City, b.City)
	}
	return !elsewhere(behindA, b.City) && !elsewhere(behindB, a.City)
}

// nameOf is the name of a place, and the address that stands behind it. It is
// asked of every event, so that a name is made anew only where it has to be.
func nameOf(p milestones.Place) (name, behind string) {
	name, behind, _ = strings.Cut(p.Name, ",")
	if name = strings.TrimSpace(name); strings.ContainsAny(name, "\t\n\u00a0") || strings.Contains(name, "  ") {
		name = strings.Join(strings.Fields(name), " ")
	}
	return name, behind
}

// elsewhere reports whether an address is of another town than city. One with
// nothing but a street does not say.
func elsewhere(address, city string) bool {
	if city == "" || !strings.Contains(address, ",") {
		return false
	}
	return !strings.Contains(wordsOf(address), wordsOf(city))
}

// samePointKm is how far apart two readings of one place on the map may be:
// common practice, a large house and its car park.
const samePointKm = 0.1

// samePoint reports whether an event's place is ours on the map. Neighbours
// are told apart by their names.
func samePoint(theirs, ours milestones.Place) bool {
	if theirs.At == nil || ours.At == nil || ours.Name == "" || distance(*theirs.At, *ours.At) > samePointKm {
		return false
	}
	name, _ := nameOf(ours)
	other, _ := nameOf(theirs)
	a, b := wordsOf(name), wordsOf(other)
	return other == "" || strings.Contains(a, b) || strings.Contains(b, a) // Net Loft, the Net Loft's yard
}
