package conflicts

import (
	"sort"
	"time"

	"banns/milestones"
)

// ClockChanges is the days from first to last on which the clocks of a zone
// are put forward or back, in order. Such a day has more or fewer than 24
// hours. A change at two in the morning is felt on the evening before too:
// whoever asks about a party asks about the day after it as well.
//
// It compares one noon with the next, and does not go from change to change
// by time.Time.ZoneBounds: in the last days of a leap year after 2037 that
// gives an end which is not after the moment that was asked about.
func ClockChanges(zone *time.Location, first, last milestones.Date) (all []Event) {
	noon := milestones.Clock{Hour: 12}
	before := noon.On(first.AddDays(-1), zone)
	for day := first; !day.After(last.AddDays(1)); day = day.AddDays(1) {
		after := noon.On(day, zone)
		if forward := zoneOffset(after) - zoneOffset(before); forward != 0 {
			all = append(all, clockChange(changeBetween(before, after), forward))
		}
		before = after
	}
	return within(all, first, last)
}

// changeBetween is the first second with the offset of after.
func changeBetween(before, after time.Time) time.Time {
	n := sort.Search(int(after.Unix()-before.Unix()), func(i int) bool {
		return zoneOffset(before.Add(time.Duration(i)*time.Second)) == zoneOffset(after)
	})
	return before.Add(time.Duration(n) * time.Second)
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
