package desk_test

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"banns/feed/web/browse"
	"banns/store"
)

// shown is a state as a page shows it where there is no colour.
type shown struct {
	Says  string // its word
	Mark  string // the name of the shape before it
	Shape string // how that is drawn
	Cut   bool   // not all of it shows
}

// shownIn are the states that a selector finds. What a person may do there is
// none, and a question that stands behind a state is one of its own.
func shownIn(t *testing.T, ctx context.Context, selector string) []shown {
	t.Helper()
	return browse.Tell[[]shown](t, ctx, fmt.Sprintf(`[...document.querySelectorAll(%q)].filter(e => e.getClientRects().length && !e.querySelector("a, button")).map(e => {
		const own = [...e.childNodes].filter(n => !(n.classList && n.classList.contains("question")));
		const mark = own.map(n => n.matches && n.matches(".mark") && n.getClientRects().length && n.querySelector("use")).find(Boolean);
		const name = mark ? mark.getAttribute("href") : "", drawn = name && document.querySelector(name);
		return {
			Says: own.map(n => n.textContent).join("").trim().split(/[,:]/)[0],
			Mark: name.replace("#m-", ""),
			Shape: drawn ? drawn.innerHTML : "",
			Cut: e.clientWidth > 0 && e.scrollWidth > e.clientWidth + 1,
		};
	})`, selector))
}

// stateWords are the words that stand behind each mark, by how they begin.
// What is over and asks nothing of anybody has a word alone.
var stateWords = map[string][]string{
	"todo":      {"to do", "to attend", "others attend", "to come", "only ", "no calendar yet"},
	"soon":      {"due soon", "to attend", "others attend", "only if "},
	"late":      {"late"},
	"settled":   {"settled", "signed", "subscribed"},
	"question":  {"question", "open", "not heard of since "},
	"withdrawn": {"withdrawn", "replaced", "ended", "link closed"},
	"":          {"over"},
}

// Without colour each state on each page has its word and a mark, which no
// other kind of state has.
func TestStatesWithoutColour(t *testing.T) {
	ctx := browse.Start(t)
	s := walkedSite(t)
	pages := []string{"/p/" + s.token(t, "maren")}
	if err := s.store.Revoke(t.Context(), "maren-and-theo", "kofi", false, winter); err != nil {
		t.Fatal(err)
	}
	s.edited(t, "Odile", store.Set{Path: "appointments/priya-fitting-2"})
	for _, r := range s.routes(t) {
		if r.method != http.MethodGet || r.public() {
			continue
		}
		for _, path := range s.there(t, r) {
			if a := s.planner.ask(r.method, path, nil); strings.Contains(a.body, "state") && a.status == http.StatusOK {
				pages = append(pages, path)
			}
		}
	}
	pages = append(pages, atWedding+"dates?month=2027-08")
	browse.Lend(t, ctx, s.planner.Jar, s.URL)
	browse.Prefer(t, ctx, "light")
	browse.Do(t, ctx, chromedp.EmulateViewport(390, 800))
	marks, shapes := map[string]bool{}, map[string]string{}
	for _, path := range pages {
		browse.Do(t, ctx, chromedp.Navigate(s.URL+path))
		browse.Tell[any](t, ctx, browse.Unfold)
		browse.Tell[any](t, ctx, `document.documentElement.style.filter = "grayscale(1)"; null`)
		for _, one := range shownIn(t, ctx, ".state, .state > .question") {
			words := stateWords[one.Mark]
			if one.Cut || !slices.ContainsFunc(words, func(word string) bool { return strings.HasPrefix(one.Says, word) }) || (one.Shape == "") != (one.Mark == "") {
				t.Errorf("%s shows %q with the mark %q", path, one.Says, one.Mark)
			}
			if other, ok := shapes[one.Shape]; ok && other != one.Mark {
				t.Errorf("the marks %q and %q are one shape", other, one.Mark)
			}
			marks[one.Mark], shapes[one.Shape] = true, one.Mark
		}
	}
	if len(marks) != len(stateWords) {
		t.Errorf("only the marks %v are shown on %d pages: the others are not proved", marks, len(pages))
	}
}
