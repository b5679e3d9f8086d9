package desk_test

import (
	"testing"

	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
)

// The way to every page takes two lines of a phone at most, whichever page it
// is, and the rest opens without a script.
func TestWaysFitAPhone(t *testing.T) {
	ctx := browse.Start(t)
	s := demoSite(t)
	browse.Lend(t, ctx, s.planner(t).Jar, s.URL)
	browse.Do(t, ctx, chromedp.EmulateViewport(390, 800))
	const lines = `new Set([...document.querySelectorAll("header nav > ul > li")].map(e => Math.round(e.getBoundingClientRect().top))).size`
	for _, path := range []string{"", "dates", "people", "agreements/", "due", "leaving", "questions", "countdown", "day", "history", "paper/month"} {
		browse.Do(t, ctx, chromedp.Navigate(s.URL+atWedding+path))
		if n := browse.Tell[int](t, ctx, lines); n > 2 {
			t.Errorf("the ways of /%s take %d lines", path, n)
		}
	}
	browse.Do(t, ctx, chromedp.Click(chromedp.CSS("header summary")), chromedp.Click(chromedp.CSS(`header a[href$="/day"]`)), chromedp.WaitVisible(chromedp.CSS("#wedding-title")))
}
