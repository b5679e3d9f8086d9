package milestones

import "slices"

// Part is what somebody is at the wedding.
type Part string

// The parts.
const (
	Couple    Part = "couple"
	Planner   Part = "planner"
	Family    Part = "family"
	Attendant Part = "attendant"
	Vendor    Part = "vendor"
	Officiant Part = "officiant"
	Helper    Part = "helper"
)

// Parts are all parts, in the order in which people are listed.
var Parts = []Part{Couple, Planner, Family, Attendant, Vendor, Officiant, Helper}

// Everybody is the word that names every person in "for" and "hide from".
const Everybody = "everybody"

// Person is somebody who may be given a feed.
type Person struct {
	Key      string
	Was      string // the key before a renaming
	Name     string
	Part     Part
	Groups   []string
	Email    string
	Phone    string
	Measures []Measure
	Diet     string
	Note     string
}

// Measure is one size of a person, such as dress: US 8.
type Measure struct{ Name, Size string }

// ID is what a person's calendar entries are known by. It outlives a
// renaming.
func (p Person) ID() string {
	if p.Was != "" {
		return p.Was
	}
	return p.Key
}

// Named reports whether a "for" or "hide from" list means p: by key, by
// group, by part, or as everybody.
func (p Person) Named(list []string) bool {
	return slices.ContainsFunc(list, func(s string) bool {
		return s == p.Key || s == string(p.Part) || s == Everybody || slices.Contains(p.Groups, s)
	})
}
