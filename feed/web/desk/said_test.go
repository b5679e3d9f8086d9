package desk_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// A day by its number and month, or as a machine has it, with the word before
// it; and a sum to the cent.
var (
	aDay    = regexp.MustCompile(`(\w+,? )?\b(\d{1,2} (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)[a-z]*|\d{4}-\d\d-\d\d)\b`)
	weekday = regexp.MustCompile(`^(Mon|Tue|Wed|Thu|Fri|Sat|Sun)`)
	aSum    = regexp.MustCompile(`\d[\d,]*\.\d\d\b`)
	money   = regexp.MustCompile(`[$€£]\S*\d|\b(USD|EUR)\b`)
)

// saidOtherwise are lines that a page says otherwise, and why.
var saidOtherwise = map[string]string{
	`^Days on which they are closed As 2027-07-02, 2027-07-03$`: "how days are to be written; they are read back beside, with weekdays",
	`, or on \d{4}-\d\d-\d\d(;|$)`:                              "how a phrase is to be written; the day that it gives stands above it",
	`^The agreement, in short: `:                                "a phrase of the plan as somebody wrote it; its day stands beside",
	`^On the map Its latitude and longitude, as 44.76, -85.62;`: "degrees, and no sum",
}

// A date has its weekday, and a sum its currency, in whatever a page
// of the desk says. What stands in a field is as somebody typed it.
func TestDatesAndSumsAreWhole(t *testing.T) {
	s := walkedSite(t)
	used := map[string]bool{}
	other := func(line string) bool {
		for form := range saidOtherwise {
			if regexp.MustCompile(form).MatchString(line) {
				used[form] = true
				return true
			}
		}
		return false
	}
	dates, sums := 0, 0
	for _, r := range s.routes(t) {
		if r.method != http.MethodGet {
			continue
		}
		for _, path := range s.there(t, r) {
			a := s.planner.ask(r.method, path, nil)
			if !strings.HasPrefix(a.head.Get("Content-Type"), "text/html") {
				continue
			}
			for line := range strings.Lines(visible(t, a.raw)) {
				line = strings.TrimSpace(line)
				for _, found := range aDay.FindAllString(line, -1) {
					if dates++; !weekday.MatchString(found) && !other(line) {
						t.Errorf("%s has the date %q without its weekday: %s", path, found, line)
					}
				}
				for _, found := range aSum.FindAllString(line, -1) {
					if sums++; !money.MatchString(line) && !other(line) {
						t.Errorf("%s has the sum %q without its currency: %s", path, found, line)
					}
				}
			}
		}
	}
	if dates < 200 || sums < 50 {
		t.Errorf("only %d dates and %d sums were found", dates, sums)
	}
	for form := range saidOtherwise {
		if !used[form] {
			t.Errorf("no page says %q any more: take it out of saidOtherwise", form)
		}
	}
}

// Whatever a sum is typed into is called by its currency.
func TestFieldsOfSumsNameTheCurrency(t *testing.T) {
	s := walkedSite(t)
	sum := regexp.MustCompile(`/price(/each)?$|/pay/[^/]*/amount$|^step/pay/.*/sum$`)
	found := map[string]bool{}
	for _, path := range []string{"add/agreement", "agreements/catering", "agreements/dress"} {
		p := s.planner.get(demoDesk+path, http.StatusOK)
		ids := map[string]string{}
		for n := range p.root.Descendants() {
			if form := sum.FindString(attr(n, "name")); form != "" {
				ids[attr(n, "id")] = attr(n, "name")
			}
		}
		for n := range p.root.Descendants() {
			if name := ids[attr(n, "for")]; n.Data == "label" && name != "" {
				found[name[strings.LastIndex(name, "/")+1:]] = true
				if says := n.FirstChild.Data; !strings.HasSuffix(says, ", in USD") {
					t.Errorf("%s: %s is called %q", path, name, says)
				}
			}
		}
	}
	if len(found) != 4 {
		t.Errorf("sums are typed into %v", found)
	}
}

// The days on which a vendor is closed are read back with their weekdays, and
// while they are typed.
func TestClosedDaysReadBack(t *testing.T) {
	s := walkedSite(t)
	const path, days = demoDesk + "agreements/catering", "agreements/catering/closed"
	p := s.planner.get(path, http.StatusOK)
	p.has(`id="agreements-catering-closed-read" aria-live="polite">Tue 7 Sep 2027</p>`)
	form := p.form()
	form.Set(days, "2027-07-02, 2027-07-03, 2027-0")
	s.planner.post(path+"/read", http.StatusOK, form).has(">Fri 2 Jul 2027, Sat 3 Jul 2027</p>")
}

var within = regexp.MustCompile(`^(a|b|em|strong|span|time|q|abbr|small|code|cite|button|label|output)$`)

// visible is what is read on a page, a line for each piece.
func visible(t *testing.T, raw []byte) string {
	root, err := html.Parse(strings.NewReader(string(raw)))
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	var walk func(n *html.Node)
	walk = func(n *html.Node) {
		if n.Type == html.TextNode {
			out.WriteString(strings.Join(strings.Fields(" "+n.Data+" "), " "))
			if strings.TrimRight(n.Data, " \n") != n.Data {
				out.WriteString(" ")
			}
			return
		}
		if n.Data == "script" || n.Data == "style" || n.Data == "head" {
			return
		}
		block := n.Type == html.ElementNode && !within.MatchString(n.Data)
		if block {
			out.WriteString("\n")
		}
		for _, name := range []string{"aria-label", "placeholder", "title"} {
			if v := attr(n, name); v != "" {
				out.WriteString("\n" + v + "\n")
			}
		}
		for c := range n.ChildNodes() {
			walk(c)
		}
		if block {
			out.WriteString("\n")
		}
	}
	walk(root)
	return out.String()
}
