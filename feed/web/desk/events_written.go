package desk

import (
	"errors"
	"fmt"
	"net/http"
	"strings"
	"unicode/utf8"

	"banns/conflicts"
	"banns/milestones"
)

// writtenSource is the table of the events that are written down one by one.
const writtenSource = "written-here"

// writtenMost is how many letters a text of an event may have.
const writtenMost = 200

// writtenRow is an event that was written down, which can be taken out again.
type writtenRow struct{ Says, Row string }

// writeEvent asks for one public event.
func writeEvent() form {
	return form{Lead: nothingRead, Fields: []field{
		{Path: "what", Label: "What is on", Hint: "A match, a festival, a graduation; the same name each year lets the next be expected."},
		{Path: "from", Label: "The day, or the first of them", Kind: dateKind},
		{Path: "to", Label: "The last day", Kind: dateKind, Hint: "Empty for one day."},
		{Path: "where", Label: "Where", Hint: "The name of the place; it may stay empty."},
	}}
}

// addWritten answers POST of one public event.
func (d *Desk) addWritten(w http.ResponseWriter, r *http.Request) error {
	f := writeEvent()
	for n := range f.Fields {
		f.Fields[n].Value = strings.TrimSpace(r.PostForm.Get(f.Fields[n].Path))
	}
	e := f.written()
	s := sightOf(r)
	if len(f.Faults) == 0 {
		err := d.Store.RewriteSource(r.Context(), s.ID, writtenSource, func(table []byte) ([]byte, error) {
			if table = conflicts.AddRow(table, e); len(table) > conflicts.MaxBody {
				return nil, errFull
			}
			return table, nil
		}, d.Now())
		if err == nil {
			return goTo(w, r, s.at("events")+"?added="+writtenSource+"#"+writtenSource)
		} else if !errors.Is(err, errFull) {
			return err
		}
		f.fault("what", "more cannot be written down here", "take out what is over")
	}
	forms := newEventForms()
	forms.Write = f
	return d.showEvents(w, r, http.StatusUnprocessableEntity, forms)
}

var errFull = errors.New("the table is full")

// written is the event that the form says, as far as it is sound.
func (f *form) written() conflicts.Written {
	e := conflicts.Written{What: f.at("what").Value, Place: f.at("where").Value}
	if e.What == "" {
		f.fault("what", "nothing is written here", "write what is on, for instance Harbor regatta")
	}
	for _, path := range []string{"what", "where"} {
		if utf8.RuneCountInString(f.at(path).Value) > writtenMost {
			f.fault(path, fmt.Sprintf("it is longer than %d letters", writtenMost), "shorten it")
		}
	}
	day := func(path string) milestones.Date {
		text := f.at(path).Value
		on, err := milestones.ParseDate(text)
		switch {
		case text == "" && path == "to":
		case text == "":
			f.fault(path, "the day is missing", "write on which day it is")
		case err != nil:
			f.fault(path, err.Error(), "")
		case on.Year < firstYear || on.Year > lastYear:
			f.fault(path, fmt.Sprintf("it is not between %d and %d", firstYear, lastYear), "write the year in full")
		}
		return on
	}
	e.From, e.To = day("from"), day("to")
	if !e.To.IsZero() && e.To.Before(e.From) {
		f.fault("to", "it is before the first day", "write a later one, or leave it empty")
	}
	return e
}

// takeWritten answers POST of an event that is to count no more.
func (d *Desk) takeWritten(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	err := d.Store.RewriteSource(r.Context(), s.ID, writtenSource, func(table []byte) ([]byte, error) {
		return conflicts.TakeRow(table, r.PostForm.Get("row"))
	}, d.Now())
	if errors.Is(err, conflicts.ErrRow) { // somebody else has taken it out
		return goTo(w, r, s.at("events"))
	} else if err != nil {
		return err
	}
	return goTo(w, r, s.at("events")+"#"+writtenSource)
}

// written has the row show each event with a way to take it out.
func (row *sourceRow) written(table []byte) {
	row.From = strings.Replace(row.From, "From a file, read on", "Written down here, the last on", 1)
	for n := 2; ; n++ {
		text := conflicts.RowAt(table, n)
		if text == "" {
			return
		}
		row.Rows = append(row.Rows, writtenRow{conflicts.RowWords(text), text})
	}
}
