package conflicts

import (
	"fmt"
	"slices"
	"strings"

	"banns/milestones"
)

// Cautions are what the scales do not know of the days from first to last, a
// sentence each: years of which nothing was read, what is only expected, and
// what a tradition's days leave out. holidays is the caution of Known.
func Cautions(w *milestones.Wedding, read []Event, avoid []Tradition, first, last milestones.Date, holidays string) []string {
	var all []string
	for year := first.Year; year <= last.Year; year++ {
		if !slices.ContainsFunc(read, func(e Event) bool { return e.From.Year == year }) {
			all = append(all, fmt.Sprintf("No event of %d has been read. A city's calendar is often published only 6 to 18 months ahead: ask the town, the venue and the hotels.", year))
		}
	}
	if len(read) > 0 {
		all = append(all, "What is expected is a guess from earlier years until its organiser publishes the day.")
	}
	if w.Place.At == nil {
		all = append(all, "The place has no latitude and longitude in the plan, so the sunset is not known, and what names no other town counts as near.")
	}
	for _, t := range avoid {
		all = append(all, t.Name()+": customs vary; ask your clergy. "+sentence(t.Leaves()))
	}
	switch {
	case w.Region == "":
		all = append(all, "No region is given, so public holidays and their long weekends are not known; US-MI or DE-BY would be one.")
	case holidays != "":
		all = append(all, sentence(holidays))
	}
	return all
}

// sentence is s with a capital and a full stop.
func sentence(s string) string { return capital(strings.TrimSuffix(s, ".")) + "." }

// Common is what speaks for each of several candidates alike, and so tells
// none of them from the rest.
func Common(all []Candidate) []string {
	if len(all) < 2 {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(all[0].SpeaksFor), func(says string) bool {
		return slices.ContainsFunc(all, func(c Candidate) bool { return !slices.Contains(c.SpeaksFor, says) })
	})
}
