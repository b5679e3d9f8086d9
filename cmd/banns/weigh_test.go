package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

type hostileText struct{ body, says string }

// hostile are calendars that were made to keep a reader busy. They are made
// where they are asked for: the scripts run this very program for each command.
func hostile() map[string]hostileText {
	return map[string]hostileText{
		"every second for ever": {"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nDTSTART:20200101T000000Z\r\nRRULE:FREQ=SECONDLY\r\nSUMMARY:Tick\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n", "Tick"},
		"5 MB of repeats": {"BEGIN:VCALENDAR\r\n" + strings.Repeat("BEGIN:VEVENT\r\nDTSTART:20200101T000000Z\r\nRRULE:FREQ=SECONDLY;BYSECOND=0,1,2,3,4,5,6,7,8,9\r\nSUMMARY:Tick\r\nEND:VEVENT\r\n", 50_000) +
			"END:VCALENDAR\r\n", "only the first 5 MB were read"},
		"5 MB of one line":    {"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nSUMMARY:" + strings.Repeat("x", 6<<20), "only the first 5 MB were read"},
		"5 MB of beginnings":  {strings.Repeat("BEGIN:VEVENT\r\n", 450_000), ""},
		"5 MB of table":       {"name,date\n" + strings.Repeat("Fair,2027-09-18\n", 400_000), "only the first"},
		"5 MB of commas":      {"name,date\n" + strings.Repeat(",", 6<<20), "only the first 5 MB were read"},
		"5 MB of one edition": {"name,date\n" + editionsOf(60_000), "only the first 50000 events are taken"},
	}
}

// editionsOf are editions of many events, so that there are as many patterns
// to be looked for.
func editionsOf(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "Event %c%c%c day,%d-09-%02d\n", 'a'+i/8/676%26, 'a'+i/8/26%26, 'a'+i/8%26, 2019+i%8, 12+i%7)
	}
	return b.String()
}

// A calendar that was made to do harm is answered, with what was refused.
func TestWeighHostileCalendars(t *testing.T) {
	for name, row := range hostile() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			file := filepath.Join(t.TempDir(), "town.ics")
			if err := os.WriteFile(file, []byte(row.body), 0o600); err != nil {
				t.Fatal(err)
			}
			ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute) // generous: the machine may be busy
			defer cancel()
			var out, errs bytes.Buffer
			ended := make(chan int, 1)
			go func() {
				ended <- run(ctx, []string{"--today", "2026-11-25", "weigh", "../../testdata/plans/maren-and-theo.yaml", "--events", file}, strings.NewReader(""), &out, &errs)
			}()
			select {
			case <-ctx.Done():
				t.Fatal("it does not come back")
			case status := <-ended:
				if status > 1 || status == 1 && !strings.Contains(errs.String(), "cannot be read as a calendar") || !strings.Contains(errs.String(), row.says) {
					t.Errorf("it ends with %d: %.500s", status, errs.String())
				}
				if status == 0 && !strings.Contains(out.String(), "Sat 18 Sep 2027") {
					t.Errorf("it weighs nothing: %.500s", out.String())
				}
			}
		})
	}
}
