package main

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"banns/feed/check"
	"banns/feed/web/browse"
)

// hands use a browser as people do, and count what they do.
type hands struct {
	t          *testing.T
	ctx        context.Context
	width      int64 // of the screen
	keys, taps int
}

// newHands have a browser of their own, on a screen so wide.
func newHands(t *testing.T, width int64) *hands {
	h := &hands{t: t, ctx: browse.Start(t), width: width}
	browse.Do(t, h.ctx, chromedp.EmulateViewport(width, 844))
	return h
}

// write taps a field, and types into it.
func (h *hands) write(field, text string) {
	h.t.Helper()
	h.writeAt("#"+field, text)
}

// fill writes into several fields of a form, one after the other: the name of
// each, and what goes there.
func (h *hands) fill(form string, fields ...[2]string) {
	h.t.Helper()
	for _, one := range fields {
		h.write(form+one[0], one[1])
	}
}

// tick ticks one of a field's boxes, by its label.
func (h *hands) tick(field, label string) {
	h.t.Helper()
	browse.Do(h.t, h.ctx, chromedp.Click(h.find(fmt.Sprintf("label[for^=%q]", field+"-"), label)))
	h.taps++
}

// choose takes one of the options of a field: a tap opens it, another chooses.
func (h *hands) choose(field, label string) {
	h.t.Helper()
	browse.Type(h.t, h.ctx, "#"+field, label)
	h.taps += 2
}

// find marks the first thing that can be seen and says so, and tells where it is.
func (h *hands) find(kinds, says string) chromedp.CSS {
	h.t.Helper()
	script := `(() => {
		document.querySelectorAll("[data-found]").forEach(e => e.removeAttribute("data-found"));
		const e = [...document.querySelectorAll(%q)].find(e => e.checkVisibility() && !e.closest("[aria-hidden=true]") && e.textContent.replace(/\s+/g, " ").trim() === %q);
		e?.setAttribute("data-found", "");
		return e !== undefined;
	})()`
	if !browse.Tell[bool](h.t, h.ctx, fmt.Sprintf(script, kinds, says)) {
		h.t.Fatalf("%s has no %q: %s", browse.Tell[string](h.t, h.ctx, `location.pathname`), says, browse.Tell[string](h.t, h.ctx, `document.body.innerText`))
	}
	return "[data-found]"
}

// pageMost ends the wait for a page that something pressed does not lead to.
const pageMost = 2 * time.Minute

// press taps a link or a button that leads to a page, by what it says.
func (h *hands) press(says string) {
	h.t.Helper()
	h.answers(says, http.StatusOK)
}

// answers taps what leads to a page with that status.
func (h *hands) answers(says string, status int64) {
	h.t.Helper()
	ctx, cancel := context.WithTimeout(h.ctx, pageMost)
	defer cancel()
	res, err := chromedp.RunResponse(ctx, chromedp.Click(h.find("a, button", says)))
	if err != nil {
		h.t.Fatalf("pressing %q: %v", says, err)
	}
	h.taps++
	if res.Status != status {
		h.t.Fatalf("pressing %q: %d, %s", says, res.Status, browse.Tell[string](h.t, h.ctx, `document.querySelector("main").innerText`))
	}
}

// open unfolds what is folded up under some words.
func (h *hands) open(says string) {
	h.t.Helper()
	browse.Do(h.t, h.ctx, chromedp.Click(h.find("summary", says)))
	h.taps++
}

// shows fails where the page does not say so.
func (h *hands) shows(says string) {
	h.t.Helper()
	if text := browse.Tell[string](h.t, h.ctx, `document.body.innerText.replace(/\s+/g, " ")`); !strings.Contains(text, says) {
		h.t.Fatalf("the page lacks %q: %s", says, text)
	}
}

// link is the address of somebody's page, which stands on the page that it
// leaves open.
func (h *hands) link(who string) string {
	h.t.Helper()
	h.press("People")
	h.press(who)
	h.press("Their link")
	return h.address()
}

// address is the one that the page has to be sent.
func (h *hands) address() string {
	h.t.Helper()
	return browse.Tell[string](h.t, h.ctx, `document.getElementById("address").value`)
}

// calendarOf is the address of the calendar that goes with a page.
func calendarOf(page string) string { return strings.Replace(page, "/p/", "/c/", 1) + ".ics" }

// agreement writes down an agreement from its own page: what it is, and its
// lines, by the list that they stand in.
func (h *hands) agreement(facts map[string]string, lines [][2]string) {
	h.t.Helper()
	const form = "agreements-new--"
	for _, name := range []string{"with", "service", "signed", "price", "payer"} {
		if text := facts[name]; text != "" {
			h.write(form+name, text)
		}
	}
	n := map[string]int{}
	for _, line := range lines {
		n[line[0]]++
		h.write(fmt.Sprintf("%s%s-new-%d-says", form, line[0], n[line[0]]), line[1])
	}
	h.press("Keep this agreement")
}

// person adds somebody, from the page of people.
func (h *hands) person(name, part string) {
	h.t.Helper()
	h.write("people-new--name", name)
	h.choose("people-new--part", part)
	h.press("Add them")
}

// From an empty store, by browser alone: a wedding, three agreements with
// ladders, four people; then the calendars of those who should have the dates
// have them, and nothing else. The days were reckoned by hand.
func TestFromNothing(t *testing.T) {
	t.Parallel()
	for name, width := range map[string]int64{"phone": 390, "desk": 1280} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			fromNothing(t, width)
		})
	}
}

func fromNothing(t *testing.T, width int64) {
	c := start(t, "serve", "--listen", "127.0.0.1:0", "--today", "2026-11-25")
	said := c.until(t, "/desk/in/")
	door := regexp.MustCompile(`http\S+/desk/in/\S+`).FindString(said)
	h := newHands(t, width)
	if _, err := chromedp.Call(h.ctx, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: "America/Detroit"}); err != nil {
		t.Fatal(err)
	}
	browse.Do(t, h.ctx, chromedp.Navigate(door))
	h.write("name", "Ida")
	h.write("passphrase", "four plain words here")
	h.press("Come in")

	h.shows("The first wedding")
	// The zone is the device's, and the currency the country's.
	h.fill("wedding-", [][2]string{{"title", "Maren and Theo"}, {"date", "09182027"}, {"start", "0430PM"},
		{"place-name", "The Net Loft"}, {"place-city", "Alder Harbor"}, {"region", "Michigan"}}...)
	h.press("Begin")
	h.shows("Sat 18 Sep 2027")
	first := *h

	h.press("The first agreement")
	h.agreement(map[string]string{"with": "Hollow Oak Table", "service": "catering", "signed": "11252026", "price": "12950"}, [][2]string{
		{"pay", "25% on signing"}, {"pay", "1,500 120 days before the wedding"}, {"pay", "balance 14 days before the wedding"},
		{"cancel", "25% until 181 days before the wedding"}, {"cancel", "50% until 91 days before the wedding"}, {"cancel", "100% after that"},
		{"change", "final headcount 10 business days before the wedding by 17:00"}})
	effort(t, first, hands{taps: h.taps - first.taps, keys: h.keys - first.keys})

	h.press("Next")
	h.press("The first person")
	h.person("Maren Okafor", "One of the couple")
	for _, one := range [][2]string{{"Theo Lindqvist", "One of the couple"}, {"Bea Lindqvist", "Family"}, {"Priya Nair", "Attendant"}} {
		h.press("People")
		h.press("Add somebody")
		h.person(one[0], one[1])
	}
	for _, one := range []struct {
		facts map[string]string
		lines [][2]string
	}{
		{map[string]string{"with": "The Net Loft", "service": "venue", "signed": "11252026", "price": "9000", "payer": "Bea Lindqvist"}, [][2]string{
			{"pay", "50% on signing"}, {"pay", "balance 60 days before the wedding"},
			{"cancel", "30% until 240 days before the wedding"}, {"cancel", "60% until 120 days before the wedding"}, {"cancel", "100% after that"}}},
		{map[string]string{"with": "Tern & Thread", "service": "attire", "signed": "11252026", "price": "2400"}, [][2]string{
			{"pay", "50% on signing"}, {"pay", "balance 30 days before the wedding"},
			{"cancel", "50% until 90 days before the wedding"}, {"cancel", "100% after that"}}},
	} {
		h.press("Agreements")
		h.press("Write down an agreement")
		h.agreement(one.facts, one.lines)
	}
	h.press("Dates")
	h.press("Add an appointment")
	h.fill("appointments-new--", [][2]string{{"what", "First fitting"}, {"on", "07102027"}, {"at", "1100AM"}, {"place-name", "4 Quay St"}}...)
	h.tick("appointments-new--for", "Priya Nair")
	h.press("Save")
	h.press("Dates")
	h.press("Add an occasion")
	h.fill("occasions-new--", [][2]string{{"what", "Rehearsal"}, {"when", "1 day before the wedding"}, {"at", "0530PM"}, {"until", "0630PM"}}...)
	h.tick("occasions-new--for", "The attendants")
	h.press("Save")
	t.Logf("in all: %d taps, %d keys", h.taps, h.keys)

	for who, want := range map[string][]string{
		"Priya Nair": {"2027-07-10T11:00:00[America/Detroit] First fitting", "2027-09-17T17:30:00[America/Detroit] Rehearsal", "2027-09-18T16:30:00[America/Detroit] Maren and Theo: the wedding"},
		"Bea Lindqvist": {"2026-11-25 Pay The Net Loft $4,500.00", "2027-01-21 Last day to cancel The Net Loft for $2,700.00",
			"2027-05-21 Last day to cancel The Net Loft for $5,400.00", "2027-07-20 Pay The Net Loft $4,500.00", "2027-09-18T16:30:00[America/Detroit] Maren and Theo: the wedding"},
	} {
		_, body := get(t, calendarOf(h.link(who)), "")
		if faults := check.Calendar(body); faults != nil {
			t.Errorf("the calendar of %s: %v", who, faults)
		}
		if is := eventsIn(t, body); !slices.Equal(is, want) {
			t.Errorf("%s has\n%s\nnot\n%s", who, strings.Join(is, "\n"), strings.Join(want, "\n"))
		}
	}
	for try := 0; !strings.Contains(browse.Tell[string](t, h.ctx, `document.body.innerText`), "subscribed"); try++ {
		if try == 100 {
			t.Fatal("nobody is told that calendars have asked")
		}
		time.Sleep(100 * time.Millisecond)
		h.press("People")
	}
	h.everythingElse()
	c.stop(t)
}

// effort fails where the first run or one agreement takes more than it did,
// with little to spare, or where DEVELOPERS.md says otherwise.
func effort(t *testing.T, first, agreement hands) {
	t.Helper()
	for _, one := range []struct {
		takes      string
		of         hands
		taps, keys int // at most
	}{{"the first run takes", first, 12, 90}, {"one agreement", agreement, 15, 280}} {
		if one.of.taps > one.taps || one.of.keys > one.keys {
			t.Errorf("%s %d taps and %d keys, and %d and %d are the most: have people do less", one.takes, one.of.taps, one.of.keys, one.taps, one.keys)
		}
		guide, err := os.ReadFile("../../DEVELOPERS.md")
		if err != nil {
			t.Fatal(err)
		}
		if says := fmt.Sprintf("%s %d taps and %d keys", one.takes, one.of.taps, one.of.keys); !bytes.Contains(guide, []byte(says)) {
			t.Errorf("DEVELOPERS.md does not say %q: write it there", says)
		}
	}
}

// eventsIn are the day and the title of every event of a calendar, as a
// library reads it that banns does not write with.
func eventsIn(t *testing.T, body []byte) []string {
	t.Helper()
	events, err := check.PythonICalendar(body)
	check.Need(t, err)
	var all []string
	for _, e := range events {
		all = append(all, e.Start+" "+e.Summary)
	}
	slices.Sort(all)
	return all
}
