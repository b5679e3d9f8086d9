// Package browse opens pages in a real browser. It is for tests, and knows
// nothing of the program.
package browse

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"banns/feed/check"
)

// Elsewhere is a name for this machine that browsers do not trust: over plain
// http it is to them what a home's own network is.
const Elsewhere = "phone.example"

// patience ends a browser that hangs. No test waits for it.
const patience = 20 * time.Minute

// Start starts Debian's chromium on a profile of its own. Under -short there
// are no browsers.
func Start(t *testing.T) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("-short leaves out what only a browser tells")
	}
	path, err := exec.LookPath("chromium")
	if errors.Is(err, exec.ErrNotFound) {
		err = fmt.Errorf("chromium %w: apt-get install chromium", check.ErrMissing)
	}
	check.Need(t, err)
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewExecAllocator(ctx, chromedp.ExecPath(path), chromedp.UserDataDir(t.TempDir()),
		chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-features", "BackForwardCache"), // what was typed has to outlive a page that is not kept whole
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true), chromedp.Flag("lang", "en-US"), chromedp.Flag("host-resolver-rules", "MAP "+Elsewhere+" 127.0.0.1"))
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	return ctx
}

// Do runs steps in the browser.
func Do(t *testing.T, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

// Tell is what a script in the page comes to.
func Tell[T any](t *testing.T, ctx context.Context, script string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Type types into a field that a selector finds, key by key. chromedp.SendKeys
// does so too, but reads what the page's scripts may be changing.
func Type(t *testing.T, ctx context.Context, field, text string) {
	t.Helper()
	Do(t, ctx, chromedp.Focus(chromedp.CSS(field), chromedp.NodeVisible), chromedp.KeyEvent(text))
}

// Lend lets the browser in where somebody's jar has cookies of site.
func Lend(t *testing.T, ctx context.Context, jar http.CookieJar, site string) {
	t.Helper()
	at, err := url.Parse(site)
	if err != nil {
		t.Fatal(err)
	}
	for _, cookie := range jar.Cookies(at) {
		if _, err := chromedp.Call(ctx, network.SetCookie, network.SetCookieParams{Name: cookie.Name, Value: cookie.Value, URL: site, Path: "/"}); err != nil {
			t.Fatal(err)
		}
	}
}

// Prefer sets what somebody prefers: light or dark.
func Prefer(t *testing.T, ctx context.Context, scheme string) {
	t.Helper()
	media(t, ctx, "", scheme)
}

// media is what a page is shown on, which is a screen where it is empty.
func media(t *testing.T, ctx context.Context, on, scheme string) {
	t.Helper()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: on,
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	if err != nil {
		t.Fatal(err)
	}
}

// Unfold is a script that opens every folded part of a page.
const Unfold = `document.querySelectorAll("details").forEach(d => d.open = true)`

// Fits fails where the page scrolls sideways.
func Fits(t *testing.T, ctx context.Context, view string) {
	t.Helper()
	if wide := Tell[[2]int](t, ctx, `[document.documentElement.scrollWidth, innerWidth]`); wide[0] > wide[1] {
		t.Errorf("%s scrolls sideways: %d of %d px", view, wide[0], wide[1])
	}
}
