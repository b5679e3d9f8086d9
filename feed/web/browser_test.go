package web_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"banns/feed/web/browse"
	"banns/store"
)

// eachView opens url at both widths, in light and dark.
func eachView(t *testing.T, ctx context.Context, url string, look func(view string)) {
	t.Helper()
	for _, prefers := range []string{"light", "dark"} {
		browse.Prefer(t, ctx, prefers)
		for _, width := range []int64{360, 1280} {
			browse.Do(t, ctx, chromedp.EmulateViewport(width, 800), chromedp.Navigate(url))
			look(fmt.Sprintf("%s at %d px, %s", strings.TrimPrefix(url, "http://"), width, prefers))
		}
	}
}

func TestPagesFit(t *testing.T) {
	s := jointSite(t, elsewherePlan)
	s.goTo(august)
	ctx := browse.Start(t)
	defer browse.Contacts(t, ctx)
	changed := editedSite(t)
	for _, url := range []string{s.URL + "/", s.page("maren"), s.page("joint"), s.page("bea") + "?kept", s.page("priya"), s.URL + "/p/none",
		changed.page("maren")} {
		browse.Pictures(t, ctx, url)
		papers := map[string]bool{}
		eachView(t, ctx, url, func(view string) {
			browse.Tell[any](t, ctx, browse.Unfold)
			browse.Fits(t, ctx, view)
			if size := browse.Tell[float64](t, ctx, `parseFloat(getComputedStyle(document.body).fontSize)`); size < 17 {
				t.Errorf("%s: text of %g px", view, size)
			}
			papers[browse.Tell[string](t, ctx, `getComputedStyle(document.body).backgroundColor`)] = true
		})
		if len(papers) != 2 {
			t.Errorf("%s: light and dark are on the same paper", url)
		}
	}
	browse.Do(t, ctx, chromedp.EmulateViewport(320, 600), chromedp.Navigate(s.page("bea")))
	browse.Fits(t, ctx, "the smallest phone")

	columns := `new Set([...document.querySelectorAll(".desk > *")].map(e => e.getBoundingClientRect().left)).size`
	eachView(t, ctx, s.page("bea"), func(view string) {
		want := 1
		if strings.Contains(view, "1280") {
			want = 2
		}
		if got := browse.Tell[int](t, ctx, columns); got != want {
			t.Errorf("%s has %d columns, want %d", view, got, want)
		}
	})
}

// A person chooses by keyboard alone, and sees what was kept.
func TestChooseRemindersByKeyboard(t *testing.T) {
	s := demoSite(t)
	ctx := browse.Start(t)
	for _, host := range []string{"127.0.0.1", browse.Elsewhere} {
		browse.Do(t, ctx, chromedp.Navigate(strings.Replace(s.page("bea"), "127.0.0.1", host, 1)))
		tabTo(t, ctx, `input[name=reminders]:checked`)
		browse.Do(t, ctx, chromedp.KeyEvent(kb.ArrowDown)) // an alarm, then an early notice
		chosen := browse.Tell[string](t, ctx, `document.activeElement.value`)
		tabTo(t, ctx, `form button`)
		if _, err := chromedp.RunResponse(ctx, chromedp.KeyEvent(kb.Enter)); err != nil {
			t.Fatal(err)
		}
		says, err := chromedp.Run(ctx, chromedp.Text(chromedp.CSS("#kept")))
		if err != nil {
			t.Fatal(err)
		}
		p, err := s.store.Page(t.Context(), s.tokens["bea"])
		if err != nil {
			t.Fatal(err)
		}
		if chosen == "alarm" || string(p.Reminders) != chosen || !strings.Contains(says, "Kept: ") {
			t.Errorf("over %s: chose %q, kept %q, and the page says %q", host, chosen, p.Reminders, says)
		}
		if visible := browse.Tell[bool](t, ctx, `(r => r.top >= 0 && r.bottom <= innerHeight)(document.querySelector("#kept").getBoundingClientRect())`); !visible {
			t.Error("the confirmation is out of sight")
		}
	}
	silent(t, s)
}

// tabTo presses Tab until an element has the focus, and fails where nothing
// shows that it has.
func tabTo(t *testing.T, ctx context.Context, selector string) {
	t.Helper()
	for range 200 {
		browse.Do(t, ctx, chromedp.KeyEvent(kb.Tab))
		if browse.Tell[bool](t, ctx, `document.activeElement.matches("`+selector+`")`) {
			if style := browse.Tell[string](t, ctx, `getComputedStyle(document.activeElement).outlineStyle`); style == "none" {
				t.Errorf("nothing shows that %s has the focus", selector)
			}
			return
		}
	}
	t.Fatalf("Tab never comes to %s", selector)
}

func TestCopyButtonCopies(t *testing.T) {
	s := demoSite(t)
	ctx := browse.Start(t)
	for _, host := range []string{"127.0.0.1", browse.Elsewhere} {
		page := strings.Replace(s.page("bea"), "127.0.0.1", host, 1)
		browse.Do(t, ctx, chromedp.Navigate(page), chromedp.Click(chromedp.CSS("button[data-copy]")), chromedp.WaitVisible(chromedp.CSS(".copied")))
		if says := browse.Tell[string](t, ctx, `document.querySelector(".copied").textContent`); says != "Copied." {
			t.Errorf("over %s the page says %q", host, says)
		}
		// Pasted where the page cannot have put it.
		browse.Do(t, ctx, chromedp.Navigate("data:text/html,<textarea autofocus></textarea>"), chromedp.Focus(chromedp.CSS("textarea")))
		paste := chromedp.KeyEvent("v", chromedp.KeyModifiers(kb.ModifierCtrl))
		browse.Do(t, ctx, paste)
		want := strings.Replace(s.calendar("bea"), "127.0.0.1", host, 1)
		if got := browse.Tell[string](t, ctx, `document.querySelector("textarea").value`); got != want {
			t.Errorf("over %s it copied %q, want %q", host, got, want)
		}
	}
}

func TestAccessible(t *testing.T) {
	script := browse.Axe(t, "../..")
	s := jointSite(t, elsewherePlan)
	s.goTo(august)
	closed := s.tokens["ada"]
	if err := s.store.Revoke(t.Context(), s.name, "ada", false, winter); err != nil {
		t.Fatal(err)
	}
	s.serve(t, "")
	changed := editedSite(t)
	ctx := browse.Start(t)
	for _, url := range []string{s.URL + "/", s.page("bea") + "?kept", s.page("priya"), s.page("joint"), s.URL + "/p/" + closed,
		s.URL + "/p/" + strings.Repeat("a", store.TokenSize), changed.page("maren")} {
		eachView(t, ctx, url, func(view string) {
			browse.Tell[any](t, ctx, browse.Unfold)
			browse.Accessible(t, ctx, script, view)
		})
		browse.ByKeyboard(t, ctx, url)
	}
}
