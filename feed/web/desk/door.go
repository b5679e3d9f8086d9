package desk

import (
	"strings"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
)

// door is the way to where an entry is changed; at is the way to the wedding's
// front page.
func (s *sight) door(at string, e *feed.Entry) *web.Door {
	_, key, _ := strings.Cut(e.ID, "/")
	switch e.Kind {
	case milestones.KindWedding:
		return &web.Door{To: at + "day", Says: "Change the day"}
	case milestones.KindAppointment:
		return &web.Door{To: at + "appointments/" + key, Says: "Change the appointment"}
	case milestones.KindOccasion:
		return &web.Door{To: at + "occasions/" + key, Says: "Change the occasion"}
	case milestones.KindMilestone:
		return &web.Door{To: at + "countdown/" + key, Says: "Open it in the countdown"}
	}
	return &web.Door{To: at + "agreements/" + e.Agreement, Says: "Open the agreement with " + e.With}
}

// book is how pages of the desk show a wedding's entries.
func (s *sight) book(at string) web.DayBook {
	return web.DayBook{
		Today:   func(string) milestones.Date { return s.today },
		OneZone: true,
		Door:    func(e *feed.Entry) *web.Door { return s.door(at, e) },
		Hidden:  s.hiddenFrom,
	}
}

// published are entries as date rows take them.
func published(entries []feed.Entry) []feed.Published {
	all := make([]feed.Published, len(entries))
	for n := range entries {
		all[n].Entry = entries[n]
	}
	return all
}

// live are the entries that still count.
func (s *sight) live() []feed.Entry {
	var all []feed.Entry
	for n := range s.entries {
		if counts(&s.entries[n]) {
			all = append(all, s.entries[n])
		}
	}
	return all
}

// counts reports whether e still does. Of what was replaced or has ended,
// nobody does more than what is still owed.
func counts(e *feed.Entry) bool {
	over := e.Standing == milestones.Replaced || e.Standing == milestones.Ended
	return !over || e.Owed || e.Kind == milestones.KindRefund || !e.Done.IsZero()
}
