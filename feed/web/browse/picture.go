package browse

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// pictures is where Pictures puts them.
var pictures = flag.String("pictures", "", "a folder for pictures of every page that tests look at")

// Sheets are the papers that pages are printed on.
var Sheets = []Sheet{{"A4", 8.27, 11.69}, {"Letter", 8.5, 11}}

// Sheet is a paper.
type Sheet struct {
	Name       string
	wide, high float64 // in inches
}

// Pictures keeps how a page looks, for somebody to look at: on a phone and at
// a desk, in light, dark and grey, and as it prints. It does so only where
// -pictures names a folder, and Contacts lays them out together.
func Pictures(t *testing.T, ctx context.Context, address string) {
	t.Helper()
	if *pictures == "" {
		return
	}
	at, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	name := strings.Trim(strings.NewReplacer("/", " ", "=", " ", "&", " ").Replace(at.Path+" "+at.RawQuery), " ")
	name = cmp.Or(name, "front")
	for slices.ContainsFunc(laid["print"], func(c contact) bool { return c.Name == name }) {
		name += " again" // at another site
	}
	Do(t, ctx, chromedp.Navigate(address))
	for _, scheme := range []string{"light", "dark"} {
		Prefer(t, ctx, scheme)
		for _, width := range []int64{390, 1280} {
			lay(t, name, fmt.Sprintf("%s %d", scheme, width), Shot(t, ctx, width, 0))
		}
	}
	Prefer(t, ctx, "light")
	Tell[any](t, ctx, `document.documentElement.style.filter = "grayscale(1)"; null`)
	lay(t, name, "grey 390", Shot(t, ctx, 390, 0))
	for _, sheet := range Sheets {
		Keep(t, name+" "+sheet.Name+".pdf", Print(t, ctx, sheet))
	}
	media(t, ctx, "print", "light")
	lay(t, name, "print", Shot(t, ctx, 703, 0)) // as wide as A4 between its margins
	Prefer(t, ctx, "light")
}

// Keep puts a picture into the folder that -pictures names, if it names one.
func Keep(t *testing.T, name string, picture []byte) {
	t.Helper()
	if *pictures == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(*pictures, name), picture, 0o666); err != nil {
		t.Fatal(err)
	}
}

// Shot is a picture, in PNG, of a page as it is on a screen so wide: its first
// so many pixels, or all of it where high is 0.
func Shot(t *testing.T, ctx context.Context, width, high int64) []byte {
	t.Helper()
	Do(t, ctx, chromedp.EmulateViewport(width, 800))
	if high == 0 {
		high = max(800, Tell[int64](t, ctx, `document.documentElement.scrollHeight`))
	}
	Do(t, ctx, chromedp.EmulateViewport(width, high))
	shot, err := chromedp.Call(ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{})
	if err != nil {
		t.Fatal(err)
	}
	return shot.Data
}

// Print is the page as it prints, in PDF.
func Print(t *testing.T, ctx context.Context, on Sheet) []byte {
	t.Helper()
	pdf, err := chromedp.Call(ctx, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: on.wide, PaperHeight: on.high})
	if err != nil {
		t.Fatal(err)
	}
	return pdf.Data
}
