package desk_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
)

// A word as long as a name may be wraps wherever it stands: no page scrolls
// sideways for it.
func TestLongWordsWrap(t *testing.T) {
	ctx := browse.Start(t)
	word := func(from string) string { return from + strings.Repeat("m", 100-len(from)) }
	s := newSite(t, strings.NewReplacer("Ada and Finn", word("T"), "Ada Quince", word("A"), "Finn Quince", word("F"), "The Hall", word("H"), "venue", word("v"),
		"what: Tasting", "place: "+word("P")+", what: "+word("T"), "Dinner", word("D"), "menu choice", "what "+word("c"), "Fill the bags", word("B"),
		"finn: {", "finn: {groups: ["+word("g")+"], email: "+strings.Repeat("m", 60)+"@example.org, phone: \""+strings.Repeat("5", 60)+"\", ",
	).Replace(surprised))
	all, err := s.store.Weddings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	at := "/desk/w/" + all[0].Name + "/"
	b := s.planner(t)
	b.get(at, http.StatusOK)
	browse.Lend(t, ctx, b.Jar, s.URL)
	for _, path := range []string{"", "dates?month=2027-05", "people", "people/finn", "people/finn/link", "people/finn/sees", "agreements/", "agreements/hall",
		"due", "leaving", "questions", "countdown", "day", "history", "admits", "appointments/tasting", "occasions/dinner", "countdown/bags", "paper/month?m=2027-07", "paper/people"} {
		browse.Do(t, ctx, chromedp.Navigate(s.URL+at+path))
		browse.Tell[any](t, ctx, browse.Unfold)
		for _, width := range []int64{320, 390, 1280} {
			browse.Do(t, ctx, chromedp.EmulateViewport(width, 800))
			browse.Fits(t, ctx, fmt.Sprintf("%s at %d px", path, width))
		}
	}
	browse.Do(t, ctx, chromedp.Navigate(s.URL+"/p/"+func() string {
		tokens, err := s.store.Tokens(t.Context(), all[0].ID)
		if err != nil {
			t.Fatal(err)
		}
		return tokens["finn"]
	}()))
	browse.Tell[any](t, ctx, browse.Unfold)
	for _, width := range []int64{320, 1280} {
		browse.Do(t, ctx, chromedp.EmulateViewport(width, 800))
		browse.Fits(t, ctx, fmt.Sprintf("a person's page at %d px", width))
	}
}
