package desk_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// adaPlan is a wedding of which nothing is known but who marries.
const adaPlan = "banns: 1\nwedding: {title: Ada and Finn, zone: UTC, currency: USD}\npeople:\n  ada: {name: Ada Quince, part: couple}\n"

const atAda = "/desk/w/ada-and-finn/"

// rows are those of the page's tables, a text a cell; without those that say
// nothing.
func (p seenPage) rows() [][]string {
	var all [][]string
	for n := range p.root.Descendants() {
		if n.Data != "tr" || n.Type != html.ElementNode {
			continue
		}
		var row []string
		for c := range n.ChildNodes() {
			if says := strings.Join(strings.Fields(textOf(c)), " "); says != "" {
				row = append(row, says)
			}
		}
		all = append(all, row)
	}
	return all
}

func textOf(n *html.Node) string {
	if n.Type == html.TextNode {
		return n.Data
	}
	var all strings.Builder
	if n.Data == "p" {
		all.WriteString(" ")
	}
	for c := range n.ChildNodes() {
		all.WriteString(textOf(c))
	}
	return all.String()
}

// hasRow fails where no table has a row of these cells.
func (p seenPage) hasRow(want ...string) {
	p.t.Helper()
	all := p.rows()
	if !slices.ContainsFunc(all, func(row []string) bool { return slices.Equal(row, want) }) {
		p.t.Errorf("%s has no row %q among %q", p.URL, want, all)
	}
}

// The sums are those that README.md has from banns due.
func TestDue(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	total := []string{"In all", "$17,167.01", "$17,208.36", "$19,912.66", "$3,190.00", "$57,478.03"}
	for by, row := range map[string][]string{
		"month":     {"May 2027", "$8,076.54", "$8,076.54"},
		"payer":     {"Ada Okafor", "$1,095.00", "$2,555.00", "$3,650.00"},
		"agreement": {"Hollow Oak Table", "$3,802.01", "$6,083.21", "$5,322.81", "$15,208.03"},
	} {
		p := b.get(atWedding+"due?on=2027-06-25&by="+by, http.StatusOK)
		p.hasRow(total...)
		p.hasRow(row...)
		p.has("Only quoted, and not owed until it is signed: $2,900.00")
		p.lacks("Only what you may see")
	}
	b.get(atWedding+"due?by=whim", http.StatusOK).has(`aria-current="true">By month`, `value="2026-11-25"`)
	b.get(atWedding+"due?on=2027-02-30", http.StatusUnprocessableEntity).has(`value="2027-02-30"`, `href="#on"`, "no day of the calendar")
}

// A partner's sums are of what they see: the brass is hidden from Theo.
func TestDueOfWhatIsSeen(t *testing.T) {
	s := demoSite(t)
	p := s.theo(t).get(atWedding+"due?on=2027-06-25&by=agreement", http.StatusOK)
	p.hasRow("In all", "$16,842.01", "$17,208.36", "$19,587.66", "$3,190.00", "$56,828.03")
	p.has("Only what you may see is summed up")
	p.lacks("Tin Gull")
}

func TestMoneyOfNothing(t *testing.T) {
	s := newSite(t, adaPlan)
	b := s.planner(t)
	b.get(atAda+"due", http.StatusOK).has("Nothing is owed as of Wed 25 Nov 2026", "once one is signed", `/agreements/"`)
	p := b.get(atAda+"leaving", http.StatusOK)
	p.has("Nothing is signed by Wed 25 Nov 2026, so leaving costs nothing", "once it is signed")
	p.lacks("<svg viewBox", "Questions that")
}
