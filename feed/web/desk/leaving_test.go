package desk_test

import (
	"cmp"
	"fmt"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"banns/testdata"
)

// The sums are those that README.md has from banns leaving.
func TestLeaving(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	p := b.get(atWedding+"leaving?on=2027-05-01", http.StatusOK)
	p.has("Leaving on Sat 1 May 2027, paid or not", "says nothing about leaving it")
	p.hasRow("Marram Tent and Table", "$1,595.00", "$3,190.00", "$1,595.00")
	p.hasRow("In all", "$23,635.01 to $24,615.01", "$21,995.50", "$3,924.51 to $4,414.51", "$1,795.00 to $2,285.00")

	bad := b.get(atWedding+"leaving?on=2027-02-30&at=25:00", http.StatusUnprocessableEntity)
	bad.has(`value="2027-02-30"`, `value="25:00"`, `href="#on"`, `href="#at"`)
}

func TestLeavingAtAnHour(t *testing.T) {
	s := newSite(t, strings.Replace(adaPlan, "Finn, zone", `Finn, date: 2027-05-08, start: "15:00", zone`, 1)+`agreements:
  hall: {with: The Hall, service: venue, standing: signed, signed: 2026-10-01, price: "900.00", pay: [balance on the wedding], cancel: [nothing until 48 hours before the wedding, 100% after that]}
`)
	b := s.planner(t)
	b.get(atAda+"leaving?on=2027-05-06", http.StatusOK).hasRow("The Hall", "$0.00 to $900.00", "$0.00 to $900.00")
	b.get(atAda+"leaving?on=2027-05-06&at=15:00", http.StatusOK).hasRow("The Hall", "$0.00")
	late := b.get(atAda+"leaving?on=2027-05-06&at=15:01", http.StatusOK)
	late.hasRow("The Hall", "$900.00", "$900.00")
	late.has("Leaving on Thu 6 May 2027, 15:01, paid or not")
}

// The picture goes where its table does, and the table covers each day.
func TestLeavingOverTime(t *testing.T) {
	s := demoSite(t)
	p := s.planner(t).get(atWedding+"leaving", http.StatusOK)
	p.has("from Wed 25 Nov 2026 to Sat 18 Sep 2027")
	p.hasRow("Wed 25 Nov 2026 to Thu 18 Feb 2027", "$14,018.01 to $14,998.01")
	p.hasRow("Sat 11 Sep 2027 to Sat 18 Sep 2027", "$55,858.03 to $56,838.03")
	p.hasRow("Sun 20 Jun 2027 to Wed 18 Aug 2027", "$5,400.00") // The Net Loft, by itself
	pictures := strings.Split(p.Text, `<figure class="picture">`)[1:]
	if len(pictures) != 16 {
		t.Fatalf("%d pictures", len(pictures))
	}
	doubts := 0
	for n, one := range pictures {
		rows := stepRow.FindAllStringSubmatch(one[:strings.Index(one, "</table>")], -1)
		top := sum(t, found(one, `<p class="upright"><span>([^<]*)<`))
		least, most := stepped(t, rows, top, 2), stepped(t, rows, top, 3)
		if is := found(one, `class="least" d="([^"]*)"`); is != least {
			t.Errorf("picture %d goes along %s, and its table along %s", n, is, least)
		}
		if is := found(one, `class="most" d="([^"]*)"`); is != most && (is != "" || most != least) {
			t.Errorf("picture %d goes along %s, and the most of its table along %s", n, is, most)
		} else if is != "" {
			doubts++
		}
	}
	if doubts == 0 {
		t.Error("no picture has a line of the most")
	}
	// The Net Loft, reckoned by hand: 298 days, and a scale of $8,000.
	if is, want := found(pictures[1], `class="least" d="([^"]*)"`), "M0.00 77.50H39.26V55.00H69.46V32.50H89.60V10.00H100.00"; is != want {
		t.Errorf("The Net Loft goes along %s, not %s", is, want)
	}
}

// stepRow is a row of a table of steps: its days, its least sum and its most.
var stepRow = regexp.MustCompile(`rowheader">(.*)</th><td[^>]*>(\S+?)(?: to (\S+))?</td></tr>`)

// found is the first group of a pattern in a text, or empty.
func found(text, pattern string) string {
	return append(regexp.MustCompile(pattern).FindStringSubmatch(text), "", "")[1]
}

func sum(t *testing.T, says string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(strings.NewReplacer("$", "", ",", "").Replace(says), 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// stepped is the path that the rows of a table make: rightwards by day, and
// up from a hundred, which is nothing, to naught, which is the top.
func stepped(t *testing.T, rows [][]string, top float64, column int) string {
	t.Helper()
	day := func(says string) float64 {
		d, err := time.Parse("Mon 2 Jan 2006", says)
		if err != nil {
			t.Fatal(err)
		}
		return d.Sub(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)).Hours() / 24
	}
	path := "M0.00 "
	for n, row := range rows {
		if n > 0 {
			path += "V"
		}
		_, until, _ := strings.Cut(row[1], " to ")
		path += fmt.Sprintf("%.2fH%.2f", 100-100*sum(t, cmp.Or(row[column], row[2]))/top, 100*(day(cmp.Or(until, row[1]))+1)/298)
	}
	return path
}

// A partner's sums are of agreements all of whose costs they see: a sum with
// a hidden payment in it would tell of it.
func TestLeavingOfWhatIsSeen(t *testing.T) {
	s := newSite(t, replaced(t, string(testdata.Demo), "      - 25% 6 months before the wedding\n", "      - {says: 25% 6 months before the wedding, hide from: [theo]}\n"))
	p := s.theo(t).get(atWedding+"leaving?on=2027-05-01", http.StatusOK)
	p.has("Only what you may see is summed up", "Hollow Oak Table")
	p.lacks("Tin Gull", "The Net Loft")
	p.hasRow("In all", "$19,710.01 to $20,690.01", "$18,070.50", "$3,924.51 to $4,414.51", "$1,795.00 to $2,285.00")
	s.planner(t).get(atWedding+"leaving?on=2027-05-01", http.StatusOK).has("Tin Gull", "The Net Loft")
}

// A wedding without its day has no end to draw to, and a sum that nobody
// knows no line.
func TestLeavingWithoutADay(t *testing.T) {
	plan := adaPlan + `agreements:
  hall: {with: The Hall, service: venue, standing: signed, signed: 2026-10-01, price: "900.00", pay: [50% on signing, balance 7 days before the wedding], cancel: [50% until 2027-01-10, 100% after that]}
  band: {with: The Band, service: music, standing: signed, signed: 2026-10-01, pay: [50% on signing], cancel: [50% until 2027-01-10, 100% after that]}
`
	s := newSite(t, plan)
	p := s.planner(t).get(atAda+"leaving", http.StatusOK)
	p.hasRow("The Hall", "$450.00", "$450.00")
	p.hasRow("In all", "at least $450.00", "at least $450.00", "a sum not known yet", "a sum not known yet")
	p.has("the wedding has its day", "The price of The Band is not known yet", "a sum not known yet")
	p.lacks("<figure")

	dated := newSite(t, strings.Replace(plan, "Finn, zone", "Finn, date: 2027-05-08, zone", 1))
	p = dated.planner(t).get(atAda+"leaving", http.StatusOK)
	if n := strings.Count(p.Text, "<figure"); n != 2 {
		t.Errorf("%d pictures, and only what The Hall costs is known, and what all cost at least", n)
	}
	p.has("All together: leaving costs at least $450.00 on")
	dated.pass(2 * 365 * 24 * 3600e9)
	dated.planner(t).get(atAda+"leaving", http.StatusOK).lacks("From today to the wedding")
}
