package web_test

import (
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/andybalholm/cascadia"
	"golang.org/x/net/html"

	"banns/feed"
)

// august is when some of the demo plan is over, some late, and some due soon.
var august = time.Date(2027, time.August, 25, 13, 0, 0, 0, time.UTC)

// document is a page as a browser reads it.
type document struct{ *html.Node }

func read(t testing.TB, a answer) document {
	t.Helper()
	root, err := html.Parse(strings.NewReader(a.body))
	if err != nil {
		t.Fatal(err)
	}
	return document{root}
}

// all is the text of every element that the selector finds.
func (d document) all(selector string) []string {
	var texts []string
	for _, n := range cascadia.QueryAll(d.Node, cascadia.MustCompile(selector)) {
		texts = append(texts, text(n))
	}
	return texts
}

// one is the text of the only element that the selector finds.
func (d document) one(t testing.TB, selector string) string {
	t.Helper()
	found := d.all(selector)
	if len(found) != 1 {
		t.Fatalf("%s: %d elements, want one: %q", selector, len(found), found)
	}
	return found[0]
}

func (d document) attribute(t testing.TB, selector, name string) string {
	t.Helper()
	n := cascadia.Query(d.Node, cascadia.MustCompile(selector))
	if n == nil {
		t.Fatalf("no %s", selector)
	}
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// text is what an element says, with single spaces.
func text(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func TestThePayingMothersPage(t *testing.T) {
	s := demoSite(t)
	s.goTo(august)
	d := read(t, get(t, s.page("bea")).wants(t, 200))
	for selector, want := range map[string]string{
		"h1":                      "Dates for Bea Lindqvist",
		"title":                   "Dates for Bea Lindqvist",
		"header .wedding":         "Maren and Theo, Sat 18 Sep 2027",
		"header .count":           "2 late, 4 within two weeks, 9 more to come.",
		".past > summary":         "Over or settled: 6",
		"legend":                  "How would you like to be reminded?",
		"input[checked] + label":  "An alarm",
		"footer .asof":            "As of Wed 25 Aug 2027, 09:00 (Detroit), revision 1.",
		".late:last-child .state": "late",
	} {
		if got := d.one(t, selector); got != want {
			t.Errorf("%s says %q, want %q", selector, got, want)
		}
	}
	if got, want := d.all("section > h3")[:4], []string{"Late", "August 2027", "September 2027", "October 2027"}; !slices.Equal(got, want) {
		t.Errorf("months are %q, want %q", got, want)
	}
	rows := d.all("section > .dates > .date")
	for _, want := range []string{
		"Fri 21 May late Pay Hollow Oak Table $6,083.21 Due by Fri 21 May 2027.",
		"Fri 3 Sep due soon Pay Hollow Oak Table $5,322.81 Due by Fri 3 Sep 2027. The contract says Sat 4 Sep 2027; offices are closed that day.",
		"Mon 13 Sep to do Pay Tin Gull Brass $325.00",
		"Fri 17 Sep to attend Rehearsal dinner 19:00 to 22:00, The Ferrywarden Inn, long room",
		"Sat 2 Oct to come Security deposit back from Hollow Oak Table $500.00",
	} {
		if !slices.ContainsFunc(rows, func(row string) bool { return strings.HasPrefix(row, want) }) {
			t.Errorf("no date says %q", want)
		}
	}
	past := strings.Join(d.all(".past .date"), "\n")
	if !strings.Contains(past, "Fri 2 Oct settled Paid Hollow Oak Table $3,802.01") {
		t.Errorf("what is settled is not among what is over: %s", past)
	}
	if got := d.attribute(t, ".date time", "datetime"); got != "2027-02-26" {
		t.Errorf("the first date is %s", got)
	}
}

// Nobody is late for what nobody has to do.
func TestOptionsAreNeverLate(t *testing.T) {
	s := demoSite(t)
	before := strings.Join(read(t, get(t, s.page("maren"))).all(".date"), "\n")
	s.goTo(august)
	d := read(t, get(t, s.page("maren")))
	late, past := strings.Join(d.all(".date.late"), "\n"), strings.Join(d.all(".past .date"), "\n")
	for _, row := range []struct{ what, word string }{
		{"The Net Loft: last day to ask for another date", "only if you move it"},
		{"Last day to cancel Hollow Oak Table for $3,802.01", "only if you leave"},
	} {
		if !strings.Contains(before, row.word+" "+row.what) {
			t.Errorf("nothing says %q of %q", row.word, row.what)
		}
		if strings.Contains(late, row.what) || !strings.Contains(past, "over "+row.what) {
			t.Errorf("%q is not just over", row.what)
		}
	}
}

func TestLinksOfAPage(t *testing.T) {
	s := demoSite(t)
	d := read(t, get(t, s.page("bea")))
	if got := d.attribute(t, "#address", "value"); got != s.calendar("bea") {
		t.Errorf("calendar address %q, want %q", got, s.calendar("bea"))
	}
	if got, want := d.attribute(t, "a.button", "href"), strings.Replace(s.calendar("bea"), "http:", "webcal:", 1); got != want {
		t.Errorf("subscribe link %q, want %q", got, want)
	}
	get(t, d.attribute(t, "#address", "value")).wants(t, 200)
	if !strings.Contains(d.one(t, ".warn"), "No phone can reach this address yet") {
		t.Error("nothing says that a loopback address is of no use to a phone")
	}
	// What a client says of a proxy is not believed.
	d = read(t, get(t, s.page("bea"), "X-Forwarded-Host", "evil.example", "X-Forwarded-Proto", "https"))
	if got := d.attribute(t, "#address", "value"); got != s.calendar("bea") {
		t.Errorf("calendar address %q, want %q", got, s.calendar("bea"))
	}
	if err := s.store.SetPublic(t.Context(), "https://kept.example.org", winter); err != nil {
		t.Fatal(err)
	}
	d = read(t, get(t, s.page("bea")))
	if got, want := d.attribute(t, "#address", "value"), "https://kept.example.org/c/"+s.tokens["bea"]+".ics"; got != want {
		t.Errorf("calendar address %q, want %q", got, want)
	}
}

func TestWhoCanReachAnAddress(t *testing.T) {
	s := demoSite(t)
	const nobody, network = "No phone can reach this address yet.", "This works on the same network only."
	for _, row := range []struct{ public, warns string }{
		{"https://dates.example.org", ""},
		{"https://dates.example.org/under/a/path", ""},
		{"http://203.0.113.9:8470", ""},
		{"http://172.32.0.1", ""}, // beyond 172.16/12
		{"http://[2001:db8::1]", ""},
		{"http://127.0.0.1:8470", nobody},
		{"http://[::1]:8470", nobody},
		{"http://[::ffff:127.0.0.1]", nobody},
		{"http://localhost:8470", nobody},
		{"http://banns.localhost", nobody},
		{"http://0.0.0.0:8470", nobody},
		{"http://10.1.2.3", network},
		{"http://172.31.255.1", network},
		{"http://192.168.1.20:8470", network},
		{"http://169.254.3.4", network},
		{"http://100.64.0.1", network},
		{"http://[fe80::1]", network},
		{"http://[fd00::1]", network},
		{"http://kitchen:8470", network},
		{"http://kitchen.local.", network},
		{"http://KITCHEN.LOCAL", network},
		{"http://nas.home.arpa", network},
	} {
		s.serve(t, row.public)
		got := strings.Join(read(t, get(t, s.page("bea")).wants(t, 200)).all(".warn strong"), " ")
		if got != row.warns {
			t.Errorf("%s: warns %q, want %q", row.public, got, row.warns)
		}
	}
}

func TestAttendantsPageHasNoMoney(t *testing.T) {
	s := demoSite(t)
	s.goTo(august)
	a := get(t, s.page("priya")).wants(t, 200)
	d := read(t, a)
	said := text(d.Node)
	if regexp.MustCompile(`\$|USD|\d[.,]\d\d\b|%`).MatchString(said) {
		t.Errorf("a sum on an attendant's page: %s", said)
	}
	for _, word := range []string{"Pay ", "cancel", "days before the wedding", "contract’s own words", "The agreement, in short",
		"Hollow Oak", "Tin Gull", "Gravel Herons", "Lamplighter", "+1 555"} {
		if strings.Contains(said, word) {
			t.Errorf("%q on an attendant's page", word)
		}
	}
	if !strings.Contains(said, "Comb and Sable: who is having hair and makeup") {
		t.Error("what she is asked for is missing")
	}
}

func TestHiddenIsNowhere(t *testing.T) {
	s := demoSite(t)
	for _, who := range []string{"theo", "maren"} {
		a := get(t, s.page(who)).wants(t, 200)
		for _, word := range []string{"Tin Gull", "Brass for the last song", "Run-through with the brass", "brass"} {
			if strings.Contains(a.body, word) {
				t.Errorf("%q is hidden from %s and on the page", word, who)
			}
		}
	}
	theo, maren := get(t, s.page("theo")).body, get(t, s.page("maren")).body
	for _, word := range []string{"neckline", "Getting ready", "last fitting"} {
		if strings.Contains(theo, word) {
			t.Errorf("%q is hidden from theo and on his page", word)
		}
		if !strings.Contains(maren, word) {
			t.Errorf("%q is missing on maren's page", word)
		}
	}
}

func TestWithdrawnAndQuestions(t *testing.T) {
	s := demoSite(t)
	s.take(t, s.store, strings.Replace(readFile(t, demoPlan), "      - balance the Monday before the wedding\n", "", 1))
	d := read(t, get(t, s.page("bea")))
	gone := d.one(t, ".date.withdrawn")
	if want := "Mon 13 Sep withdrawn Pay Tin Gull Brass"; gone != want {
		t.Errorf("what was withdrawn says %q, want %q", gone, want)
	}
	if d.one(t, ".date.withdrawn s") != "Pay Tin Gull Brass" || len(d.all(".date.withdrawn details")) > 0 {
		t.Error("it is not struck through, or says more than its title and day")
	}
	if summary := text(d.Node); !strings.Contains(summary, "18 to come") {
		t.Error("what was withdrawn is counted as still to come")
	}
	d = read(t, get(t, s.page("maren")))
	if len(d.all(".date .question use")) == 0 || !strings.Contains(text(d.Node), "Question: ") {
		t.Error("the couple's questions are not marked")
	}
}

func TestEmptyPage(t *testing.T) {
	s := newSite(t, emptyPlan)
	d := read(t, get(t, s.page("gus")).wants(t, 200))
	if got := d.one(t, "#coming"); got != "Nothing to come" {
		t.Errorf("the heading says %q", got)
	}
	if !strings.Contains(d.one(t, "[aria-labelledby=coming]"), "There are no dates for you yet.") {
		t.Error("the page does not say what belongs there")
	}
	if len(d.all(".date, .past, .count, footer p:not(.asof)")) > 0 {
		t.Error("something stands on an empty page")
	}
	calendarIn(t, get(t, s.calendar("gus")).body)

	full := demoSite(t)
	full.goTo(time.Date(2029, 1, 1, 0, 0, 0, 0, time.UTC))
	d = read(t, get(t, full.page("arvid")))
	if !strings.Contains(d.one(t, "[aria-labelledby=coming]"), "Everything of yours is over or settled") {
		t.Error("a page of the past says nothing about it")
	}
}

const emptyPlan = `
banns: 1
wedding: {title: Ida and Noor, zone: Europe/Oslo, currency: NOK}
people: {gus: {name: Gus Hale, part: helper}}
`

// Early notices are dates of the calendar, and the page would say each thing twice.
func TestNoticesAreNotOnThePage(t *testing.T) {
	s := demoSite(t)
	before := read(t, get(t, s.page("bea"))).all(".date")
	if err := s.store.SetReminders(t.Context(), s.tokens["bea"], feed.ByNotice, winter); err != nil {
		t.Fatal(err)
	}
	after := read(t, get(t, s.page("bea"))).all(".date")
	if !slices.Equal(before, after) {
		t.Errorf("%d dates, and %d with early notices", len(before), len(after))
	}
}

func TestSizeOfAPage(t *testing.T) {
	s := demoSite(t)
	var assets int
	for _, name := range []string{"banns.css", "copy.js"} {
		assets += len(get(t, s.URL+"/static/"+name).wants(t, http.StatusOK).body)
	}
	for _, who := range []string{"maren", "odile", "bea", "priya", "june"} {
		a := get(t, s.page(who), "Accept-Encoding", "gzip").header(t, "Content-Encoding", "gzip")
		if n := len(a.body) + assets; n > 60_000 {
			t.Errorf("%s: %d octets on first load", who, n)
		}
	}
	if n := len(get(t, s.page("bea")).body) + assets; n > 60_000 {
		t.Errorf("bea, with nothing packed: %d octets", n)
	}
}
