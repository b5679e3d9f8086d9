package desk_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"banns/feed/check"
	"banns/feed/web"
	"banns/feed/web/browse"
	"banns/store"
)

// world is an address that phones come to; a test's own server has none.
const world = "https://dates.example.org"

// paperSite is the demo, as the world reaches it.
func paperSite(t testing.TB) *site {
	t.Helper()
	s := demoSite(t)
	if err := s.store.SetPublic(t.Context(), world, winter); err != nil {
		t.Fatal(err)
	}
	return s
}

var leads = regexp.MustCompile(`aria-label="Code that leads to ([^"]+)"`)

// printed is the address that the code of a sheet leads to.
func printed(t testing.TB, p seenPage) string {
	t.Helper()
	found := leads.FindStringSubmatch(p.Text)
	if found == nil {
		t.Fatalf("there is no code on %s: %s", p.URL.Path, p.Text)
	}
	return found[1]
}

func TestPaperOfAMonth(t *testing.T) {
	s := paperSite(t)
	b := s.planner(t)
	p := b.get(atWedding+"paper/month?m=2027-08&all=yes", http.StatusOK)
	p.hasRow("Fri 6 Aug", "Marram Tent and Table: site plan with power and water The contract says Sat 7 Aug 2027.")
	p.hasRow("Mon 16 Aug", "Second fitting 17:15, Tern & Thread, 4 Quay St")
	p.hasRow("Mon 23 Aug", "Pay Wild Vetch Flowers $1,095.00 Ada Okafor pays.")
	p.has("Maren and Theo: August 2027", "As of Wed 25 Nov 2026, 04:00 (Detroit), version 1.", `value="2027-08" selected`)
	p.lacks("Jul<", "Pay Hollow Oak Table")
	ask := printed(t, p)
	code, err := web.NewQR(ask)
	if err != nil {
		t.Fatal(err)
	}
	p.has(code.Path)
	if !strings.HasPrefix(ask, world+"/desk/paper/") {
		t.Errorf("its code leads to %s", ask)
	}

	b.get(atWedding+"paper/month", http.StatusOK).has("November 2026", "settled", "late")
	b.get(atWedding+"paper/month?m=2031-01", http.StatusOK).has("Nothing stands in January 2031", "Choose another month")
	b.get(atWedding+"paper/month?m=August", http.StatusNotFound)
	s.theo(t).get(atWedding+"paper/month?m=2027-08", http.StatusOK).lacks("fitting", "Tin Gull")
	newSite(t, adaPlan).planner(t).get(atAda+"paper/month", http.StatusOK).has("Begin with the day")
}

func TestPaperOfPeople(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	wall := b.get(atWedding+"paper/people", http.StatusOK)
	wall.has("June Abara", "Left out of this print, since it may hang where everybody reads it: who is in the plan for something hidden alone.", "paper/people?all=yes")
	wall.lacks("Bram", "Tin Gull")
	p := b.get(atWedding+"paper/people?all=yes", http.StatusOK)
	p.has("On this print: who is in the plan for something hidden alone.", `paper/people">Leave out`)
	p.hasRow("June Abara Hollow Oak Table", "+1 555 0111", "june@example.com")
	p.hasRow("Arvid Lindqvist")
	p.has("Bram Tolliver", "As of ")
	p.lacks("low salt", "US 10")
	theo := s.theo(t).get(atWedding+"paper/people", http.StatusOK)
	theo.has("June Abara")
	theo.lacks("Bram", "Tin Gull", "Left out")
	newSite(t, emptyPlan).planner(t).get(atAda+"paper/people", http.StatusOK).has("Nobody is in the plan yet")
}

// The code on a print tells anybody whether that sheet is still current: what
// changes elsewhere in the plan makes it no other.
func TestPaperIsCurrent(t *testing.T) {
	s := paperSite(t)
	b, theo, nobody := s.planner(t), s.theo(t), s.browser(t)
	sheet := func(b *browser, page string) string {
		return strings.TrimPrefix(printed(t, b.get(atWedding+page, http.StatusOK)), world)
	}
	august, march, people := sheet(b, "paper/month?m=2027-08&all=yes"), sheet(b, "paper/month?m=2027-03"), sheet(b, "paper/people")
	his := sheet(theo, "paper/month?m=2027-08")
	if his == august || august == march || march == people {
		t.Fatal("two sheets have one code")
	}
	for _, at := range []string{august, march, people, his} {
		nobody.get(at, http.StatusOK).has("Yes. It is of version 1, and that is the newest", "in?to="+strings.TrimPrefix(at, "/desk/"))
		b.get(at, http.StatusOK).has("Yes. It is of version 1, and that is the newest")
	}
	holds := func(at string, version int, same bool) {
		t.Helper()
		p := nobody.get(at, http.StatusOK)
		newest := fmt.Sprintf("It is of version 1; the newest is version %d.", version)
		if same {
			p.has("Yes. This sheet is as printed. " + newest)
			p.lacks("Ask whoever")
			p = b.get(at, http.StatusOK)
			p.has("Yes. This sheet is as printed. "+newest, "Elsewhere the plan has changed", "What changed elsewhere")
			return
		}
		p.has("No. "+newest, "Ask whoever gave you this for a new one")
		b.get(at, http.StatusOK).has("No. It is of version 1, saved on Wed 25 Nov 2026, 04:00; the newest is version", "What changed since")
	}
	s.edited(t, "Odile", store.Set{Path: "appointments/priya-fitting-2/at", Value: []string{"18:00"}}) // on 16 August, hidden from Theo
	holds(august, 2, false)
	holds(march, 2, true)
	holds(people, 2, true)
	holds(his, 2, true)
	b.get(august, http.StatusOK).has("Second fitting", `paper/month?all=yes&m=2027-08">Print it anew`)
	for _, at := range []string{august, his} {
		theo.get(at, http.StatusOK).lacks("fitting", "Elsewhere", "What changed")
	}
	s.edited(t, "Odile", store.Set{Path: "people/june/phone", Value: []string{"+1 555 0199"}})
	holds(people, 3, false)
	holds(march, 3, true)
	b.get(people, http.StatusOK).has(`paper/people">Print it anew`)

	// Whoever opens the code signs in, and comes back.
	in := nobody.get("/desk/in?to="+strings.TrimPrefix(march, "/desk/"), http.StatusOK)
	if to := in.form().Get("to"); "/desk/"+to != march {
		t.Errorf("after signing in one comes to %q", to)
	}
	for _, bad := range []string{"/desk/paper/", "/desk/paper/none", march + "a", march[:len(march)-1]} {
		nobody.get(bad, http.StatusNotFound)
	}
	// A store that is brought back may count the same versions anew.
	if _, err := s.db(t).ExecContext(t.Context(), "update version set saved_at = '2026-11-26T09:00:00Z' where n = 1"); err != nil {
		t.Fatal(err)
	}
	nobody.get(march, http.StatusOK).has("Nobody can say. Version 1 cannot be read here any more", "Ask whoever gave you this")
	b.get(march, http.StatusOK).has("Nobody can say", "Print it anew")
}

// A sheet has no code that no phone can open, and says so before it is
// printed.
func TestPaperThatNoPhoneReaches(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	for _, page := range []string{"paper/month?m=2027-08", "paper/people"} {
		p := b.get(atWedding+page, http.StatusOK)
		p.has("This prints without its code", "127.0.0.1 is known only to the machine", "Ask whoever gave you this whether it is still current")
		p.lacks("Code that leads", "Point a camera")
	}
	for base, says := range map[string]string{world: "", "http://192.168.1.20:8470": "Its code works on the same network only"} {
		if err := s.store.SetPublic(t.Context(), base, winter); err != nil {
			t.Fatal(err)
		}
		p := b.get(atWedding+"paper/month?m=2027-08", http.StatusOK)
		p.has(says, "Code that leads to "+base, "Point a camera")
		p.lacks("without its code", "Ask whoever")
		if says == "" {
			p.lacks("warn")
		}
	}
}

// smallest is the size of the smallest letters that the page shows, in points.
const smallest = `Math.min(...[...document.querySelectorAll("body *")].filter(e => e.offsetParent && e.innerText).map(e => parseFloat(getComputedStyle(e).fontSize))) * 72 / 96`

// coloured are the elements that a page shows in another colour than dark
// grey on white, or than lines of grey.
const coloured = `[...document.querySelectorAll("html, body, body *")].filter(e => e.getClientRects().length).flatMap(e => {
	const style = getComputedStyle(e);
	return ["color", "background-color", "border-top-color", "border-bottom-color", "fill", "stroke"].filter(name => {
		const [r, g, b, a] = (style.getPropertyValue(name).match(/[\d.]+/g) || [0, 0, 0, 0]).map(Number);
		if (a === 0) return false;
		return r !== g || g !== b || name === "color" && r > 80 || name === "background-color" && r < 255;
	}).map(name => e.tagName + "." + e.getAttribute("class") + " " + name + ": " + style.getPropertyValue(name));
})`

// lengthen puts a word before and one behind each entry on paper, and lines
// between them, so that some entry stands where a page ends.
const lengthen = `[...document.querySelectorAll(".print tbody tr")].map((row, n) => {
	row.cells[0].prepend("first" + n + "x ");
	const cell = row.cells[Math.min(1, row.cells.length - 1)];
	for (let line = 0; line < 9; line++) cell.append(document.createElement("br"), "line");
	cell.append(document.createElement("br"), "last" + n + "x");
	return n;
}).length`

// What is printed fits either paper, from dark as from light: black on white,
// each page with the table's head and its foot, and no entry broken over two.
func TestPaperIsPrinted(t *testing.T) {
	reader, err := exec.LookPath("pdftotext")
	if errors.Is(err, exec.ErrNotFound) {
		err = fmt.Errorf("pdftotext %w: apt-get install poppler-utils", check.ErrMissing)
	}
	check.Need(t, err)
	ctx := browse.Start(t)
	s := paperSite(t)
	browse.Lend(t, ctx, s.planner(t).Jar, s.URL)
	for _, sheet := range browse.Sheets {
		for path, heads := range map[string][]string{
			"paper/month?m=2027-08": {"Maren and Theo: August 2027", "Day", "Done", "As of Wed 25 Nov 2026, 04:00 (Detroit), version 1."},
			"paper/people":          {"Maren and Theo: Who is reached how", "Telephone", "As of Wed 25 Nov 2026, 04:00 (Detroit), version 1."},
		} {
			browse.Do(t, ctx, chromedp.Navigate(s.URL+atWedding+path))
			if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print",
				Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}}); err != nil {
				t.Fatal(err)
			}
			if points := browse.Tell[float64](t, ctx, smallest); points < 11 {
				t.Errorf("%s prints letters of %.1f points", path, points)
			}
			for _, found := range browse.Tell[[]string](t, ctx, coloured) {
				t.Errorf("%s prints %s", path, found)
			}
			pages := printedPages(t, ctx, reader, sheet)
			if len(pages) < 2 || len(pages) > 4 {
				t.Errorf("%s comes to %d pages of %s", path, len(pages), sheet.Name)
			}
			for n, said := range pages {
				for _, head := range append(heads, fmt.Sprintf("%d of %d", n+1, len(pages))) {
					if !strings.Contains(said, head) {
						t.Errorf("page %d of %s on %s lacks %q:\n%s", n+1, path, sheet.Name, head, said)
					}
				}
				for _, screen := range []string{"Questions", "Made to be printed", "Show"} {
					if strings.Contains(said, screen) {
						t.Errorf("page %d of %s on %s prints %q", n+1, path, sheet.Name, screen)
					}
				}
			}
			rows := browse.Tell[int](t, ctx, lengthen)
			pages = printedPages(t, ctx, reader, sheet)
			if rows < 10 || len(pages) < 4 {
				t.Fatalf("%d entries of %s come to %d pages: that proves nothing", rows, path, len(pages))
			}
			for n := range rows {
				first, last := fmt.Sprintf("first%dx", n), fmt.Sprintf("last%dx", n)
				if !slices.ContainsFunc(pages, func(said string) bool { return strings.Contains(said, first) && strings.Contains(said, last) }) {
					t.Errorf("entry %d of %s is broken over two pages of %s", n, path, sheet.Name)
				}
			}
		}
	}
}

// printedPages are the words of each page that is printed.
func printedPages(t *testing.T, ctx context.Context, reader string, on browse.Sheet) []string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "print.pdf")
	if err := os.WriteFile(file, browse.Print(t, ctx, on), 0o600); err != nil {
		t.Fatal(err)
	}
	text, err := exec.CommandContext(t.Context(), reader, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	var pages []string
	for page := range bytes.SplitSeq(bytes.TrimSuffix(text, []byte("\f")), []byte("\f")) {
		pages = append(pages, strings.Join(strings.Fields(string(page)), " "))
	}
	return pages
}
