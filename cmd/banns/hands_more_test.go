package main

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
)

// caterers: another is agreed with, at a price by the guest; the number is
// given, the first is replaced, the other left, and each of that taken back.
func (h *hands) caterers() {
	h.t.Helper()
	calendar := calendarOf(h.link("Maren Okafor"))
	h.press("Agreements")
	h.press("Write down an agreement")
	h.open("Price by the guest")
	h.fill("agreements-new--price-", [][2]string{{"each", "95"}, {"count", "120"}}...)
	h.agreement(map[string]string{"with": "Plum and Rye", "service": "catering", "signed": "11252026"}, [][2]string{
		{"pay", "balance 14 days before the wedding"}, {"change", "final headcount 10 business days before the wedding by 17:00"}})
	h.shows("Pay $11,400.00")

	h.open("It was settled")
	h.into("The number of guests given, if it asks for one", "104")
	h.press("Settled")
	h.hears(calendar, "2027-09-03 Pay Plum and Rye $9,880.00", true)
	h.press("Undo: given on Wed 25 Nov 2026: 104")
	h.shows("Pay $11,400.00")

	h.open("Another took over, it ended, or it was signed on another day")
	h.press("Ended: it was left")
	h.shows("ended on Wed 25 Nov 2026, signed on Wed 25 Nov 2026 Nothing of it has still to be done")
	h.hears(calendar, "2027-09-03 Pay Plum and Rye $11,400.00", false)
	h.open("It holds after all")
	h.press("Undo: it holds")
	h.shows("signed on Wed 25 Nov 2026")
	h.hears(calendar, "2027-09-03 Pay Plum and Rye $11,400.00", true)

	h.press("Agreements")
	h.press("Hollow Oak Table")
	h.open("Another took over, it ended, or it was signed on another day")
	h.press("Replaced: another took over")
	h.shows("replaced on Wed 25 Nov 2026, signed on Wed 25 Nov 2026")
	h.hears(calendar, "2027-09-03 Pay Hollow Oak Table $8,212.50", false)
	h.open("It holds after all")
	h.press("Undo: it holds")
	h.hears(calendar, "2027-09-03 Pay Hollow Oak Table $8,212.50", true)
}

// contractLink: where the contract is kept elsewhere, its link is kept here,
// and taken away again.
func (h *hands) contractLink() {
	h.t.Helper()
	h.press("Agreements")
	h.press("Plum and Rye")
	h.press("Keep a file or a link here")
	h.into("Or a link", "https://example.org/contract")
	h.into("What it is called", "signed contract")
	h.press("Keep it")
	h.press("Back to the agreement")
	h.shows("signed contract a link, kept on Wed 25 Nov 2026 by Ida")
	if !browse.Tell[bool](h.t, h.ctx, `document.querySelector('a[href="https://example.org/contract"]')?.textContent === "signed contract"`) {
		h.t.Error("the contract's link leads elsewhere")
	}
	h.press("Keep a file or a link here")
	h.open("Take it away")
	h.press("Take signed contract away")
	h.shows("Nothing is kept here yet.")
}

// somebody: what is known of a person is filled in, stands where it is looked
// for, and not on the page that they see.
func (h *hands) somebody() {
	h.t.Helper()
	h.press("People")
	h.press("Priya Nair")
	for _, one := range [][2]string{{"Groups", "readers, dress-party"}, {"Telephone", "+1 555 0100"}, {"Mail address", "priya@example.org"},
		{"Diet", "no shellfish"}, {"Note", "Left-handed"}} {
		h.into(one[0], one[1])
	}
	h.write("measure-1", "dress")
	h.write("size-1", "US 8")
	h.press("Save")
	for label, want := range map[string]string{"Groups": "readers, dress-party", "Diet": "no shellfish", "Note": "Left-handed", "Size: dress": "US 8"} {
		if is := h.holds(label); is != want {
			h.t.Errorf("after it was saved, %s is %q, not %q", label, is, want)
		}
	}
	h.press("People")
	h.shows("Priya Nair +1 555 0100, priya@example.org In readers, dress-party")
	h.press("Priya Nair")
	h.press("Their page, as they see it")
	h.shows("As Priya Nair sees it")
	h.shows("First fitting")
	if text := browse.Tell[string](h.t, h.ctx, `document.body.textContent`); strings.Contains(text, "Left-handed") {
		h.t.Errorf("Priya sees what was noted of her: %s", text)
	}
}

// linkRenewed: a link goes out as a message and a square, is made anew when it
// got out, and closed. The last that was made is returned.
func (h *hands) linkRenewed() string {
	h.t.Helper()
	old := h.link("Priya Nair")
	if message := h.holds("What to say"); !strings.HasPrefix(message, "Here are your dates for Maren and Theo, Sat 18 Sep 2027: "+old) {
		h.t.Errorf("the message to send is %q", message)
	}
	for _, send := range []string{"Send it by text message", "Send it by mail"} {
		h.find("a", send)
	}
	browse.Do(h.t, h.ctx, chromedp.Click(h.find("button", "Copy the message")), chromedp.WaitVisible(chromedp.CSS(".copied")))
	h.shows("Copied.")
	if wide := browse.Tell[float64](h.t, h.ctx, `document.querySelector("main svg.qr").getBoundingClientRect().width`); wide < 100 {
		h.t.Errorf("the square is %g px wide: no camera reads it", wide)
	}
	answer := func(page string, status int) {
		h.t.Helper()
		h.answersWith(page, status)
		h.answersWith(calendarOf(page), status)
	}
	answer(old, http.StatusOK)
	h.press("Make a new link")
	h.press("Make a new link")
	h.shows("This is the new link.")
	renewed := h.address()
	answer(old, http.StatusGone)
	answer(renewed, http.StatusOK)
	h.press("Close it")
	h.press("Close the link")
	h.shows("There is no link that opens their page: it was closed.")
	answer(renewed, http.StatusGone)
	h.press("Make a new link")
	last := h.address()
	answer(last, http.StatusOK)
	return last
}

// arranged: an appointment for a group, whose day is forgotten at first. The
// form says so above and beside the field, and keeps the rest; then the
// calendar of one of the group has it.
func (h *hands) arranged(calendar string) {
	h.t.Helper()
	const form = "appointments-new--"
	h.press("Dates")
	h.press("Add an appointment")
	h.fill(form, [][2]string{{"what", "Reading aloud"}, {"at", "0600PM"}, {"until", "0700PM"}}...)
	h.tick(form+"for", "Group: readers")
	h.answers("Save", http.StatusUnprocessableEntity)
	h.shows("Nothing was saved yet. What you typed is still here.")
	if !browse.Tell[bool](h.t, h.ctx, `(a => /The day: the day is missing/.test(a.textContent) && /the day is missing/.test(document.querySelector(a.hash).closest(".field").querySelector(".fault").textContent))(document.querySelector("#faults a"))`) {
		h.t.Errorf("what is missing is not said above and beside its field: %s", browse.Tell[string](h.t, h.ctx, `document.querySelector("main").innerText`))
	}
	for field, want := range map[string]string{"what": "Reading aloud", "at": "18:00", "until": "19:00"} {
		if is := browse.Tell[string](h.t, h.ctx, fmt.Sprintf(`document.getElementById(%q).value`, form+field)); is != want {
			h.t.Errorf("of what was typed, %s is %q, not %q", field, is, want)
		}
	}
	h.write(form+"on", "08192027")
	h.press("Save")
	h.shows("Thu 19 Aug 2027, 18:00 to 19:00")
	h.hears(calendar, "2027-08-19T18:00:00[America/Detroit] Reading aloud", true)
}

// filtered: the list by whose dates, of what kind and of which agreement.
func (h *hands) filtered() {
	h.t.Helper()
	h.press("Dates")
	h.open("Show only some of them")
	h.choose("by-person", "Bea")
	h.press("Show these")
	h.lists("Pay The Net Loft $4,500.00", "Last day to cancel The Net Loft")
	h.listsNone("Reading aloud", "Hollow Oak Table")
	h.choose("by-kind", "Payments")
	h.press("Show these")
	h.lists("Pay The Net Loft $4,500.00")
	h.listsNone("Last day to cancel", "Tern & Thread")
	h.press("Show all")
	h.lists("Reading aloud", "Hollow Oak Table")
	h.open("Show only some of them")
	h.choose("by-agreement", "Tern")
	h.press("Show these")
	h.lists("Pay Tern & Thread $1,200.00", "Last day to cancel Tern & Thread")
	h.listsNone("The Net Loft", "Reading aloud")
	h.press("Show all")
}

// month: this one and the next, and the wedding's with the day in it.
func (h *hands) month() {
	h.t.Helper()
	h.press("Dates")
	h.shows("November 2026")
	h.press("December 2026")
	h.press("The wedding’s month")
	for day, want := range map[string]string{"2027-09-17": "Rehearsal", "2027-09-18": "Maren and Theo: the wedding"} {
		says := browse.Tell[string](h.t, h.ctx, fmt.Sprintf(`document.querySelector('ol.month time[datetime="%s"]').closest("li").innerText`, day))
		if !strings.Contains(says, want) {
			h.t.Errorf("in the month, %s has %q, not %q", day, says, want)
		}
	}
	h.press("This month")
	h.shows("November 2026")
}

// secondPlanner: a link lets another planner in, once, who sees all of it.
func (h *hands) secondPlanner(rosa *hands) {
	h.t.Helper()
	h.press("People")
	h.press("Who can sign in here")
	h.choose("whom", "A planner")
	h.press("Make a link that works once")
	link := h.address()
	rosa.forgets()
	rosa.comesIn(link, "Rosa", "her own plain words")
	h.answersWith(link, http.StatusGone)
	rosa.press("Dates")
	rosa.shows("First fitting")
	h.press("People")
	h.press("Who can sign in here")
	h.shows("Rosa Plans this wedding, and sees all of it.")
}

// both: two change the same at a time, and the second sees both texts before
// theirs is kept.
func (h *hands) both(rosa *hands) {
	h.t.Helper()
	for _, one := range []*hands{h, rosa} {
		one.press("People")
		one.press("Priya Nair")
	}
	rosa.instead("Diet", "no shellfish, no nuts")
	rosa.press("Save")
	h.instead("Diet", "fish, but no shellfish")
	h.answers("Save", http.StatusUnprocessableEntity)
	h.shows("Diet: somebody else has changed this meanwhile")
	h.shows("keep yours, or write theirs Theirs: no shellfish, no nuts")
	if mine := h.holds("Diet"); mine != "fish, but no shellfish" {
		h.t.Errorf("of two texts, one's own became %q", mine)
	}
	h.press("Save")
	rosa.press("People")
	rosa.press("Priya Nair")
	if is := rosa.holds("Diet"); is != "fish, but no shellfish" {
		h.t.Errorf("the other sees %q", is)
	}
}

// endedFromAfar: whoever left a browser signed in somewhere signs it out from
// another.
func (h *hands) endedFromAfar(away *hands) {
	h.t.Helper()
	away.forgets()
	away.press("Next") // which asks who it is
	away.write("name", "Ida")
	away.write("passphrase", "four plain words here")
	away.press("Sign in")
	away.shows("Maren and Theo")
	h.more("Signed in as Ida")
	if n := browse.Tell[int](h.t, h.ctx, `document.querySelectorAll("main ul.rows > li").length`); n != 2 {
		h.t.Errorf("%d sessions are listed, not 2", n)
	}
	h.press(browse.Tell[string](h.t, h.ctx, `[...document.querySelectorAll("main ul.rows button")].find(b => !b.textContent.endsWith(", this one")).textContent`))
	if rows := browse.Tell[string](h.t, h.ctx, `[...document.querySelectorAll("main ul.rows > li")].map(li => li.innerText).join()`); strings.Count(rows, "Sign out") != 1 || !strings.Contains(rows, "(this one)") {
		h.t.Errorf("after one was signed out, there are %q", rows)
	}
	away.press("Next")
	away.shows("Your passphrase")
	h.press("The desk")
	h.press("Maren and Theo")
}

// comesIn opens a link that works once, and says by what name from now on.
func (h *hands) comesIn(link, name, passphrase string) {
	h.t.Helper()
	browse.Do(h.t, h.ctx, chromedp.Navigate(link))
	h.write("name", name)
	h.write("passphrase", passphrase)
	h.press("Come in")
}

// forgets has the browser forget who was signed in.
func (h *hands) forgets() {
	h.t.Helper()
	if _, err := chromedp.Call(h.ctx, network.ClearBrowserCookies, cdp.Empty{}); err != nil {
		h.t.Fatal(err)
	}
}

// labelled is the id of the field that has a label.
func (h *hands) labelled(label string) string {
	h.t.Helper()
	h.find("label", label)
	return browse.Tell[string](h.t, h.ctx, `document.querySelector("[data-found]").htmlFor`)
}

// into writes into the field that has a label.
func (h *hands) into(label, text string) {
	h.t.Helper()
	h.write(h.labelled(label), text)
}

// instead writes into the field that has a label, in place of what it holds.
func (h *hands) instead(label, text string) {
	h.t.Helper()
	id := h.labelled(label)
	browse.Tell[any](h.t, h.ctx, fmt.Sprintf(`document.getElementById(%q).value = ""; null`, id))
	h.write(id, text)
}

// holds is what stands in the field that has a label.
func (h *hands) holds(label string) string {
	h.t.Helper()
	return browse.Tell[string](h.t, h.ctx, fmt.Sprintf(`document.getElementById(%q).value`, h.labelled(label)))
}

// inOrder is what the list of dates says, below the month.
const inOrder = `[...document.querySelectorAll("section[aria-labelledby=late], section[aria-labelledby=all]")].map(e => e.textContent).join(" ").replace(/\s+/g, " ")`

// lists fails where the list of dates lacks one of these.
func (h *hands) lists(all ...string) {
	h.t.Helper()
	text := browse.Tell[string](h.t, h.ctx, inOrder)
	for _, says := range all {
		if !strings.Contains(text, says) {
			h.t.Errorf("the list lacks %q: %s", says, text)
		}
	}
}

// listsNone fails where the list of dates has one of these.
func (h *hands) listsNone(all ...string) {
	h.t.Helper()
	text := browse.Tell[string](h.t, h.ctx, inOrder)
	for _, says := range all {
		if strings.Contains(text, says) {
			h.t.Errorf("the list has %q: %s", says, text)
		}
	}
}

// hears fails where a calendar does not come to have an event that holds, or
// to be without.
func (h *hands) hears(calendar, event string, has bool) {
	h.t.Helper()
	h.comesTo(func() string {
		_, body := get(h.t, calendar, "")
		if all := eventsIn(h.t, body); slices.Contains(all, event) != has {
			return fmt.Sprintf("of %q the calendar should tell (%t), and has\n%s", event, has, strings.Join(all, "\n"))
		}
		return ""
	})
}

// answersWith fails where an address does not come to answer so, whoever asks.
func (h *hands) answersWith(url string, status int) {
	h.t.Helper()
	h.comesTo(func() string {
		if res, _ := get(h.t, url, ""); res.StatusCode != status {
			return fmt.Sprintf("%s answers %s, not %d", url, res.Status, status)
		}
		return ""
	})
}

// comesTo fails where something is still wrong after a while: the server tells
// of a change within moments.
func (h *hands) comesTo(wrong func() string) {
	h.t.Helper()
	says := wrong()
	for try := 0; says != "" && try < 50; try++ {
		time.Sleep(100 * time.Millisecond)
		says = wrong()
	}
	if says != "" {
		h.t.Error(says)
	}
}
