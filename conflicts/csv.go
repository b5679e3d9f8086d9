package conflicts

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"strings"
	"time"

	"banns/milestones"
)

const (
	maxCells      = 200
	maxRecord     = 100 // lines that one row may take, by line ends inside quotation marks
	headingSearch = 20  // rows among which the headings must stand
)

// row is one row of a table.
type row struct {
	line  int
	cells []string
}

// cell is the trimmed text of a column, or empty where there is none.
func (r row) cell(column int, ok bool) string {
	if !ok || column >= len(r.cells) {
		return ""
	}
	return strings.TrimSpace(r.cells[column])
}

// table reads a table as text.
func (l *lister) table(body []byte) error {
	if what := otherFile(body); what != "" {
		return fmt.Errorf("this is %s: a table is read as text, with a comma between cells; save it as CSV", what)
	}
	if l.short {
		body = wholeLines(body)
	}
	rows := l.rows(string(body))
	at, head, doubts, err := findHeadings(rows)
	if err != nil {
		return err
	}
	for _, d := range doubts {
		l.leaveOut(rows[at].line, "", "%v, so that it is taken", d)
	}
	l.bodyRows(head, rows[at+1:])
	return nil
}

// wholeLines is body without what stands behind its last line end: of a text
// that was cut there, "2027-05-1" may have been the 14th.
func wholeLines(body []byte) []byte {
	return body[:bytes.LastIndexAny(body, "\r\n")+1]
}

// otherFile says what a file is that is no text, or is empty.
func otherFile(body []byte) string {
	for _, f := range []struct{ magic, what string }{
		{"PK\x03\x04", "a spreadsheet, or another packed file"},
		{"\xd0\xcf\x11\xe0", "a spreadsheet of the older kind"},
		{"%PDF", "a PDF"},
		{"\x1f\x8b", "a packed file"},
	} {
		if bytes.HasPrefix(body, []byte(f.magic)) {
			return f.what
		}
	}
	if bytes.HasPrefix(bytes.ToLower(bytes.TrimSpace(body[:min(len(body), 512)])), []byte("<")) {
		return "a web page"
	}
	return ""
}

// rows takes a text apart into rows. A quotation mark that is not closed
// costs its own line alone.
func (l *lister) rows(body string) []row {
	var lines []string
	for body != "" && len(lines) <= maxLines {
		var text string
		text, body = cutLine(body)
		lines = append(lines, utf8Text(text))
	}
	if len(lines) > maxLines {
		lines = lines[:maxLines]
		l.leaveOut(maxLines+1, "", "only the first %d lines were read", maxLines)
	}
	comma, width := separator(lines)
	var rows []row
	for i := 0; i < len(lines); {
		n := recordLines(lines[i:], comma)
		text := strings.Join(lines[i:i+max(n, 1)], "\n")
		if strings.TrimSpace(text) == "" || i == 0 && strings.HasPrefix(strings.ToLower(text), "sep=") {
			i++
			continue
		}
		cells, err := readRecord(text, comma)
		// A row over several lines that has not even a cell for each heading
		// has taken in the rows below it.
		if err == nil && (n == 0 || n > 1 && len(cells) < width) {
			n, err = 1, errors.New("a quotation mark is not closed")
		}
		if err != nil {
			l.leaveOut(i+1, lines[i], "the row cannot be read: %v", err)
		} else {
			rows = append(rows, row{i + 1, cells})
		}
		i += max(n, 1)
	}
	return rows
}

// recordLines is how many lines the first row takes, or 0 where it has a
// quotation mark that is not closed.
func recordLines(lines []string, comma rune) int {
	quoted := false
	for n, line := range lines[:min(len(lines), maxRecord)] {
		if quoted = leavesOpen(line, quoted, comma); !quoted {
			return n + 1
		}
	}
	return 0
}

// leavesOpen reports whether a line ends inside quotation marks. One opens at
// the start of a cell and closes at its end; elsewhere it is a letter.
func leavesOpen(line string, quoted bool, comma rune) bool {
	start := true // of a cell
	for i := 0; i < len(line); i++ {
		switch {
		case line[i] != '"':
			start = !quoted && rune(line[i]) == comma
			continue
		case !quoted:
			quoted = start
		case i+1 < len(line) && line[i+1] == '"':
			i++
		case i+1 == len(line) || rune(line[i+1]) == comma:
			quoted = false
		}
		start = false
	}
	return quoted
}

func readRecord(text string, comma rune) ([]string, error) {
	if len(text) > maxLine {
		return nil, errors.New("it is longer than 64 KB")
	}
	var cells []string
	if strings.Contains(text, `"`) {
		r := csv.NewReader(strings.NewReader(text))
		r.Comma, r.LazyQuotes, r.FieldsPerRecord = comma, true, -1
		var err error
		if cells, err = r.Read(); err != nil {
			return nil, err
		}
	} else {
		cells = strings.Split(text, string(comma))
	}
	if len(cells) > maxCells {
		return nil, fmt.Errorf("it has more than %d cells", maxCells)
	}
	return cells, nil
}

// separator is what stands between cells, and how many cells the headings
// are: whichever of the three gives the first rows the most headings.
func separator(lines []string) (comma rune, width int) {
	comma, most := ',', 0
	for _, try := range ",;\t" {
		for _, line := range lines[:min(len(lines), headingSearch)] {
			cells, err := readRecord(line, try)
			loose, _ := looseHeadings(cells)
			if n := maxCells*len(headingsOf(cells)) + len(loose); err == nil && n > most {
				comma, most, width = try, n, len(cells)
			}
		}
	}
	return comma, width
}

var errNoHeadings = errors.New("no headings are found: the first rows need one for the name and one for the date, such as name, date, place")

// findHeadings finds the row of headings: the first that names its columns
// outright, or else the first whose words tell of them. What else it leaves
// open comes with it; where name or date are open, that is the error.
func findHeadings(rows []row) (at int, h headings, doubts []doubt, err error) {
	rows, err = rows[:min(len(rows), headingSearch)], errNoHeadings
	for i, r := range rows {
		if headingsOf(r.cells).enough() {
			h, doubts = looseHeadings(r.cells)
			return i, h, doubts, nil
		}
	}
	for i, r := range rows {
		h, doubts = looseHeadings(r.cells)
		switch {
		case holdsDay(r.cells):
		case h.enough():
			return i, h, doubts, nil
		case err == errNoHeadings && h.enoughWith(doubts):
			err = doubts[0]
		}
	}
	return 0, nil, nil, err
}

// tableRow is a row, understood as far as it can be by itself.
type tableRow struct {
	row
	what     string
	from, to writtenDay
	until    string // the hour at which it ends, where the column of the last day has that
}

// bodyRows turns the rows below the headings into events. What order day and
// month stand in is settled by all of them together.
func (l *lister) bodyRows(h headings, rows []row) {
	var read []tableRow
	evidence := map[Order]bool{}
	for _, r := range rows {
		t, err := l.readRow(h, r)
		if err != nil {
			l.leaveOut(r.line, t.what, "%v", err)
			continue
		}
		for _, w := range []writtenDay{t.from, t.to} {
			evidence[w.order()] = true
		}
		read = append(read, t)
	}
	l.listing.Told = len(read)
	order := l.scope.Order
	if order == "" && evidence[DayMonth] != evidence[MonthDay] {
		order = MonthDay
		if evidence[DayMonth] {
			order = DayMonth
		}
	}
	for _, t := range read {
		if open := t.openDay(); order == "" && open != nil {
			l.ask(t.line, *open)
			l.leaveOut(t.line, t.what, "%s may be %s or %s", open.text, open.dayMonth.Words(), open.monthDay.Words())
			continue
		}
		if !l.takeRow(h, t, order) {
			return
		}
	}
}

// openDay is the day of a row that has two readings, or nil.
func (t tableRow) openDay() *writtenDay {
	for _, w := range []*writtenDay{&t.from, &t.to} {
		if w.open() {
			return w
		}
	}
	return nil
}

// ask adds a row to the question about the order of day and month.
func (l *lister) ask(line int, w writtenDay) {
	if len(l.listing.Questions) == 0 {
		l.listing.Questions = []Question{{Line: line, Text: w.text, DayMonth: w.dayMonth, MonthDay: w.monthDay}}
	}
	l.listing.Questions[0].Rows++
}

// readRow reads the days of a row.
func (l *lister) readRow(h headings, r row) (t tableRow, err error) {
	get := func(c column) string { i, ok := h[c]; return r.cell(i, ok) }
	t = tableRow{row: r, what: clean(get(colName), maxName)}
	if t.what == "" {
		return t, errors.New("it has no name")
	}
	if notYet(get(colFrom)) {
		return t, errors.New("it has no date yet")
	}
	if t.from, t.to, err = parseDays(get(colFrom), l.scope.Zone); err != nil {
		return t, err
	}
	last := get(colTo)
	if notYet(last) {
		return t, nil
	}
	if _, _, err := parseHours(last); err == nil { // "until" is an hour in some tables
		t.until = last
		return t, nil
	}
	if t.to, _, err = parseDays(last, l.scope.Zone); err != nil {
		return t, fmt.Errorf("its last day cannot be read: %w", err)
	}
	return t, nil
}

// takeRow makes an event of a row, and reports whether there is room for more.
func (l *lister) takeRow(h headings, t tableRow, order Order) bool {
	get := func(c column) string { i, ok := h[c]; return t.cell(i, ok) }
	from, to := t.from.in(order), t.to.in(order)
	if to.IsZero() {
		to = from
	}
	switch {
	case to.Before(from):
		l.leaveOut(t.line, t.what, "its last day, %s, is before its first, %s", to.Words(), from.Words())
		return true
	case to.DaysSince(from) > maxDays:
		l.leaveOut(t.line, t.what, "%v", errLong)
		return true
	}
	status := strings.ToLower(get(colStatus))
	if strings.HasPrefix(status, "cancel") {
		l.leaveOut(t.line, t.what, "it is cancelled")
		return true
	}
	e := Event{What: t.what, From: from, To: to, Kind: kindOf(get(colKind), t.what), Status: Announced,
		Place:  milestones.Place{Name: clean(get(colPlace), maxName), City: clean(get(colCity), maxName)},
		Note:   clean(get(colNote), maxNote),
		Source: Source{l.scope.Source, t.line}}
	switch status {
	case "tentative", "expected", "planned", "provisional":
		e.Status = Expected
	}
	l.setHours(&e, t, get(colTime), cmp.Or(get(colUntil), t.until))
	if !l.scope.touches(e.From, e.To) {
		return true
	}
	e.Place.At = l.position(t.line, t.what, get(colLat), get(colLon))
	return l.take(e)
}

// setHours sets the hours of a row. An end that is earlier than the start, on
// the same day, is on the next: what goes on past midnight.
func (l *lister) setHours(e *Event, t tableRow, at, until string) {
	start, end := t.from.clock, cmp.Or(t.to.clock, t.from.until)
	for _, w := range []writtenDay{t.from, t.to} {
		if w.odd != "" {
			l.leaveOut(t.line, e.What, "beside its day, %q is not taken", w.odd)
		}
	}
	if at != "" {
		first, last, err := parseHours(at)
		if err != nil {
			l.leaveOut(t.line, e.What, "its hour is not taken: %v", err)
		} else {
			start, end = first, last
		}
	}
	if until != "" {
		last, _, err := parseHours(until)
		if err != nil {
			l.leaveOut(t.line, e.What, "its last hour is not taken: %v", err)
		} else {
			end = last
		}
	}
	if start == nil && end != nil {
		l.leaveOut(t.line, e.What, "its last hour is not taken: there is none at which it begins")
		return
	}
	if e.Start = start; end == nil {
		return
	}
	from, to := wallOf(e.From, *start), wallOf(e.To, *end)
	if e.From == e.To && to.Before(from) {
		to = to.AddDate(0, 0, 1)
	}
	if to.After(from) {
		e.setClocks(from, to)
	}
}

func wallOf(d milestones.Date, c milestones.Clock) time.Time {
	return time.Date(d.Year, d.Month, d.Day, c.Hour, c.Minute, 0, 0, time.UTC)
}
