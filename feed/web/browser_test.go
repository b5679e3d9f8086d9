package web_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"banns/feed/check"
	"banns/store"
)

// elsewhere is a name for this machine that browsers do not trust: over plain
// http it is to them what a home's own network is.
const elsewhere = "phone.example"

// browse starts Debian's chromium on a profile of its own.
func browse(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if errors.Is(err, exec.ErrNotFound) {
		err = fmt.Errorf("chromium %w: apt-get install chromium", check.ErrMissing)
	}
	check.Need(t, err)
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewExecAllocator(ctx, chromedp.ExecPath(path), chromedp.UserDataDir(t.TempDir()),
		chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true), chromedp.Flag("host-resolver-rules", "MAP "+elsewhere+" 127.0.0.1"))
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	return ctx
}

// do runs steps in the browser.
func do(t *testing.T, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

// tell is what a script in the page comes to.
func tell[T any](t *testing.T, ctx context.Context, script string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// scheme is what somebody prefers: light or dark.
func scheme(t *testing.T, ctx context.Context, prefers string) {
	t.Helper()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: prefers}}})
	if err != nil {
		t.Fatal(err)
	}
}

// eachView opens url at both widths, in light and dark.
func eachView(t *testing.T, ctx context.Context, url string, look func(view string)) {
	t.Helper()
	for _, prefers := range []string{"light", "dark"} {
		scheme(t, ctx, prefers)
		for _, width := range []int64{360, 1280} {
			do(t, ctx, chromedp.EmulateViewport(width, 800), chromedp.Navigate(url))
			look(fmt.Sprintf("%s at %d px, %s", strings.TrimPrefix(url, "http://"), width, prefers))
		}
	}
}

// unfold opens every folded part of the page.
const unfold = `document.querySelectorAll("details").forEach(d => d.open = true)`

func TestPagesFit(t *testing.T) {
	s := jointSite(t, elsewherePlan)
	s.goTo(august)
	ctx := browse(t)
	for _, url := range []string{s.URL + "/", s.page("maren"), s.page("joint"), s.page("bea") + "?kept", s.page("priya"), s.URL + "/p/none"} {
		papers := map[string]bool{}
		eachView(t, ctx, url, func(view string) {
			tell[any](t, ctx, unfold)
			fits(t, ctx, view)
			if size := tell[float64](t, ctx, `parseFloat(getComputedStyle(document.body).fontSize)`); size < 17 {
				t.Errorf("%s: text of %g px", view, size)
			}
			papers[tell[string](t, ctx, `getComputedStyle(document.body).backgroundColor`)] = true
		})
		if len(papers) != 2 {
			t.Errorf("%s: light and dark are on the same paper", url)
		}
	}
	do(t, ctx, chromedp.EmulateViewport(320, 600), chromedp.Navigate(s.page("bea")))
	fits(t, ctx, "the smallest phone")

	columns := `new Set([...document.querySelectorAll(".desk > *")].map(e => e.getBoundingClientRect().left)).size`
	eachView(t, ctx, s.page("bea"), func(view string) {
		want := 1
		if strings.Contains(view, "1280") {
			want = 2
		}
		if got := tell[int](t, ctx, columns); got != want {
			t.Errorf("%s has %d columns, want %d", view, got, want)
		}
	})
}

// fits fails where the page scrolls sideways.
func fits(t *testing.T, ctx context.Context, view string) {
	t.Helper()
	if wide := tell[[2]int](t, ctx, `[document.documentElement.scrollWidth, innerWidth]`); wide[0] > wide[1] {
		t.Errorf("%s scrolls sideways: %d of %d px", view, wide[0], wide[1])
	}
}

// A person chooses by keyboard alone, and sees what was kept.
func TestChooseRemindersByKeyboard(t *testing.T) {
	s := demoSite(t)
	ctx := browse(t)
	for _, host := range []string{"127.0.0.1", elsewhere} {
		do(t, ctx, chromedp.Navigate(strings.Replace(s.page("bea"), "127.0.0.1", host, 1)))
		tabTo(t, ctx, `input[name=reminders]:checked`)
		do(t, ctx, chromedp.KeyEvent(kb.ArrowDown)) // an alarm, then an early notice
		chosen := tell[string](t, ctx, `document.activeElement.value`)
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
		if visible := tell[bool](t, ctx, `(r => r.top >= 0 && r.bottom <= innerHeight)(document.querySelector("#kept").getBoundingClientRect())`); !visible {
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
		do(t, ctx, chromedp.KeyEvent(kb.Tab))
		if tell[bool](t, ctx, `document.activeElement.matches("`+selector+`")`) {
			if style := tell[string](t, ctx, `getComputedStyle(document.activeElement).outlineStyle`); style == "none" {
				t.Errorf("nothing shows that %s has the focus", selector)
			}
			return
		}
	}
	t.Fatalf("Tab never comes to %s", selector)
}

func TestCopyButtonCopies(t *testing.T) {
	s := demoSite(t)
	ctx := browse(t)
	for _, host := range []string{"127.0.0.1", elsewhere} {
		page := strings.Replace(s.page("bea"), "127.0.0.1", host, 1)
		do(t, ctx, chromedp.Navigate(page), chromedp.Click(chromedp.CSS("button[data-copy]")), chromedp.WaitVisible(chromedp.CSS(".copied")))
		if says := tell[string](t, ctx, `document.querySelector(".copied").textContent`); says != "Copied." {
			t.Errorf("over %s the page says %q", host, says)
		}
		// Pasted where the page cannot have put it.
		do(t, ctx, chromedp.Navigate("data:text/html,<textarea autofocus></textarea>"), chromedp.Focus(chromedp.CSS("textarea")))
		paste := chromedp.KeyEvent("v", chromedp.KeyModifiers(kb.ModifierCtrl))
		do(t, ctx, paste)
		want := strings.Replace(s.calendar("bea"), "127.0.0.1", host, 1)
		if got := tell[string](t, ctx, `document.querySelector("textarea").value`); got != want {
			t.Errorf("over %s it copied %q, want %q", host, got, want)
		}
	}
}

// axe is the accessibility checker, as npm installs it in .ci/tools.
func axe(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("BANNS_NODE_MODULES")
	if dir == "" {
		dir = filepath.Join("..", "..", ".ci", "tools")
	}
	script, err := os.ReadFile(filepath.Join(dir, "node_modules", "axe-core", "axe.min.js"))
	if errors.Is(err, os.ErrNotExist) {
		err = fmt.Errorf("axe-core %w: run npm ci in .ci/tools", check.ErrMissing)
	}
	check.Need(t, err)
	return string(script)
}

func TestAccessible(t *testing.T) {
	script := axe(t)
	s := jointSite(t, elsewherePlan)
	s.goTo(august)
	closed := s.tokens["ada"]
	if err := s.store.Revoke(t.Context(), s.name, "ada", false, winter); err != nil {
		t.Fatal(err)
	}
	s.serve(t, "")
	ctx := browse(t)
	for _, url := range []string{s.URL + "/", s.page("bea") + "?kept", s.page("priya"), s.page("joint"), s.URL + "/p/" + closed,
		s.URL + "/p/" + strings.Repeat("a", store.TokenSize)} {
		eachView(t, ctx, url, func(view string) {
			tell[any](t, ctx, unfold)
			tell[any](t, ctx, script+"; null")
			found, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](
				`axe.run().then(r => [...r.violations, ...r.incomplete].flatMap(v => v.nodes.map(n => v.id + ": " + n.html)))`,
				chromedp.EvalAwaitPromise))
			if err != nil {
				t.Fatal(err)
			}
			for _, violation := range found {
				t.Errorf("%s: %.300s", view, violation)
			}
		})
	}
}
