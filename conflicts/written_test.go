package conflicts

import (
	"bytes"
	"testing"
	"time"

	"banns/milestones"
)

// TestWritten reads back by the reader of tables what was written down row by
// row (RFC 4180), whatever its text; and takes rows out again.
func TestWritten(t *testing.T) {
	day := func(m time.Month, d int) milestones.Date { return milestones.Date{Year: 2027, Month: m, Day: d} }
	all := []Written{
		{What: "Harbor regatta", From: day(6, 12)},
		{What: `The "Big, Loud" show`, From: day(9, 17), To: day(9, 19), Place: "Gull Field, east gate", Note: "doors at 18"},
		{What: "=1+1\r\nSum of all", From: day(9, 18), Place: "x;y\tz"},
		{What: "Harbor regatta", From: day(6, 13)},
	}
	var table []byte
	for _, e := range all {
		table = AddRow(table, e)
	}
	l, err := ReadEvents(bytes.NewReader(table), Scope{Source: "written", Zone: time.UTC, From: day(1, 1), To: day(12, 31)})
	if err != nil || len(l.Events) != len(all) || len(l.LeftOut) > 0 || len(l.Questions) > 0 {
		t.Fatalf("read are %+v: %v", l, err)
	}
	for n, want := range []string{"Sat 12 Jun 2027: Harbor regatta", `Fri 17 Sep 2027 to Sun 19 Sep 2027: The "Big, Loud" show, Gull Field, east gate, doors at 18`,
		"Sat 18 Sep 2027: =1+1 Sum of all, x;y z", "Sun 13 Jun 2027: Harbor regatta"} {
		if got := RowWords(RowAt(table, n+2)); got != want {
			t.Errorf("row %d is told as %q, not %q", n, got, want)
		}
	}
	for _, e := range l.Events {
		if row := RowAt(table, e.Source.Line); row == "" {
			t.Errorf("%s has no row at line %d", e.What, e.Source.Line)
		}
	}
	if _, err := TakeRow(table, "event,first day,last day,place,note"); err != ErrRow {
		t.Errorf("the headings can be taken out: %v", err)
	}
	for range all {
		row := RowAt(table, 2)
		if table, err = TakeRow(table, row); err != nil {
			t.Fatal(err)
		}
	}
	if table != nil {
		t.Errorf("at the end %q is left", table)
	}
	if _, err := TakeRow(table, ""); err != ErrRow {
		t.Errorf("a row of nothing: %v", err)
	}
}
