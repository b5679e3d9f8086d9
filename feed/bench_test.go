package feed_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
)

// tenfold is the demo plan with each agreement ten times over, under other
// keys.
func tenfold(t testing.TB) *milestones.Plan {
	p, _ := demo(t)
	once := slices.Clone(p.Agreements)
	for n := 1; n < 10; n++ {
		for _, a := range once {
			a.Key = fmt.Sprintf("%s-%d", a.Key, n)
			a.Pay, a.Cancel = slices.Clone(a.Pay), slices.Clone(a.Cancel)
			a.Change, a.Papers = slices.Clone(a.Change), slices.Clone(a.Papers)
			for k := range a.Change {
				a.Change[k].Says = "spare " + a.Change[k].Says // what is counted from it stays the first
			}
			p.Agreements = append(p.Agreements, a)
		}
	}
	if faults, _ := p.Read(); len(faults) > 0 {
		t.Fatal(faults)
	}
	return p
}

// sizes are the plans that are measured.
var sizes = []struct {
	name string
	plan func(testing.TB) *milestones.Plan
}{
	{"demo", func(t testing.TB) *milestones.Plan { p, _ := demo(t); return p }},
	{"demo x 10", tenfold},
}

func BenchmarkSchedule(b *testing.B) {
	for _, size := range sizes {
		p := size.plan(b)
		closures, _ := conflicts.ClosuresFor(p.Wedding.Region)
		b.Run(size.name, func(b *testing.B) {
			n := 0
			for b.Loop() {
				n = len(milestones.Schedule(p, closures))
			}
			b.ReportMetric(float64(n), "items")
		})
	}
}

// BenchmarkFeed is from items to bytes, for one of the couple.
func BenchmarkFeed(b *testing.B) {
	for _, size := range sizes {
		p := size.plan(b)
		closures, _ := conflicts.ClosuresFor(p.Wedding.Region)
		items := milestones.Schedule(p, closures)
		b.Run(size.name, func(b *testing.B) {
			for b.Loop() {
				var c feed.Calendar
				for _, e := range feed.View(p, items, "maren") {
					c.Published = append(c.Published, feed.Published{Entry: e, Alarm: true, Changed: stamp})
				}
				feed.Encode(c)
			}
		})
	}
}

// BenchmarkEncode sets Encode against the library that it writes with: the
// same entries built and serialised with nothing cleaned, and with their texts
// ready, which Encode has to find first. Both are timed in turn, so that what
// else the machine does falls on both.
func BenchmarkEncode(b *testing.B) {
	p, items := demo(b)
	c := calendarOf(p, items, "maren", feed.ByAlarm)
	plain := readyTexts(c)
	var ours, theirs time.Duration
	for b.Loop() {
		start := time.Now()
		feed.Encode(c)
		middle := time.Now()
		plain.serialise()
		ours, theirs = ours+middle.Sub(start), theirs+time.Since(middle)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "x-of-library")
	b.ReportMetric(float64(ours.Nanoseconds())/float64(b.N)/float64(len(c.Published)), "ns/entry")
}

// ready is an entry with its texts found.
type ready struct {
	*feed.Published
	summary, text, start, end string
}

type readies []ready

func readyTexts(c feed.Calendar) (all readies) {
	for n := range c.Published {
		e := &c.Published[n]
		start, end := bounds(e)
		all = append(all, ready{e, e.Summary(), e.Text() + "\nAll your dates: " + e.Link, start, end})
	}
	return all
}

// serialise is what anybody would write who has entries and the library.
func (all readies) serialise() string {
	cal := ics.NewCalendarFor("banns")
	cal.SetName("Maren and Theo")
	for _, r := range all {
		e := cal.AddEvent(r.UID)
		e.SetDtStampTime(r.Changed)
		e.SetModifiedAt(r.Changed)
		e.SetSequence(r.Sequence)
		if r.Clock == nil {
			e.SetProperty(ics.ComponentPropertyDtStart, r.start, ics.WithValue("DATE"))
			e.SetProperty(ics.ComponentPropertyDtEnd, r.end, ics.WithValue("DATE"))
		} else {
			e.SetProperty(ics.ComponentPropertyDtStart, r.start, ics.WithTZID(r.Zone))
			e.SetProperty(ics.ComponentPropertyDtEnd, r.end, ics.WithTZID(r.Zone))
		}
		e.SetSummary(r.summary)
		e.SetDescription(r.text)
		e.SetURL(r.Link)
		if place := r.Place.String(); place != "" {
			e.SetLocation(place)
		}
		e.SetStatus(ics.ObjectStatusConfirmed)
		e.SetTimeTransparency(ics.TransparencyTransparent)
		if r.Alarm && r.Done.IsZero() {
			a := e.AddAlarm()
			a.SetAction(ics.ActionDisplay)
			a.SetDescription(r.summary)
			a.SetTrigger("-PT15H")
		}
	}
	return cal.Serialize(ics.WithNewLineWindows)
}
