package main

import (
	"errors"
	"net/url"
	"path/filepath"
	"strings"
	"time"

	"banns/conflicts"
	"banns/conflicts/fetch"
	"banns/milestones"
	"banns/store"
)

// from is a calendar or a table that is named on the command line.
type from struct {
	Order   string `help:"What 03/04/2027 means in a table whose rows do not settle it." enum:",day-month,month-day" default:"" placeholder:"day-month|month-day"`
	Private bool   `help:"Read an address on this machine or on a private network."`
}

// read reads a file, standard input, or an address.
func (f from) read(e *env, what string) (store.Source, error) {
	src := store.Source{Private: f.Private, Order: conflicts.Order(f.Order)}
	if !fetch.Is(what) {
		src.Name = filepath.Base(what)
		body, err := e.bytes(what, conflicts.MaxBody, "name a calendar (.ics), a table (.csv) or an address")
		src.Body = body
		return src, err
	}
	address, err := fetch.Address(what)
	if err != nil {
		return src, wrongf("%s cannot be read: %v", what, err)
	}
	got, err := fetch.Fetcher{Private: f.Private, Patience: e.patience}.Get(e.ctx, address, fetch.Seen{})
	if err != nil {
		return src, wrongf("%s cannot be read: %v%s", what, err, f.hint(err))
	}
	src.Address, src.ETag, src.Modified, src.Body = address, got.Seen.ETag, got.Seen.Modified, got.Body
	if u, err := url.Parse(address); err == nil {
		src.Name = u.Hostname() // the rest may be a secret
	}
	return src, nil
}

// hint is what to do about an error.
func (f from) hint(err error) string {
	if errors.Is(err, fetch.ErrPrivate) {
		return "; --private allows it"
	}
	return ""
}

// listing reads what a source lists.
func listing(src store.Source, loc *time.Location, first, last milestones.Date) (conflicts.Listing, error) {
	l, err := src.Listing(loc, first, last)
	if err != nil {
		return l, wrongf("%s cannot be read as a calendar or a table: %v", src.Name, err)
	}
	return l, nil
}

// eventYears are the days for which a wedding's events are listed: the whole
// years of the days it may fall on, or three years from today.
func eventYears(p *milestones.Plan, today milestones.Date, only int) (first, last milestones.Date) {
	low, high := today.Year, today.Year+2
	if days := possibleDays(p); len(days) > 0 {
		low, high = days[0].Year, days[0].Year
		for _, d := range days {
			low, high = min(low, d.Year), max(high, d.Year)
		}
	}
	if only != 0 {
		low, high = only, only
	}
	return milestones.Date{Year: low, Month: time.January, Day: 1}, milestones.Date{Year: high, Month: time.December, Day: 31}
}

// possibleDays are the wedding's day and its candidates.
func possibleDays(p *milestones.Plan) []milestones.Date {
	days := p.Candidates
	if !p.Wedding.Date.IsZero() {
		days = append(days[:len(days):len(days)], p.Wedding.Date)
	}
	return days
}

// known is a source with what it lists.
type known struct {
	store.Source
	conflicts.Listing
}

// known reads what every source of a stored wedding lists. One that cannot be
// read any more lists nothing, and says so.
func (e *env) known(s *store.Store, p *milestones.Plan, name string, first, last milestones.Date) ([]known, error) {
	sources, err := s.Sources(e.ctx, name)
	if err != nil {
		return nil, err
	}
	var all []known
	for _, src := range sources {
		l, err := listing(src, p.Wedding.Location(), first, last)
		if err != nil {
			src.Trouble = strings.TrimPrefix(err.Error(), src.Name+" ")
		}
		all = append(all, known{src, l})
	}
	return all, nil
}
