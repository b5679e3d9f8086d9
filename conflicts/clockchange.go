package conflicts

import (
	"time"

	"banns/milestones"
)

// ClockChanges is the days from first to last on which the clocks of a zone
// are put forward or back, in order. Such a day has more or fewer than 24
// hours. A change at two in the morning is felt on the evening before too:
// whoever asks about a party asks about the day after it as well.
func ClockChanges(zone *time.Location, first, last milestones.Date) (all []Event) {
	noon := milestones.Clock{Hour: 12}
	_, change := noon.On(first.AddDays(-2), zone).ZoneBounds()
	for ; !change.IsZero(); _, change = change.ZoneBounds() {
		day := milestones.DateOf(change)
		if day.After(last) {
			break
		}
		_, before := change.Add(-time.Second).Zone()
		_, after := change.Zone()
		if before != after && !day.Before(first) {
			all = append(all, clockChange(change, time.Duration(after-before)*time.Second))
		}
	}
	return all
}

// clockChange is the event of a change that puts clocks forward by so much.
func clockChange(at time.Time, forward time.Duration) Event {
	day, start := milestones.DateOf(at), milestones.ClockOf(at)
	old := at.UTC().Add(zoneOffset(at) - forward) // what clocks would have shown
	when := old.Format("15:04")
	if when == "00:00" && milestones.DateOf(old) != day {
		when = "24:00"
	}
	what := "clocks go forward " + turn(forward)
	if forward < 0 {
		what = "clocks go back " + turn(-forward)
	}
	return Event{
		What: what + " at " + when, From: day, To: day, Start: &start,
		Kind: Clocks, Status: Computed,
		Note: when + " becomes " + at.Format("15:04") + nightOf(day, at, forward),
	}
}

func zoneOffset(t time.Time) time.Duration {
	_, seconds := t.Zone()
	return time.Duration(seconds) * time.Second
}

// nightOf tells which night is longer or shorter, for a change in the night.
// It says nothing where a zone changes sides of the date line.
func nightOf(day milestones.Date, at time.Time, forward time.Duration) string {
	shorter := " is longer"
	if forward > 0 {
		shorter = " is shorter"
	}
	switch hour := at.Hour(); {
	case forward.Abs() > 12*time.Hour:
	case hour < 6:
		return "; the night after " + day.AddDays(-1).Words() + shorter
	case hour >= 18:
		return "; the night after " + day.Words() + shorter
	}
	return ""
}

// turn is by how much clocks are put on or back.
func turn(by time.Duration) string {
	switch by {
	case time.Hour:
		return "an hour"
	case time.Hour / 2:
		return "half an hour"
	}
	return spell(by)
}
