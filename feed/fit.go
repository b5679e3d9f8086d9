package feed

import (
	"time"

	"banns/milestones"
)

// MostBytes is the most that a calendar should come to: some clients refuse
// one of more than 1 MB.
const MostBytes = 1_000_000

// Fit writes the calendar in MostBytes, where that can be done without
// leaving out anything that is to come or late: entries that are settled or
// over go, those of the oldest months first, and only as many as need to. It
// looks at whole months, so that the same calendar stays the same for weeks.
func Fit(c Calendar, today milestones.Date) []byte {
	body := Encode(c)
	first := milestones.Date{Year: today.Year, Month: today.Month, Day: 1}
	for _, months := range []int{24, 12, 6, 3, 1, 0} {
		if len(body) <= MostBytes {
			break
		}
		had := len(c.Published)
		if c = c.since(first.AddMonths(-months), today); len(c.Published) < had {
			body = Encode(c)
		}
	}
	return body
}

// since is c without what was settled or over before a day.
func (c Calendar) since(day, today milestones.Date) Calendar {
	rest := Calendar{Name: c.Name}
	for _, p := range c.Published {
		if !p.over(today) || !p.Day().Before(day) {
			rest.Published = append(rest.Published, p)
		}
	}
	return rest
}

// over reports whether nobody has to do anything about p any more.
func (p *Published) over(today milestones.Date) bool {
	state := p.StateOn(today)
	return p.Withdrawn || state == milestones.Done || state == milestones.Past
}

// Shorten has the entries of rows say in their calendar only what cannot be
// left for the page, and raises the stamps of those that say less by it.
func Shorten(rows []Row, now time.Time) []Row {
	now = now.UTC().Truncate(time.Second)
	short := make([]Row, 0, len(rows))
	for _, r := range rows {
		r.Brief = true
		if hash := r.hash(); hash != r.Hash && r.Went.IsZero() {
			r.Hash = hash
			r.bump(now)
		}
		short = append(short, r)
	}
	return short
}
