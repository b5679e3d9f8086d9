package conflicts

import (
	"slices"
	"strings"
)

// column is what a column of a table holds.
type column int

const (
	colName column = iota
	colFrom
	colTo
	colTime
	colUntil
	colPlace
	colCity
	colLat
	colLon
	colNote
	colKind
	colStatus
)

// headings are the columns of a table, by what they hold.
type headings map[column]int

// enough reports whether a table can be read by its headings.
func (h headings) enough() bool { return h.enoughWith(nil) }

// enoughWith does so if the doubts were settled.
func (h headings) enoughWith(doubts []doubt) bool {
	for _, c := range []column{colName, colFrom} {
		if _, ok := h[c]; !ok && !slices.ContainsFunc(doubts, func(d doubt) bool { return d.column == c }) {
			return false
		}
	}
	return true
}

// headingWords are the headings that are known, as wordsOf has them. Of two
// that hold the same, the one that stands first in its list counts.
var headingWords = map[column][]string{
	colName:   {"event", "name", "event name", "title", "event title", "what", "summary", "subject", "occasion"},
	colFrom:   {"first day", "start date", "date from", "from date", "begin date", "start day", "date start", "date begin", "date", "day", "event date", "dates", "date s", "when", "from", "starts", "begins", "begin", "start"},
	colTo:     {"last day", "end date", "date to", "to date", "to", "until", "ends", "end", "finish", "end day", "date end", "finish date", "through", "thru"},
	colTime:   {"start time", "time", "hour", "from time", "time start", "time from", "hours", "times", "starts at", "doors", "from", "starts", "begins", "begin", "start"},
	colUntil:  {"end time", "to time", "time end", "time to", "finish time", "ends at"},
	colPlace:  {"place", "where", "venue", "location", "site", "venue name", "location name", "place name"},
	colCity:   {"city", "town", "municipality"},
	colLat:    {"lat", "latitude"},
	colLon:    {"lon", "lng", "long", "longitude"},
	colNote:   {"note", "notes", "description", "remarks", "remark", "comment", "comments", "details"},
	colKind:   {"kind", "type", "category", "categories", "event type", "event kind", "event category"},
	colStatus: {"status", "state"},
}

// headingsOf are the columns that the cells of a row name outright. Case,
// blanks and signs do not matter, nor does what stands in brackets.
func headingsOf(cells []string) headings {
	h, rank := headings{}, map[column]int{}
	for i, cell := range cells {
		if len(cell) > maxName {
			continue
		}
		before, _, _ := strings.Cut(cell, "(")
		words := strings.TrimSpace(wordsOf(before))
		for c, known := range headingWords {
			for n, word := range known {
				if _, taken := h[c]; word == words && (!taken || n < rank[c]) {
					h[c], rank[c] = i, n
				}
			}
		}
	}
	if h[colTime] == h[colFrom] {
		delete(h, colTime) // "start" alone is the day
	}
	return h
}
