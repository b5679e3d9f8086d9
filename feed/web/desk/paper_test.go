package desk_test

import (
	"bytes"
	"errors"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"banns/feed/check"
	"banns/feed/web"
	"banns/feed/web/browse"
	"banns/store"
)

func TestPaperOfAMonth(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	p := b.get(atWedding+"paper/month?m=2027-08", http.StatusOK)
	p.hasRow("Fri 6 Aug", "Marram Tent and Table: site plan with power and water The contract says Sat 7 Aug 2027.")
	p.hasRow("Mon 16 Aug", "Second fitting 17:15, Tern & Thread, 4 Quay St")
	p.hasRow("Mon 23 Aug", "Pay Wild Vetch Flowers $1,095.00 Ada Okafor pays.")
	p.has("Maren and Theo: August 2027", "As of Wed 25 Nov 2026, 04:00 (Detroit), version 1.", `value="2027-08" selected`)
	p.lacks("Jul<", "Pay Hollow Oak Table")
	ask := s.URL + "/desk/w/maren-and-theo/paper/current?v=1"
	code, err := web.NewQR(ask)
	if err != nil {
		t.Fatal(err)
	}
	p.has(code.Path, "Code that leads to "+ask)

	b.get(atWedding+"paper/month", http.StatusOK).has("November 2026", "settled", "late")
	b.get(atWedding+"paper/month?m=2031-01", http.StatusOK).has("Nothing stands in January 2031", "Choose another month")
	b.get(atWedding+"paper/month?m=August", http.StatusNotFound)
	s.theo(t).get(atWedding+"paper/month?m=2027-08", http.StatusOK).lacks("fitting", "Tin Gull")
	newSite(t, adaPlan).planner(t).get(atAda+"paper/month", http.StatusOK).has("Begin with the day")
}

func TestPaperOfPeople(t *testing.T) {
	s := demoSite(t)
	p := s.planner(t).get(atWedding+"paper/people", http.StatusOK)
	p.hasRow("June Abara Hollow Oak Table", "+1 555 0111", "june@example.com")
	p.hasRow("Arvid Lindqvist")
	p.has("Bram Tolliver", "As of ")
	p.lacks("low salt", "US 10")
	theo := s.theo(t).get(atWedding+"paper/people", http.StatusOK)
	theo.has("June Abara")
	theo.lacks("Bram", "Tin Gull")
	newSite(t, emptyPlan).planner(t).get(atAda+"paper/people", http.StatusOK).has("Nobody is in the plan yet")
}

// The code on a print tells whether it is still current, to each by what they
// see.
func TestPaperIsCurrent(t *testing.T) {
	s := demoSite(t)
	b, theo := s.planner(t), s.theo(t)
	const at = atWedding + "paper/current?v=1"
	b.get(at, http.StatusOK).has("Yes. It is of version 1, and that is the newest")
	s.edited(t, "Odile", store.Set{Path: "appointments/priya-fitting/at", Value: []string{"12:00"}})
	p := b.get(at, http.StatusOK)
	p.has("No. It is of version 1, saved on Wed 25 Nov 2026, 04:00; the newest is version 2", "First fitting")
	theo.get(at, http.StatusOK).has("Yes. It is of version 1; the newest is version 2, and nothing that you see is otherwise")
	s.edited(t, "Odile", store.Set{Path: "appointments/cake-tasting/at", Value: []string{"12:00"}})
	p = theo.get(at, http.StatusOK)
	p.has("No. ", "Cake tasting")
	p.lacks("fitting")
	for _, v := range []string{"9", "0", "x"} {
		b.get(atWedding+"paper/current?v="+v, http.StatusNotFound)
	}
	// Whoever opens the code on another phone signs in first, and comes there.
	in := s.browser(t).get(at, http.StatusOK)
	in.has("Sign in")
	if to := in.form().Get("to"); to != strings.TrimPrefix(at, "/desk/") {
		t.Errorf("after signing in one comes to %q", to)
	}
}

// smallest is the size of the smallest letters that the page shows, in points.
const smallest = `Math.min(...[...document.querySelectorAll("body *")].filter(e => e.offsetParent && e.innerText).map(e => parseFloat(getComputedStyle(e).fontSize))) * 72 / 96`

// What is printed fits either paper: each page has the table's head and its
// foot, and no entry is broken over two.
func TestPaperIsPrinted(t *testing.T) {
	reader, err := exec.LookPath("pdftotext")
	if errors.Is(err, exec.ErrNotFound) {
		err = fmt.Errorf("pdftotext %w: apt-get install poppler-utils", check.ErrMissing)
	}
	check.Need(t, err)
	ctx := browse.Start(t)
	s := demoSite(t)
	browse.Lend(t, ctx, s.planner(t).Jar, s.URL)
	for _, sheet := range browse.Sheets {
		for path, heads := range map[string][]string{
			"paper/month?m=2027-08": {"Maren and Theo: August 2027", "Day", "Done", "As of Wed 25 Nov 2026, 04:00 (Detroit), version 1."},
			"paper/people":          {"Maren and Theo: Who is reached how", "Telephone", "As of Wed 25 Nov 2026, 04:00 (Detroit), version 1."},
		} {
			browse.Do(t, ctx, chromedp.Navigate(s.URL+atWedding+path))
			if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
				t.Fatal(err)
			}
			if points := browse.Tell[float64](t, ctx, smallest); points < 11 {
				t.Errorf("%s prints letters of %.1f points", path, points)
			}
			file := filepath.Join(t.TempDir(), "print.pdf")
			if err := os.WriteFile(file, browse.Print(t, ctx, sheet), 0o600); err != nil {
				t.Fatal(err)
			}
			text, err := exec.CommandContext(t.Context(), reader, "-layout", file, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			pages := bytes.Split(bytes.TrimSuffix(text, []byte("\f")), []byte("\f"))
			if len(pages) < 2 || len(pages) > 4 {
				t.Errorf("%s comes to %d pages of %s", path, len(pages), sheet.Name)
			}
			for n, one := range pages {
				said := strings.Join(strings.Fields(string(one)), " ")
				for _, head := range append(heads, fmt.Sprintf("%d of %d", n+1, len(pages))) {
					if !strings.Contains(said, head) {
						t.Errorf("page %d of %s on %s lacks %q:\n%s", n+1, path, sheet.Name, head, one)
					}
				}
				for _, screen := range []string{"Questions", "Made to be printed", "Show"} {
					if strings.Contains(said, screen) {
						t.Errorf("page %d of %s on %s prints %q", n+1, path, sheet.Name, screen)
					}
				}
			}
		}
	}
}
