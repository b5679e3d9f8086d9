package conflicts

// Effect is what a clash does to a wedding.
type Effect string

// The effects.
const (
	Rooms    Effect = "rooms"    // hotel rooms are few and dear
	Streets  Effect = "streets"  // streets are closed or full
	Staff    Effect = "staff"    // vendors lack hands, or ask more for them
	Guests   Effect = "guests"   // guests are elsewhere, or cannot come
	Closed   Effect = "closed"   // the place is closed, or taken
	Noise    Effect = "noise"    // it is heard at the wedding
	Clergy   Effect = "clergy"   // the couple's clergy may hold no wedding
	Absence  Effect = "absence"  // somebody who is needed is away
	Light    Effect = "light"    // the sun is down
	Deadline Effect = "deadline" // a date of the plan itself comes out badly
)

// Severity is how much a clash matters, in four steps. The zero Severity is
// no clash at all.
type Severity int

// The severities.
const (
	Slight     Severity = 1 + iota // good to know
	Noticeable                     // somebody will feel it
	Serious                        // choose another day if there is one
	Blocking                       // the wedding cannot be held as planned
	severities = int(Blocking)
)

var severityWords = [...]string{"", "slight", "noticeable", "serious", "blocking"}

func (s Severity) String() string { return severityWords[s] }

// MarshalText is the severity's word.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// lighter is one step less, and never nothing.
func (s Severity) lighter() Severity { return max(s-1, min(s, Slight)) }

// nearness is how far an event is from the wedding's place.
type nearness int

const (
	atDoor   nearness = iota // within doorKm, or at the place itself
	inTown                   // within townKm, or in the same town, or nobody knows
	inRegion                 // within regionKm
	beyond
)

// How far is far, in kilometres: common practice. What is within a walk is at
// the door, and guests look for rooms within an hour's drive.
const (
	doorKm   = 1.0
	townKm   = 15.0
	regionKm = 60.0
)

// weight is how much a kind of event matters on its own days, by how near it
// is, and how much on the day before the first and after the last.
type weight struct {
	effect Effect
	on     [beyond]Severity
	beside Severity // in town; what is farther does not reach to another day
	hourly bool     // an event that is over before the wedding matters less
}

// weights are common practice: what fills a town's rooms matters for the
// whole weekend and all over town, and what closes a street matters where
// that street is.
var weights = map[Kind]weight{
	Holiday:    {Staff, [...]Severity{Noticeable, Noticeable, Noticeable}, 0, false},
	Observance: {Guests, [...]Severity{Noticeable, Noticeable, Noticeable}, 0, false},
	Clocks:     {Guests, [...]Severity{Slight, Slight, Slight}, Slight, false},
	Match:      {Rooms, [...]Severity{Serious, Serious, Slight}, Noticeable, false},
	Festival:   {Rooms, [...]Severity{Serious, Serious, Slight}, Noticeable, false},
	Graduation: {Rooms, [...]Severity{Serious, Serious, Noticeable}, Noticeable, false},
	Congress:   {Rooms, [...]Severity{Noticeable, Noticeable, Slight}, Slight, false},
	Race:       {Streets, [...]Severity{Serious, Noticeable, 0}, Slight, true},
	Parade:     {Streets, [...]Severity{Serious, Noticeable, 0}, 0, true},
	Concert:    {Noise, [...]Severity{Serious, Slight, 0}, 0, true},
	Works:      {Streets, [...]Severity{Serious, Slight, 0}, 0, false},
	Other:      {Guests, [...]Severity{Noticeable, Slight, 0}, 0, true},
}

// seasonDays is how long something lasts before it is a season: it then does
// not tell one day from the next, and matters slightly.
const seasonDays = 15
