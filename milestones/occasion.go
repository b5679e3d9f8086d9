package milestones

// Meeting is what an appointment and an occasion have in common: a day, an
// hour perhaps, a place, and who is asked.
type Meeting struct {
	Key   string
	What  string
	When  Timing // Says is "on DATE" where the plan gives a date
	At    *Clock
	Until *Clock // on the same day, or past midnight where it is before At
	Place Place
	For   []string
	Hide  []string
	Note  string

	Answers []Answer      // to what When leaves open
	Away    []NamedAnswer // about those who are asked and away, by key
}

// Appointment is something that a few people keep, such as a fitting.
type Appointment struct{ Meeting }

// Occasion is something that people attend, such as the rehearsal.
type Occasion struct{ Meeting }

// Place is where something happens.
type Place struct {
	Name string
	City string
	At   *[2]float64 // latitude and longitude in degrees, or nil
}

// String is the place in one line.
func (p Place) String() string {
	if p.Name != "" && p.City != "" {
		return p.Name + ", " + p.City
	}
	return p.Name + p.City
}
