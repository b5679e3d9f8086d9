package conflicts

import (
	"cmp"
	"slices"
	"strings"

	"banns/milestones"
)

// A Tradition has days and seasons of its own, which some families heed when
// they choose a wedding date.
type Tradition string

// The traditions that are known.
const (
	Catholic Tradition = "catholic"
	Orthodox Tradition = "orthodox"
	Jewish   Tradition = "jewish"
	Muslim   Tradition = "muslim"
	Chinese  Tradition = "chinese"
)

// Traditions lists those that are known, in the order in which to offer them.
func Traditions() []Tradition {
	return []Tradition{Catholic, Orthodox, Jewish, Muslim, Chinese}
}

// Name is what people call it, and is empty for one that is not known.
func (t Tradition) Name() string { return customs[t].name }

// Leaves says what the days of a tradition leave out, as a sentence without
// its full stop.
func (t Tradition) Leaves() string { return customs[t].leaves }

// customs is what each tradition keeps, by the year in which it begins.
var customs = map[Tradition]struct {
	name, leaves string
	in           func(year int) []Event
}{
	Catholic: {"Catholic", "a parish may add days of its own, and Advent is kept quietly in some", catholicYear},
	Orthodox: {"Greek Orthodox", "the fixed days are those of the new calendar; a church of the old one keeps them 13 days later until February 2100. The eves of great feasts and of Sundays are not included", orthodoxYear},
	Jewish:   {"Jewish", "the days are those kept outside Israel; minor fasts and the eves of a fast are not included", jewishYear},
	Muslim:   {"Muslim", "the days are reckoned by the tabular calendar; each month begins when its moon is sighted, which may be a day earlier or later and differs by country", muslimYear},
	Chinese:  {"Chinese", "lucky and unlucky days of the almanac are not included", chineseYear},
}

// Observances is the days and seasons of these traditions that touch the days
// from first to last, in order. Those of the Western Easter are always among
// them: whatever the couple believes, they are public holidays in much of the
// West, and families travel. A tradition that is not known has no days.
func Observances(traditions []Tradition, first, last milestones.Date) []Event {
	var all []Event
	for year := first.Year - 1; year <= last.Year; year++ { // the first year's seasons may have begun in the one before
		all = append(all, easterYear(year)...)
		for _, t := range traditions {
			if c, ok := customs[t]; ok {
				all = append(all, c.in(year)...)
			}
		}
	}
	return within(all, first, last)
}

// within is the events that touch the days from first to last, in order.
func within(all []Event, first, last milestones.Date) []Event {
	all = slices.DeleteFunc(all, func(e Event) bool { return e.To.Before(first) || e.From.After(last) })
	slices.SortStableFunc(all, func(a, b Event) int {
		return cmp.Or(a.From.Compare(b.From), a.To.Compare(b.To))
	})
	return all
}

// A day that a tradition keeps, or a season, counted in days from another one.
type feast struct {
	what   string
	from   int // its first day
	days   int // how many it has; 0 is one
	season bool
	custom Custom
	note   string
}

const askTheClergy = "customs vary: ask the clergy"

// on is the feast counted from d.
func (f feast) on(d milestones.Date) Event {
	e := Event{
		What: f.what, From: d.AddDays(f.from), To: d.AddDays(f.from + max(f.days, 1) - 1),
		Kind: Observance, Season: f.season, Custom: f.custom, Status: Computed,
	}
	var said []string
	switch f.custom {
	case NotHeld:
		said = append(said, "weddings are commonly not held")
	case Discouraged:
		said = append(said, "weddings are discouraged")
	}
	if f.note != "" {
		said = append(said, f.note)
	}
	e.Note = strings.Join(append(said, askTheClergy), "; ")
	return e
}

// counted is all the feasts that are counted from d.
func counted(feasts []feast, d milestones.Date) []Event {
	all := make([]Event, len(feasts))
	for i, f := range feasts {
		all[i] = f.on(d)
	}
	return all
}
