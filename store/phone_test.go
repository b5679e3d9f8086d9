package store_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// display is one entry of a feed as a phone reads it.
type display struct {
	uid      string
	content  string // the lines of its event, but for the stamps
	sequence int
	stamp    time.Time // DTSTAMP, which LAST-MODIFIED is too
}

const icsTime = "20060102T150405Z"

// eventsIn are the entries of a calendar, in its order.
func eventsIn(body []byte) (all []display, err error) {
	parts := strings.Split(unfold(string(body)), "BEGIN:VEVENT\r\n")
	for _, part := range parts[1:] {
		text, _, whole := strings.Cut(part, "END:VEVENT\r\n")
		if !whole {
			return nil, fmt.Errorf("half an event: %s", part)
		}
		e := display{uid: line(text, "UID")}
		for l := range strings.Lines(text) {
			switch name, _, _ := strings.Cut(l, ":"); name {
			case "UID", "SEQUENCE", "DTSTAMP", "LAST-MODIFIED":
			default:
				e.content += l
			}
		}
		if e.sequence, err = strconv.Atoi(line(text, "SEQUENCE")); err != nil {
			return nil, err
		}
		if e.stamp, err = time.Parse(icsTime, line(text, "DTSTAMP")); err != nil {
			return nil, err
		}
		if modified := line(text, "LAST-MODIFIED"); modified != line(text, "DTSTAMP") {
			return nil, fmt.Errorf("LAST-MODIFIED is %s in\n%s", modified, text)
		}
		all = append(all, e)
	}
	return all, nil
}

// day is the day on which the entry stands, as 20270918.
func (e *display) day() string {
	start := line(e.content, "DTSTART")
	return start[strings.LastIndex(start, ":")+1:][:len("20270918")]
}

var (
	sums = regexp.MustCompile(` (for )?\$\d+\.\d\d`)
	tag  = regexp.MustCompile(`tag\d+`)
)

// off is what stands in the place of the entry once it is off: its day, and
// its title without a sum.
func (e *display) off() string {
	var b strings.Builder
	for l := range strings.Lines(e.content) {
		switch {
		case strings.HasPrefix(l, "DTSTART"), strings.HasPrefix(l, "DTEND"):
			b.WriteString(l)
		case strings.HasPrefix(l, "SUMMARY:"):
			b.WriteString("SUMMARY:Withdrawn: " + sums.ReplaceAllString(strings.TrimPrefix(l, "SUMMARY:"), ""))
		}
	}
	return b.String() + "STATUS:CANCELLED\r\nTRANSP:TRANSPARENT\r\n"
}

// thing is what the entry is of, whatever day and words it has by now: its
// tag, or, of what no edit rewords, its title.
func (e *display) thing() string {
	title := strings.TrimPrefix(line(e.content, "SUMMARY"), "Withdrawn: ")
	notice := ""
	if strings.HasPrefix(title, "By ") || strings.HasPrefix(title, "On ") {
		notice = "notice of "
		title = title[strings.LastIndex(title, ": ")+2:]
	}
	switch named := tag.FindString(title); {
	case named != "":
		title = named
	case strings.HasSuffix(title, ": the wedding"):
		title = "the wedding"
	}
	return notice + title
}

// phone is what one feed has shown, and so what it has to show next. It is
// made of what clients read, and knows nothing of a ledger.
type phone struct {
	known map[string]*shown // by UID, all that there ever was
	uids  map[string]string // by thing
}

type shown struct {
	display
	went time.Time // when it was taken off, or zero
	gone bool
}

func newPhone() *phone { return &phone{map[string]*shown{}, map[string]string{}} }

// sixtyDays is how long what is off is shown as withdrawn.
const sixtyDays = 60 * 24 * time.Hour

// turn is the entries that a calendar has once wanted is published, by UID;
// now is in whole seconds, and today is as 20270918.
func (p *phone) turn(wanted []display, now time.Time, today string) map[string]display {
	wants := map[string]bool{}
	for _, w := range wanted {
		wants[w.uid] = true
		had, ok := p.known[w.uid]
		if !ok {
			had = &shown{display: display{uid: w.uid, content: w.content, stamp: now}}
			p.known[w.uid] = had
		}
		had.become(w.content, now)
		had.went, had.gone = time.Time{}, false
	}
	all := map[string]display{}
	for uid, e := range p.known {
		switch {
		case wants[uid] || e.gone:
		case !e.went.IsZero():
			e.gone = now.Sub(e.went) >= sixtyDays
		case e.day() < today:
			e.gone = true
		default:
			e.become(e.off(), now)
			e.went = e.stamp
		}
		if !e.gone {
			all[uid] = e.display
		}
	}
	return all
}

// become raises the stamps where the content is another.
func (e *shown) become(content string, now time.Time) {
	if content == e.content {
		return
	}
	e.content, e.sequence = content, e.sequence+1
	if next := e.stamp.Add(time.Second); now.Before(next) {
		now = next
	}
	e.stamp = now
}

// unlike tells where a calendar's entries are not those that it has to have.
func (p *phone) unlike(got []display, want map[string]display) string {
	had := map[string]bool{}
	for _, g := range got {
		w, ok := want[g.uid]
		switch {
		case had[g.uid]:
			return "twice there is " + g.uid
		case !ok:
			return fmt.Sprintf("this is not to be shown: %+v", g)
		case g != w:
			return fmt.Sprintf("this is shown:\n%+v\nwant:\n%+v", g, w)
		case p.uids[g.thing()] == "":
			p.uids[g.thing()] = g.uid
		case p.uids[g.thing()] != g.uid:
			return fmt.Sprintf("%q went by %s, and now by %s", g.thing(), p.uids[g.thing()], g.uid)
		}
		had[g.uid] = true
	}
	for uid, w := range want {
		if !had[uid] {
			return fmt.Sprintf("this is not shown: %+v", w)
		}
	}
	return ""
}
