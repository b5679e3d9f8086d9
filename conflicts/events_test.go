package conflicts

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the wanted listings anew; read them before you commit")

// year2027 is what the tests read for, unless they say otherwise.
func year2027(t testing.TB, name string) Scope {
	return Scope{Source: name, Zone: zone(t, "America/Detroit"), From: d(2027, 1, 1), To: d(2027, 12, 31)}
}

// Every file of testdata/events, with what is taken of it and what is left
// out beside it.
func TestDirtyFiles(t *testing.T) {
	calendars, _ := filepath.Glob("../testdata/events/*.ics")
	tables, _ := filepath.Glob("../testdata/events/*.csv")
	if len(calendars) < 7 || len(tables) < 6 {
		t.Fatalf("only these are there: %v %v", calendars, tables)
	}
	files := append(calendars, tables...)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			body, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			listing, err := ReadEvents(bytes.NewReader(body), year2027(t, filepath.Base(file)))
			got := shown(listing)
			if err != nil {
				t.Fatal(err)
			}
			if *update {
				if err := os.WriteFile(file+".want", []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file + ".want")
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("reads\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// shown is a listing as the .want files have it.
func shown(l Listing) string {
	var b strings.Builder
	for _, e := range l.Events {
		fmt.Fprintf(&b, "line %d: %s", e.Source.Line, e.From.Words())
		if e.Start != nil {
			fmt.Fprintf(&b, " %s", e.Start)
		}
		if e.To != e.From {
			fmt.Fprintf(&b, " to %s", e.To.Words())
		} else if e.End != nil {
			fmt.Fprint(&b, " to")
		}
		if e.End != nil {
			fmt.Fprintf(&b, " %s", e.End)
		}
		fmt.Fprintf(&b, " | %s | %s %s", e.What, e.Status, e.Kind)
		if e.Place.String() != "" || e.Place.At != nil {
			fmt.Fprintf(&b, " | %s", e.Place)
		}
		if e.Place.At != nil {
			fmt.Fprintf(&b, " %v", *e.Place.At)
		}
		if e.Note != "" {
			fmt.Fprintf(&b, " | %s", e.Note)
		}
		b.WriteByte('\n')
	}
	for _, q := range l.Questions {
		fmt.Fprintf(&b, "asks on line %d, for %d rows: %s is %s or %s\n", q.Line, q.Rows, q.Text, q.DayMonth.Words(), q.MonthDay.Words())
	}
	for _, o := range l.LeftOut {
		fmt.Fprintf(&b, "left out, line %d: %s: %s\n", o.Line, o.What, o.Reason)
	}
	if l.More > 0 {
		fmt.Fprintf(&b, "and %d more left out\n", l.More)
	}
	return b.String()
}

// addFiles gives the texts of files to a fuzz test.
func addFiles(f *testing.F, pattern string) {
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		f.Fatalf("no files: %v", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
}
