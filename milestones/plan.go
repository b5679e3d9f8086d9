package milestones

// Plan is everything known about one wedding.
type Plan struct {
	ID           string // the wedding's, for good; empty before it is stored
	Version      int    // the stored version that this is; 0 before it is stored
	Wedding      Wedding
	People       []Person
	Agreements   []Agreement
	Appointments []Appointment
	Occasions    []Occasion
	Countdown    Countdown
	Licence      *Licence
	Candidates   []Date
	Away         []Absence
}

// Wedding is the day being organised.
type Wedding struct {
	Title    string
	Date     Date // zero while it is open
	Start    *Clock
	Zone     string // an IANA name
	Place    Place
	Region   string // ISO 3166: US-MI, CA-ON, GB, DE
	Currency Currency
}

// Absence is a stretch of days, both included, on which somebody is away.
type Absence struct {
	Who      string
	From, To Date
}

// Person finds somebody by key.
func (p *Plan) Person(key string) (*Person, bool) {
	for i := range p.People {
		if p.People[i].Key == key {
			return &p.People[i], true
		}
	}
	return nil, false
}

// Agreement finds an agreement by key.
func (p *Plan) Agreement(key string) (*Agreement, bool) {
	for i := range p.Agreements {
		if p.Agreements[i].Key == key {
			return &p.Agreements[i], true
		}
	}
	return nil, false
}
