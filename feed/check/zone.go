package check

import (
	"cmp"
	"slices"
	"time"
	_ "time/tzdata" // for lookUp, on machines that have no tz database
)

// timezone is a VTIMEZONE and what it says of clocks (RFC 5545 3.6.5).
type timezone struct {
	n     int
	tzid  string
	obs   []onset // by their start
	sound bool    // every observance could be read, and there is one
	used  bool
	// known is the zone of that name in the tz database, nil if it has none.
	known *time.Location
}

// onset is where an observance begins, on a clock that still shows the offset
// it comes from.
type onset struct {
	start    time.Time
	from, to time.Duration
}

// zones reads every VTIMEZONE of a calendar, by TZID.
func (r *report) zones(cal *component) map[string]*timezone {
	zones := map[string]*timezone{}
	for _, c := range cal.kids {
		id, ok := c.first("TZID")
		if places[c.name] != zone || !ok {
			continue
		}
		if other, twice := zones[id.value]; twice {
			r.add(c.n, "a second VTIMEZONE %s, the first is on line %d (RFC 5545 3.8.3.1)", show(id.value), other.n)
			continue
		}
		z := &timezone{n: c.n, tzid: id.value, known: lookUp(id.value)}
		r.observances(z, c)
		zones[z.tzid] = z
	}
	return zones
}

// lookUp finds a zone by its IANA name. Two names mean something else to Go.
func lookUp(tzid string) *time.Location {
	if tzid == "" || tzid == "Local" {
		return nil
	}
	loc, err := time.LoadLocation(tzid)
	if err != nil {
		return nil
	}
	return loc
}

func (r *report) observances(z *timezone, c *component) {
	found, sound := false, true
	for _, kid := range c.kids {
		if places[kid.name] != observance {
			continue
		}
		found = true
		o, ok := r.onset(kid)
		z.obs = append(z.obs, o)
		sound = sound && ok
	}
	if !found {
		r.add(c.n, "VTIMEZONE has neither STANDARD nor DAYLIGHT (RFC 5545 3.6.5)")
	}
	z.sound = found && sound
	slices.SortStableFunc(z.obs, func(a, b onset) int { return a.start.Compare(b.start) })
}

// onset reads an observance; ok is false where the rules have reported it.
func (r *report) onset(c *component) (o onset, ok bool) {
	start, _ := c.first("DTSTART")
	m, fault := readMoment(start)
	if fault != "" {
		return o, false
	}
	if m.form != floating {
		r.add(start.n, "DTSTART of an observance is not a local time (RFC 5545 3.6.5)")
		return o, false
	}
	from, _ := c.first("TZOFFSETFROM")
	to, _ := c.first("TZOFFSETTO")
	o.start = m.clock
	o.from, ok = readOffset(from.value)
	if !ok {
		return o, false
	}
	o.to, ok = readOffset(to.value)
	return o, ok
}

// covers tells whether an observance of a sound zone begins on or before a clock
// reading.
func (z *timezone) covers(clock time.Time) bool {
	return !z.obs[0].start.After(clock)
}

// instant is the moment that a clock in the zone shows a reading that the zone
// covers. An hour that stands twice is the first of the two; one that is
// skipped counts by the offset before the gap (RFC 5545 3.3.5).
func (z *timezone) instant(clock time.Time) time.Time {
	i, _ := slices.BinarySearchFunc(z.obs, clock, func(o onset, t time.Time) int {
		// Never 0, so that i is the first observance that begins later.
		return cmp.Or(o.start.Compare(t), -1)
	})
	o := z.obs[i-1]
	if clock.Before(o.start.Add(o.to - o.from)) {
		return clock.Add(-o.from)
	}
	return clock.Add(-o.to)
}

func (r *report) unused(zones map[string]*timezone) {
	for _, z := range zones {
		if !z.used {
			r.add(z.n, "VTIMEZONE %s is named by no entry", show(z.tzid))
		}
	}
}
