package desk_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
)

// Every page of the desk can be read and used by everybody: axe finds nothing
// in it, it fits the screen of a phone and of a desk, in light and dark, and
// keys alone lead to all of it.
func TestEveryPageIsAccessible(t *testing.T) {
	axe := browse.Axe(t, "../../..")
	ctx := browse.Start(t)
	defer browse.Contacts(t, ctx)
	s := walkedSite(t)
	var paths []string
	for _, r := range s.routes(t) {
		if r.method == http.MethodGet && !strings.HasPrefix(r.pattern, "/door/") {
			path := s.path(t, r, "", "")
			if a := s.planner.ask(r.method, path, nil); strings.HasPrefix(a.head.Get("Content-Type"), "text/html") {
				paths = append(paths, path)
			}
		}
	}
	look := func(paths ...string) {
		for _, path := range paths {
			browse.Pictures(t, ctx, s.URL+path)
			browse.Do(t, ctx, chromedp.Navigate(s.URL+path))
			if here := browse.Tell[string](t, ctx, `location.pathname`); here != path {
				t.Fatalf("%s leads to %s", path, here)
			}
			browse.Usable(t, ctx, axe, path)
			browse.Legible(t, ctx, axe, path)
		}
	}
	look("/desk/in", "/desk/in/none", "/desk/in/"+s.accounts["INVITATION"], "/desk/paper/"+s.accounts["PRINT"])
	browse.Lend(t, ctx, s.planner.Jar, s.URL)
	look(append(paths, "/desk/no/such/page")...)
}
