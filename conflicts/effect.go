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

// weight is what a kind of event does and how much it matters, on its own days
// by how near it is, and on the day before the first and after the last.
type weight struct {
	effects reaches // the worst first: it decides, and it alone reaches to another day or hour
	on      [beyond]Severity
	beside  Severity // in town; what is farther does not reach to another day
	hourly  bool     // an event that is over before the wedding matters less
}

// reaches is what an event does by how near it is.
type reaches [beyond][]Effect

// like is the same effect wherever an event is.
func like(e Effect) reaches { return reaches{{e}, {e}, {e}} }

// door is r, with all of these at the door.
func (r reaches) door(all ...Effect) reaches {
	r[atDoor] = all
	return r
}

// longWeekend is what a holiday does that makes a weekend longer: whoever can
// travels.
var longWeekend = []Effect{Staff, Rooms, Guests}

// weights are common practice: what fills a town's rooms matters for the
// whole weekend and all over town, what closes a street matters where that
// street is, and nothing is heard but what is at the door.
var weights = map[Kind]weight{
	Holiday:    {like(Staff), [...]Severity{Noticeable, Noticeable, Noticeable}, 0, false},
	Observance: {like(Guests), [...]Severity{Noticeable, Noticeable, Noticeable}, 0, false},
	Family:     {like(Guests), [...]Severity{Slight, Slight, Slight}, 0, false},
	Clocks:     {like(Guests), [...]Severity{Slight, Slight, Slight}, Slight, false},
	Match:      {like(Rooms).door(Rooms, Streets, Noise), [...]Severity{Serious, Serious, Slight}, Noticeable, false},
	Festival:   {like(Rooms).door(Rooms, Streets, Noise), [...]Severity{Serious, Serious, Slight}, Noticeable, false},
	Graduation: {like(Rooms).door(Rooms, Streets), [...]Severity{Serious, Serious, Noticeable}, Noticeable, false},
	Congress:   {like(Rooms), [...]Severity{Noticeable, Noticeable, Slight}, Slight, false},
	Race:       {like(Streets).door(Streets, Noise), [...]Severity{Serious, Noticeable, 0}, Slight, true},
	Parade:     {like(Streets).door(Streets, Noise), [...]Severity{Serious, Noticeable, 0}, 0, true},
	Concert:    {like(Streets).door(Noise, Streets), [...]Severity{Serious, Slight, 0}, 0, true},
	Works:      {like(Streets).door(Streets, Noise), [...]Severity{Serious, Slight, 0}, 0, false},
	Other:      {like(Guests), [...]Severity{Noticeable, Slight, 0}, 0, true},
}

// weightOf is the weight of a kind, or of an event of which none is known.
func weightOf(k Kind) weight {
	w, ok := weights[k]
	if !ok {
		return weights[Other]
	}
	return w
}

// seasonDays is how long something lasts before it is a season: it then does
// not tell one day from the next, and matters slightly.
const seasonDays = 15
