package conflicts

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
)

// maxHeading is how many words a heading has at most that is taken by what it
// contains: prose above a table has more.
const maxHeading = 6

// notHeadings are words that make a heading one of something else: "Contact
// Name" names nobody's event, and on its "Date Posted" nothing takes place.
var notHeadings = strings.Fields(`artist author by contact cost count created deadline due duration email entered fee host id image length link
	modified number organiser organizer people phone posted presenter price publish published registration sponsor submitted tickets
	updated url user website week weekday`)

// looseWords are words that tell of a column wherever they stand in a heading,
// the most telling first. Days and hours are told apart by looseDay.
var looseWords = []struct {
	column
	words []string
}{
	{colLat, []string{"lat", "latitude"}},
	{colLon, []string{"lon", "lng", "longitude"}},
	{colStatus, []string{"status"}},
	{colKind, []string{"kind", "type", "category", "categories"}},
	{colCity, []string{"city", "town"}},
	{colPlace, []string{"place", "location", "venue", "site", "where"}},
	{colNote, []string{"note", "notes", "description", "details", "remarks", "comments"}},
}

// looseColumn is the column that a heading may be by the words in it.
func looseColumn(heading string) (column, bool) {
	words := strings.Fields(wordsOf(uncamelled(heading)))
	has := func(any ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(any, w) })
	}
	if len(words) == 0 || len(words) > maxHeading || has(notHeadings...) {
		return 0, false
	}
	day, hour := has("date", "dates", "day", "days", "when"), has("time", "times", "hour", "hours")
	if !day && !hour {
		for _, l := range looseWords {
			if has(l.words...) {
				return l.column, true
			}
		}
	}
	first, last := has("start", "starts", "begin", "begins", "beginning", "first"), has("end", "ends", "ending", "until", "finish", "last", "through")
	if day || hour { // by themselves these two are any words
		first, last = first || has("from"), last || has("to")
	}
	switch {
	case !day && !hour && !first && !last:
		return colName, has("name", "title", "event", "events")
	case last && !first && (day || !hour):
		return colTo, true
	case last && !first:
		return colUntil, true
	case hour && !day:
		return colTime, true
	}
	return colFrom, true // with an hour beside it too, or as a span
}

// uncamelled is s with blanks in "EventStartDate".
func uncamelled(s string) string {
	var b strings.Builder
	before := ' '
	for _, r := range s {
		if unicode.IsUpper(r) && unicode.IsLower(before) {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		before = r
	}
	return b.String()
}

// columnSays is what a column holds, in words.
var columnSays = map[column]string{
	colName: "name", colFrom: "date", colTo: "last day", colTime: "hour", colUntil: "last hour", colPlace: "place", colCity: "city",
	colLat: "latitude", colLon: "longitude", colNote: "note", colKind: "kind", colStatus: "status",
}

// doubt is a column that several headings may be.
type doubt struct {
	column
	cells []string
}

func (d doubt) Error() string {
	return fmt.Sprintf("the headings leave open which of them is the %[1]s: it may be %[2]s; call one of them %[1]q", columnSays[d.column], quotedOr(d.cells))
}

func quotedOr(all []string) string {
	var quoted []string
	for _, s := range all {
		quoted = append(quoted, fmt.Sprintf("%q", clean(s, 40)))
	}
	return strings.Join(quoted, " or ")
}

// looseHeadings adds to the headings that are named outright those that can be
// told by a word in them. Of a column that several may be, none is taken.
func looseHeadings(cells []string) (headings, []doubt) {
	h := headingsOf(cells)
	may := map[column][]int{}
	for i, cell := range cells {
		before, _, _ := strings.Cut(cell, "(")
		if len(cell) > maxName || len(headingsOf([]string{cell})) > 0 {
			continue
		}
		if c, ok := looseColumn(before); ok {
			may[c] = append(may[c], i)
		}
	}
	var doubts []doubt
	for c := colName; c <= colStatus; c++ {
		if _, sure := h[c]; sure || len(may[c]) == 0 {
			continue
		}
		if len(may[c]) == 1 {
			h[c] = may[c][0]
			continue
		}
		d := doubt{column: c}
		for _, i := range may[c] {
			d.cells = append(d.cells, cells[i])
		}
		doubts = append(doubts, d)
	}
	return h, doubts
}

// holdsDay reports whether a cell is a day: then its row is of the table's
// body.
func holdsDay(cells []string) bool {
	return slices.ContainsFunc(cells, func(cell string) bool {
		_, _, err := parseDays(cell, time.UTC)
		return err == nil
	})
}
