package conflicts

import "banns/milestones"

// Event is a public event: something in the city that is not ours, on one or
// more days.
type Event struct {
	What     string
	From, To milestones.Date   // first and last day, both included, as days of the wedding's zone
	Start    *milestones.Clock // in the wedding's zone, on From; nil: no hour is known
	End      *milestones.Clock // on To; what ends at midnight ends at 23:59 of the day that is over
	Place    milestones.Place
	Kind     Kind
	Daily    bool   // its hours are those of each of its days
	Season   bool   // a stretch of days or weeks that colours each of its days, and is no day of its own
	Custom   Custom // what the tradition says of weddings on an Observance; empty for anything else
	Status   Status
	Rule     string // in words, by which it was worked out of earlier editions; empty: a source lists it
	Rival    bool   // its rule is as good as another, which has the edition on another day
	Doubt    string // in what it contradicts the rule of its earlier editions, or its own name
	Note     string
	Source   Source
	Also     []Source // others that list it too
}

// Kind is what sort of thing an event is: it decides what the event does to
// a wedding.
type Kind string

// The kinds.
const (
	Holiday    Kind = "holiday"    // a public holiday, or the long weekend that it makes
	Observance Kind = "observance" // a religious or customary day or season
	Match      Kind = "match"
	Festival   Kind = "festival"
	Race       Kind = "race" // a run or a ride over public streets
	Parade     Kind = "parade"
	Concert    Kind = "concert"
	Graduation Kind = "graduation"
	Congress   Kind = "congress" // a conference or a trade fair
	Works      Kind = "works"    // closures and building
	Family     Kind = "family"   // a day on which families sit down together
	Clocks     Kind = "clocks"   // the zone's clocks change
	Other      Kind = "event"
)

// Custom is what a tradition says of weddings on a day. It is the common
// answer, and another congregation may give another one.
type Custom string

// The customs, the mildest first.
const (
	Unsaid      Custom = ""            // nothing against a wedding
	Discouraged Custom = "discouraged" // some hold none, or hold them without music or feast
	NotHeld     Custom = "not held"    // most clergy hold none
)

// Status is how sure an event is.
type Status string

// The statuses, the surest first.
const (
	Computed  Status = "computed"  // follows from a law, a calendar or the sky
	Announced Status = "announced" // published by its organiser, as the source has it
	Expected  Status = "expected"  // worked out from earlier editions, or by a calendar that is settled by sighting
)

// Source is where an event was read.
type Source struct {
	Name string // of the file or the calendar; empty for what is computed
	Line int    // in it, from 1; 0 where that says nothing
}
