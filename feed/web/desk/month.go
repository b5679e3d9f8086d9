package desk

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
)

// monthPage is one month, day by day.
type monthPage struct {
	Name           string
	Value          string // 2027-09
	Before, After  monthLink
	Days           []monthDay
	Empty          bool
	Wedding, Today monthLink // to the wedding's month, and to this one; empty on them
}

type monthLink struct{ To, Name string }

type monthDay struct {
	Date  milestones.Date
	Words string // Fri 3
	Class string
	Dates []web.Date
	Away  []string
	Today bool
}

// month is the month that is asked for, as 2027-09, or else this one, with
// those entries that the filter leaves. at is the way to the front page.
func (s *sight) month(asked string, f filter, at string) monthPage {
	first, err := milestones.ParseDate(asked + "-01")
	if err != nil {
		first = milestones.Date{Year: s.today.Year, Month: s.today.Month, Day: 1}
	}
	link := func(day milestones.Date) monthLink {
		query := url.Values{"month": {day.String()[:len("2027-09")]}}
		for n, value := range f.Chosen {
			if value != "" {
				query.Set(f.Choices[n].Name, value)
			}
		}
		return monthLink{at + "dates?" + query.Encode() + "#month", monthName(day)}
	}
	m := monthPage{Name: monthName(first), Value: first.String()[:len("2027-09")], Before: link(first.AddMonths(-1)), After: link(first.AddMonths(1)), Empty: true}
	if day := s.plan.Wedding.Date; !day.IsZero() && monthName(day) != m.Name {
		m.Wedding = link(day)
	}
	if monthName(s.today) != m.Name {
		m.Today = link(s.today)
	}
	rows := map[milestones.Date][]web.Date{}
	for _, e := range inDayOrder(f.entries) {
		p := feed.Published{Entry: e}
		row := web.NewDate(&p, s.today)
		row.Door, row.Hidden = s.door(at, &e), s.hiddenFrom(&e)
		rows[row.Day] = append(rows[row.Day], row)
	}
	for day := first; day.Month == first.Month; day = day.AddDays(1) {
		one := monthDay{Date: day, Words: day.Weekday().String()[:3] + fmt.Sprintf(" %d", day.Day), Dates: rows[day], Today: day == s.today, Away: s.awayOn(day)}
		one.Class = s.dayClass(one)
		m.Empty = m.Empty && len(one.Dates)+len(one.Away) == 0
		m.Days = append(m.Days, one)
	}
	return m
}

// inDayOrder are the entries that have a day, by day and hour.
func inDayOrder(entries []feed.Entry) []feed.Entry {
	all := slices.DeleteFunc(slices.Clone(entries), func(e feed.Entry) bool { return e.Date.IsZero() })
	slices.SortStableFunc(all, func(a, b feed.Entry) int { return strings.Compare(clock(a), clock(b)) })
	return all
}

func clock(e feed.Entry) string {
	if e.Clock == nil {
		return ""
	}
	return e.Clock.String()
}

// dayClass says in which column a month's first day stands, whether a day has
// nothing, and whether it is today.
func (s *sight) dayClass(day monthDay) string {
	var all []string
	if day.Date.Day == 1 {
		column := (int(day.Date.Weekday()) - s.weekBegins() + 7) % 7
		all = append(all, fmt.Sprintf("column-%d", column+1))
	}
	if len(day.Dates)+len(day.Away) == 0 {
		all = append(all, "bare")
	}
	if day.Today {
		all = append(all, "now")
	}
	return strings.Join(all, " ")
}

// weekBegins is the first day of the week where the wedding is: Sunday in the
// United States and Canada, and Monday elsewhere (Unicode CLDR, weekData).
func (s *sight) weekBegins() int {
	country, _, _ := strings.Cut(s.plan.Wedding.Region, "-")
	if country == "US" || country == "CA" {
		return 0
	}
	return 1
}

func monthName(day milestones.Date) string { return fmt.Sprintf("%s %d", day.Month, day.Year) }
