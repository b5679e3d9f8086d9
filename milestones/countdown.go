package milestones

// Countdown is what the plan says about milestones that no contract sets.
type Countdown struct {
	Wanted bool // the plan asks for the default countdown
	From   Date // "planning from"; zero: nothing says when it begins
	Drop   []string
	Done   []NamedDate
	Move   []Move
	Add    []Milestone
}

// Move sets a milestone of the countdown to another day.
type Move struct {
	Key  string
	When Timing
}

// Milestone is a target that no contract sets. One with the key of a default
// milestone stands in its place.
type Milestone struct {
	Key   string
	What  string
	When  Timing
	Takes string   // how long it takes, as written: 1 day, 2 weeks
	After []string // what must come before: milestones by key, or anything of the plan by key or label
	Done  Date
	For   []string
	Hide  []string
	Note  string

	Answers []Answer // to what When leaves open

	takes int   // days
	after []ref // those of After that are no milestones
	gates []string
}

// Aim is the room that a milestone has, and why.
type Aim struct {
	Earliest Date     // the first day on which it can be done; zero: any, or it is done
	Latest   Date     // the last day that still works; zero: any, or it is done
	After    []string // ids of what it waits for: milestones, terms, appointments
	Serves   []string // ids of the terms and appointments before which it must come
	Why      []string // why that day, in sentences; for those who see the couple's agreements
	Late     string   // of one that cannot be met: what it waits for, and what would give
	HoldsUp  bool     // it is a link of the chain that holds everything up
	Who      []string // who usually does it: people, groups and parts; empty: the couple
	Source   string   // who says when it is usual; empty: nobody but the plan
}

// Slack is by how many days i can slip and still work; ok is false where
// nothing says so.
func (i *Item) Slack() (days int, ok bool) {
	if i.Aim == nil || i.Aim.Latest.IsZero() || i.Undated() || !i.Done.IsZero() {
		return 0, false
	}
	return max(0, i.Aim.Latest.DaysSince(i.Date)), true
}

// Drawn is the countdown of a plan, worked out.
type Drawn struct {
	Items []Item // in order of their days, undated ones last
	Left  []LeftOut
	Chain []string // titles of what holds everything up, in order; empty where nothing is known to
	Room  int      // days that can be lost along Chain; negative: days too many
}

// LeftOut is a default milestone that this plan does not get.
type LeftOut struct {
	Key   string
	Title string
	Why   string // a sentence without its full stop
	Held  bool   // the plan holds it already, or has no need of it
}

// CountDown is the countdown of a plan that Read found no fault in: the very
// items that Schedule gives, and what led to them.
func CountDown(p *Plan, c Closures) Drawn {
	s := work(p, c)
	d := Drawn{Left: s.left, Chain: s.chain, Room: s.room}
	for _, i := range s.items {
		if i.Kind == KindMilestone {
			d.Items = append(d.Items, i)
		}
	}
	return d
}
