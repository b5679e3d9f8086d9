package conflicts

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"banns/milestones"
)

var effectSays = map[Effect]string{
	Rooms:   "rooms are few and dear",
	Streets: "streets are closed or full",
	Staff:   "vendors are short of hands and ask more",
	Guests:  "some guests may be away",
	Closed:  "the place is taken",
	Noise:   "it can be heard",
	Clergy:  "most clergy hold no weddings; ask yours, for customs vary",
}

// visitSays is why something matters that somebody goes to for an hour or two,
// where that is otherwise than for a wedding.
var visitSays = map[Effect]string{
	Rooms:  "streets and car parks are full",
	Staff:  "ask whether they are open",
	Guests: "whoever is asked may be elsewhere",
}

// says is the clash in a sentence: what, where and at what hours, when and how
// sure, and why it matters.
func (s *Scales) says(e *Event, b bearing, day milestones.Date) string {
	if e.Kind == Clocks {
		return clocksSay(e, day)
	}
	at := where(e, b)
	if hours := hoursOf(e); at != "" && hours != "" {
		at += ", " + hours
	} else {
		at += hours
	}
	if at != "" {
		at = " (" + at + ")"
	}
	return fmt.Sprintf("%s%s %s: %s.", capital(e.What), at, s.when(e, day), s.why(e, b, day))
}

// clocksSay is a change of clocks as it bears on a day beside it.
func clocksSay(e *Event, day milestones.Date) string {
	says := capital(e.What) + " on " + e.From.Words()
	if day == e.From {
		return says + ": remind everybody, or somebody comes at the wrong hour."
	}
	if _, night, ok := strings.Cut(e.Note, "; "); ok {
		says += ": " + night
	}
	return says + "."
}

// when is on which days e is, as far as that is sure, and how they lie to a
// day beside them.
func (s *Scales) when(e *Event, day milestones.Date) string {
	first, last := s.days(e)
	on, each := "on ", ""
	if s.nightly(e) {
		on, each = "in the night after ", ", in the night after each"
	}
	var said string
	switch one, guess := first == last, e.Status == Expected; {
	case one && e.Rival:
		said = "may fall " + on + "that day, by " + e.Rule
	case e.Rival:
		said = "may run from " + span(first, last) + each + ", by " + e.Rule
	case one && first == day && guess:
		said = "is expected " + on + "that day"
	case one && first == day:
		said = "is " + on + "that day"
	case one && guess:
		said = "is expected " + on + first.Words()
	case one:
		said = "is " + on + first.Words()
	case guess:
		said = "is expected from " + span(first, last) + each
	default:
		said = "runs from " + span(first, last) + each
	}
	switch {
	case day.After(last.AddDays(1)):
		said += ", two days before"
	case day.AddDays(1).Before(first) && first == last:
		said += ", two days after"
	case day.AddDays(1).Before(first):
		said += ", which begins two days after"
	case day.After(last):
		said += ", which is the day before"
	case day.Before(first) && first == last:
		said += ", which is the day after"
	case day.Before(first):
		said += ", which begins the day after"
	}
	return said
}

func span(first, last milestones.Date) string {
	from := first.Words()
	if first.Year == last.Year {
		from = strings.TrimSuffix(from, fmt.Sprint(" ", first.Year))
	}
	return from + " to " + last.Words()
}

// why is why e matters.
func (s *Scales) why(e *Event, b bearing, day milestones.Date) string {
	first, last := s.days(e)
	var all []string
	for _, effect := range b.effects {
		all = append(all, s.does(e, effect))
	}
	why := all[0]
	if n := len(all) - 1; n > 0 {
		why = strings.Join(all[:n], ", ") + ", and " + all[n]
	}
	switch {
	case e.Custom == Discouraged:
		return "weddings are discouraged; ask your clergy, for customs vary"
	case b.effects[0] == Clergy:
		return why
	case e.season() && b.effects[0] != Closed:
		return "it goes on for weeks, and meets the days around this one too"
	case sameWeekend(first, last, day):
		return why + " all weekend"
	case day.Before(first):
		return fmt.Sprintf("%s from the night of the %s on", why, s.kind)
	case day.After(last):
		return fmt.Sprintf("%s on the night before the %s", why, s.kind)
	case s.over(e, day):
		return fmt.Sprintf("%s, though not at the %s's hours", why, s.kind)
	}
	return why
}

// does is one of e's effects in words.
func (s *Scales) does(e *Event, effect Effect) string {
	if says, ok := visitSays[effect]; ok && s.kind == milestones.KindAppointment {
		return says
	}
	switch {
	case effect == Closed && e.Kind == Works:
		return "the place is closed"
	case e.Kind == Family:
		return "restaurants are full, and some guests are with their parents"
	case effect == Streets && e.Kind == Concert:
		return "there are crowds and full car parks around it"
	}
	return effectSays[effect]
}

func hoursOf(e *Event) string {
	switch {
	case e.Daily && e.End != nil:
		return fmt.Sprintf("%s to %s each day", e.Start, e.End)
	case e.Daily:
		return fmt.Sprintf("from %s each day", e.Start)
	case e.Start != nil && e.End != nil:
		return fmt.Sprintf("%s to %s", e.Start, e.End)
	case e.Start != nil:
		return fmt.Sprintf("from %s", e.Start)
	}
	return ""
}

// where says how near the event is, as far as anybody knows.
func where(e *Event, b bearing) string {
	switch {
	case e.everywhere():
		return ""
	case b.effects[0] == Closed:
		return "at the place itself"
	case b.km >= 0 && b.near == atDoor:
		return "at the door"
	case b.km >= 0:
		return fmt.Sprintf("%.0f km away", b.km)
	case b.near == inRegion:
		return "in " + e.Place.City
	case strings.Contains(strings.ToLower(e.What), strings.ToLower(e.Place.Name)): // Chapel Street rebuilding
		return ""
	}
	return e.Place.Name
}

// capital is s with a capital.
func capital(s string) string {
	if s == "" {
		return ""
	}
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}
