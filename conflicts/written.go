package conflicts

import (
	"bytes"
	"encoding/csv"
	"errors"
	"strings"

	"banns/milestones"
)

// writtenHeadings are those of a table that is written row by row.
var writtenHeadings = []string{"event", "first day", "last day", "place", "note"}

// Written is one event as somebody writes it down.
type Written struct {
	What     string
	From, To milestones.Date // To is zero for one day
	Place    string
	Note     string
}

// AddRow is a table with one more event; an empty one gets its headings. It
// is read as every other table is.
func AddRow(table []byte, e Written) []byte {
	var out bytes.Buffer
	out.Write(table)
	w := csv.NewWriter(&out)
	if len(table) == 0 {
		w.Write(writtenHeadings)
	}
	to := ""
	if !e.To.IsZero() {
		to = e.To.String()
	}
	w.Write([]string{oneLine(e.What), e.From.String(), to, oneLine(e.Place), oneLine(e.Note)})
	w.Flush() // a buffer takes everything
	return out.Bytes()
}

// oneLine is text without line ends, so that each row is one line.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// ErrRow is of a row that is not in the table.
var ErrRow = errors.New("the table has no such row")

// RowAt is the text of a line of a table made by AddRow, counted from 1, or
// empty where there is none.
func RowAt(table []byte, line int) string {
	lines := strings.Split(strings.TrimSuffix(string(table), "\n"), "\n")
	if line < 2 || line > len(lines) {
		return ""
	}
	return lines[line-1]
}

// RowWords is a row of a table made by AddRow, for people: "Sat 18 Sep 2027:
// Open day, Gull Field".
func RowWords(row string) string {
	cells, err := csv.NewReader(strings.NewReader(row)).Read()
	if err != nil || len(cells) < len(writtenHeadings) {
		return row
	}
	days := cells[1]
	if on, err := milestones.ParseDate(days); err == nil {
		days = on.Words()
	}
	if to, err := milestones.ParseDate(cells[2]); err == nil {
		days += " to " + to.Words()
	}
	says := days + ": " + cells[0]
	for _, more := range cells[3:] {
		if more != "" {
			says += ", " + more
		}
	}
	return says
}

// TakeRow is a table made by AddRow without the first row of that text, and
// empty where that was its last. ErrRow where there is none.
func TakeRow(table []byte, row string) ([]byte, error) {
	lines := strings.SplitAfter(string(table), "\n")
	for n, line := range lines {
		if n > 0 && line == row+"\n" && row != "" {
			rest := strings.Join(append(lines[:n:n], lines[n+1:]...), "")
			if strings.Count(rest, "\n") < 2 {
				return nil, nil
			}
			return []byte(rest), nil
		}
	}
	return table, ErrRow
}
