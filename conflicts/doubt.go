package conflicts

// Doubted are the events of some years that contradict the rule of their
// earlier editions or their own names, in order of their names; Doubt says in
// what.
func Doubted(all []Event, first, last int, region string) []Event {
	var found []Event
	d := newDoubter(region)
	for _, s := range SeriesOf(all) {
		events := held(s.Editions)
		d.doubt(s, events, first, last)
		for _, e := range events {
			if e.Doubt != "" {
				found = append(found, e)
			}
		}
	}
	return found
}

// doubter looks for events that contradict themselves.
type doubter struct {
	region string
	named  map[string]bool // names of holidays and feasts, as seriesKey has them
}

func newDoubter(region string) doubter {
	d := doubter{region, map[string]bool{}}
	for _, h := range publicHolidays(region) {
		d.named[seriesKey(h.Name)] = true
	}
	for _, feast := range westernFeasts {
		d.named[seriesKey(feast)] = true
	}
	for _, feast := range easternFeasts {
		d.named[seriesKey(feast)] = true
	}
	return d
}

// doubt sets the Doubt of those events of a series that are in some years.
func (d doubter) doubt(s Series, events []Event, first, last int) {
	patterns := map[int]Pattern{}
	called := d.named[seriesKey(s.Name)]
	for n := range events {
		e := &events[n]
		if e.From.Year < first || e.From.Year > last {
			continue
		}
		if called || e.Kind == Holiday || e.Kind == Observance {
			e.Doubt = misnamed(*e, d.region)
		}
		if e.Doubt != "" || len(s.Editions) <= fewest {
			continue
		}
		p, ok := patterns[e.From.Year]
		if !ok {
			_, p = Expect(s.Editions, e.From.Year, d.region)
			patterns[e.From.Year] = p
		}
		e.Doubt = p.brokenBy(*e)
	}
}
