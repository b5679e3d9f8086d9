package desk_test

import (
	"fmt"
	"net/http"
	"net/url"
	"testing"

	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
	"banns/testdata"
)

// The days of a shortlist stand side by side at a desk and below one another
// on a phone; without colour each verdict still has its word and a mark of its
// own; and whoever has a link sees the same days without signing in.
func TestWeighInABrowser(t *testing.T) {
	ctx := browse.Start(t)
	s := townSite(t, string(testdata.Demo))
	b := s.planner(t)
	b.post(weighPath+"/share", http.StatusOK, url.Values{})
	open, err := s.store.AllShared(t.Context(), "maren-and-theo")
	if err != nil || len(open) != 1 {
		t.Fatalf("%d links: %v", len(open), err)
	}
	shared := "/d/" + open[0].Token
	browse.Do(t, ctx, chromedp.Navigate(s.URL+shared)) // before there is a cookie
	if title := browse.Tell[string](t, ctx, `document.title`); title != "Days to choose from" {
		t.Errorf("the link opens %q", title)
	}
	browse.Lend(t, ctx, b.Jar, s.URL)
	axe := browse.Axe(t, "../../..")
	defer browse.Contacts(t, ctx)
	for _, path := range []string{weighPath, weighPath + "?year=2027", shared} {
		browse.Pictures(t, ctx, s.URL+path)
		for _, scheme := range []string{"light", "dark"} {
			browse.Prefer(t, ctx, scheme)
			for _, width := range []int64{320, 390, 1280} {
				view := fmt.Sprintf("%s at %d px, %s", path, width, scheme)
				browse.Do(t, ctx, chromedp.EmulateViewport(width, 800), chromedp.Navigate(s.URL+path))
				browse.Tell[any](t, ctx, browse.Unfold)
				browse.Fits(t, ctx, view)
				if width != 320 {
					browse.Accessible(t, ctx, axe, view)
				}
				columns := browse.Tell[int](t, ctx, `new Set([...document.querySelectorAll(".compared > li")].map(e => e.getBoundingClientRect().left)).size`)
				if want := map[int64]int{320: 1, 390: 1, 1280: 3}[width]; columns != want {
					t.Errorf("%s has %d days side by side, not %d", view, columns, want)
				}
			}
		}
		browse.ByKeyboard(t, ctx, path)
	}
	// Each verdict that is shown has one mark, and no other has it; the word
	// stands beside it, and neither is cut off.
	browse.Do(t, ctx, chromedp.Navigate(s.URL+weighPath+"?year=2027"))
	browse.Tell[any](t, ctx, `document.documentElement.style.filter = "grayscale(1)"; null`)
	marks := map[string]string{}
	for _, one := range shownIn(t, ctx, ".weighed a .word:has(.mark)") {
		if was, ok := marks[one.Says]; ok && was != one.Mark || one.Cut {
			t.Errorf("%+v is doubtful", one)
		}
		marks[one.Says] = one.Mark
	}
	if len(marks) != 3 || marks["clear"] != "settled" || marks["watch"] != "soon" || marks["avoid"] != "late" {
		t.Errorf("the marks of a year are %v", marks)
	}
}
