package main

import (
	"net/http"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
)

// everythingElse does by hand what a plan that was begun asks for: nothing at
// the desk needs a file or a command.
func (h *hands) everythingElse() {
	h.t.Helper()
	h.steps()
	h.countdown()
	h.question()
	h.money()
	other := h.partner()
	h.city()
	h.moved()
	h.paper()
	h.caterers()
	h.contractLink()
	h.somebody()
	priyas := h.linkRenewed()
	h.arranged(calendarOf(priyas))
	h.filtered()
	h.month()
	h.secondPlanner(other)
	h.both(other)
	h.endedFromAfar(other)
	h.back()
	h.signedOut()
}

// more opens a page that is a step further away.
func (h *hands) more(says string) {
	h.t.Helper()
	h.open("More")
	h.press(says)
}

// steps: a payment was paid, a headcount settled, and the contract is kept.
func (h *hands) steps() {
	h.t.Helper()
	h.press("Agreements")
	h.press("Hollow Oak Table")
	h.open("It was paid")
	h.press("Paid")
	h.shows("paid on Wed 25 Nov 2026: $3,237.50")
	h.open("It was settled")
	h.press("Settled")
	h.shows("settled on Wed 25 Nov 2026")
	h.press("Undo: settled on Wed 25 Nov 2026")
	h.press("Keep a file or a link here")
	h.upload("contract.pdf", "%PDF-1.7\n")
	h.press("Keep it")
	h.shows("contract.pdf PDF")
}

// countdown: begun, ticked, moved, dropped, and added to.
func (h *hands) countdown() {
	h.t.Helper()
	h.press("Countdown")
	h.press("Begin")
	h.shows("What to do by when")
	h.press("Done today")
	h.shows("Done: ")
	h.press("Post the invitations")
	h.write("countdown-move-invitations", "9 weeks before the wedding")
	h.press("Save")
	h.shows("Sat 17 Jul 2027")
	h.open("Leave it out")
	h.press("Leave out: Post the invitations")
	h.press("Bring it back")
	h.press("Add something of your own")
	h.write("countdown-add-new--what", "Fill the welcome bags")
	h.write("countdown-add-new--when", "3 days before the wedding")
	h.press("Save")
	h.shows("Wed 15 Sep 2027")
}

// question: what a contract leaves open is asked, and answered.
func (h *hands) question() {
	h.t.Helper()
	h.press("Agreements")
	h.press("The Net Loft")
	h.writeAt(`[id$="change-new-1-says"]`, "floor plan within 21 days of the wedding")
	h.press("Save")
	h.press("Questions")
	h.shows("does not say which side it means")
	h.press("Write the answer")
	browse.Do(h.t, h.ctx, chromedp.Click(chromedp.CSS("#reads-0")))
	h.write("who", "Ada at The Net Loft")
	h.write("says", "Three weeks ahead, please.")
	h.press("Keep the answer")
	h.shows("Settled: 1")
}

// money: what is due, and what leaving would cost.
func (h *hands) money() {
	h.t.Helper()
	h.press("Money")
	h.shows("$24,350.00") // 12,950 and 9,000 and 2,400
	h.press("What leaving costs")
	h.shows("Tern & Thread")
}

// partner: one of the couple comes in, and does not see what is hidden. The
// browser is theirs.
func (h *hands) partner() *hands {
	h.t.Helper()
	h.press("Dates")
	h.press("First fitting")
	h.open("Hide it from")
	h.tick(browse.Tell[string](h.t, h.ctx, `document.querySelector('input[type=checkbox][name$="/hide from"]').id.replace(/-\d+$/, "")`), "Theo Lindqvist")
	h.press("Save")
	h.press("People")
	h.press("Who can sign in here")
	h.choose("whom", "Theo")
	h.press("Make a link that works once")
	theo := newHands(h.t, h.width)
	theo.comesIn(h.address(), "Theo", "other plain words there")
	theo.press("Dates")
	theo.shows("Rehearsal")
	if text := browse.Tell[string](h.t, theo.ctx, `document.body.textContent`); strings.Contains(text, "First fitting") {
		h.t.Errorf("Theo sees what is hidden from him: %s", text)
	}
	return theo
}

// city: what is on, which day, and a link that shows the days.
func (h *hands) city() {
	h.t.Helper()
	h.more("In the city")
	h.upload("town.csv", "name,date\nHarbor Lights Festival,2027-10-02\n")
	h.press("Read the file")
	h.shows("Added.")
	h.more("Which day")
	h.write("add", "10022027")
	h.press("Put it on the shortlist")
	h.shows("Harbor Lights Festival")
	h.press("Make a link")
	link := browse.Tell[string](h.t, h.ctx, `document.getElementById("link-0").value`)
	if res, body := get(h.t, link, ""); res.StatusCode != http.StatusOK || !strings.Contains(string(body), "Harbor Lights Festival") {
		h.t.Errorf("the link to the shortlist: %s", res.Status)
	}
}

// upload chooses a file in the page's form.
func (h *hands) upload(name, text string) {
	h.t.Helper()
	file := filepath.Join(h.t.TempDir(), name)
	write(h.t, file, text)
	browse.Do(h.t, h.ctx, chromedp.SetUploadFiles(chromedp.CSS("#file"), []string{file}))
}

// moved: the wedding has another day, and the history tells what that did; to
// go back to the version before brings the old day again.
func (h *hands) moved() {
	h.t.Helper()
	h.more("The wedding")
	h.write("wedding-date", "10022027")
	h.press("Save")
	h.press("Next")
	h.shows("Sat 2 Oct 2027")
	h.more("History")
	h.shows("The wedding moved from Sat 18 Sep to Sat 2 Oct 2027")
	h.press("Go back to this one") // the first is the one before
	n := regexp.MustCompile(`version (\d+)`).FindStringSubmatch(browse.Tell[string](h.t, h.ctx, `document.querySelector("main form").textContent`))
	if n == nil {
		h.t.Fatal("the page does not say to which version")
	}
	h.press("Go back to version " + n[1])
	h.press("Next")
	h.shows("Sat 18 Sep 2027")
}

// paper: a month as it is printed, without the code, since no phone comes to
// this machine.
func (h *hands) paper() {
	h.t.Helper()
	h.more("Print")
	pdf, err := chromedp.Call(h.ctx, page.PrintToPDF, page.PrintToPDFParams{})
	if err != nil || len(pdf.Data) == 0 {
		h.t.Errorf("the month does not print: %v", err)
	}
	if browse.Tell[bool](h.t, h.ctx, `document.querySelector(".foot svg") !== null`) {
		h.t.Error("the month has a code that no phone can follow to this machine")
	}
	h.shows("This prints without its code.")
}

// back: what was typed and not sent is there when the back button leads to it.
func (h *hands) back() {
	h.t.Helper()
	h.press("People")
	h.press("Add somebody")
	h.write("people-new--name", "Kofi Amberley")
	h.press("Dates")
	browse.Do(h.t, h.ctx, chromedp.NavigateBack())
	if name := browse.Tell[string](h.t, h.ctx, `document.getElementById("people-new--name").value`); name != "Kofi Amberley" {
		h.t.Errorf("after the back button the name is %q", name)
	}
}

// signedOut: a session that ends while a form is filled in loses nothing.
func (h *hands) signedOut() {
	h.t.Helper()
	h.choose("people-new--part", "Attendant")
	if _, err := chromedp.Call(h.ctx, network.ClearBrowserCookies, cdp.Empty{}); err != nil {
		h.t.Fatal(err)
	}
	h.answers("Add them", http.StatusUnauthorized)
	h.shows("Nothing you typed is lost")
	h.write("name", "Ida")
	h.write("passphrase", "four plain words here")
	h.press("Sign in")
	h.press("Send it again")
	h.shows("Kofi Amberley")
	h.more("Signed in as Ida")
	h.shows("Where you are signed in")
	if n := browse.Tell[int](h.t, h.ctx, `document.querySelectorAll("main ul.rows > li").length`); n != 2 {
		h.t.Errorf("%d sessions are listed, not 2", n)
	}
}

// writeAt writes into a field that a selector finds.
func (h *hands) writeAt(field, text string) {
	h.t.Helper()
	browse.Type(h.t, h.ctx, field, text)
	h.taps, h.keys = h.taps+1, h.keys+len([]rune(text))
}
