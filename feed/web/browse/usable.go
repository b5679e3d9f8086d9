package browse

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"banns/feed/check"
)

// Axe is the accessibility checker, as npm installs it in the module's
// .ci/tools, or in the folder that BANNS_NODE_MODULES names.
func Axe(t *testing.T, module string) string {
	t.Helper()
	dir := os.Getenv("BANNS_NODE_MODULES")
	if dir == "" {
		dir = filepath.Join(module, ".ci", "tools")
	}
	script, err := os.ReadFile(filepath.Join(dir, "node_modules", "axe-core", "axe.min.js"))
	if errors.Is(err, os.ErrNotExist) {
		err = fmt.Errorf("axe-core %w: run npm ci in .ci/tools", check.ErrMissing)
	}
	check.Need(t, err)
	return string(script)
}

// byColour are the rules of axe that a page can break in light and keep in
// dark.
var byColour = []string{"color-contrast", "link-in-text-block"}

// Accessible fails where axe, which Axe has read, finds something wrong with
// the page, or cannot tell whether it is. Without rules it goes by all of
// them, and by one that it leaves out unless told: that a finger meets what it
// aims at (WCAG 2.2, 2.5.8).
func Accessible(t *testing.T, ctx context.Context, axe, view string, rules ...string) {
	t.Helper()
	if !Tell[bool](t, ctx, `"axe" in window`) { // once a page
		Tell[any](t, ctx, axe+"; null")
	}
	options := map[string]any{"resultTypes": []string{"violations", "incomplete"}, "rules": map[string]any{"target-size": map[string]bool{"enabled": true}}}
	if rules != nil {
		options["runOnly"] = rules
		delete(options, "rules")
	}
	text, err := json.Marshal(options)
	if err != nil {
		t.Fatal(err)
	}
	found, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](
		`axe.run(`+string(text)+`).then(r => [...r.violations, ...r.incomplete].flatMap(v => v.nodes.map(n => v.id + ": " + n.html)))`,
		chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	for _, violation := range found {
		t.Errorf("%s: %.300s", view, violation)
	}
}

// Usable fails where not everybody can use the page that is open, with all its
// folds open: it does not fit a screen, axe finds something, or keys alone do
// not reach all of it. It is looked at on a phone in light and at a desk in
// dark.
func Usable(t *testing.T, ctx context.Context, axe, page string) {
	t.Helper()
	Tell[any](t, ctx, Unfold)
	Accessible(t, ctx, axe, seen(t, ctx, page, 390, "light"))
	Accessible(t, ctx, axe, seen(t, ctx, page, 1280, "dark"))
	ByKeyboard(t, ctx, page)
	Do(t, ctx, chromedp.EmulateViewport(320, 600))
	Fits(t, ctx, page+" on the smallest phone")
	if n := Tell[int](t, ctx, `document.querySelectorAll("h1").length`); n != 1 {
		t.Errorf("%s has %d headings of the first order", page, n)
	}
}

// Glance looks at another state of a page that Usable has looked at: on a phone
// in light, and at its colours at a desk in dark.
func Glance(t *testing.T, ctx context.Context, axe, page string) {
	t.Helper()
	Tell[any](t, ctx, Unfold)
	Accessible(t, ctx, axe, seen(t, ctx, page, 390, "light"))
	Accessible(t, ctx, axe, seen(t, ctx, page, 1280, "dark"), byColour...)
}

// Legible looks at what is left: on a phone in dark, and at a desk in light,
// nothing but colours can differ from what Usable has looked at.
func Legible(t *testing.T, ctx context.Context, axe, page string) {
	t.Helper()
	Accessible(t, ctx, axe, seen(t, ctx, page, 390, "dark"), byColour...)
	Accessible(t, ctx, axe, seen(t, ctx, page, 1280, "light"), byColour...)
}

// seen shows the page on a screen so wide, where it has to fit.
func seen(t *testing.T, ctx context.Context, page string, width int64, scheme string) (view string) {
	t.Helper()
	Prefer(t, ctx, scheme)
	Do(t, ctx, chromedp.EmulateViewport(width, 800))
	view = fmt.Sprintf("%s at %d px, %s", page, width, scheme)
	Fits(t, ctx, view)
	return view
}

// watchKeys is a script that keeps what keys come to, and what shows nothing
// of it. What somebody chooses one of is come to as a whole.
const watchKeys = `(() => {
	const all = [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex]")].filter(e =>
		e.tabIndex >= 0 && !e.disabled && e.type !== "hidden" && e.checkVisibility({visibilityProperty: true}));
	const one = e => e.type === "radio" ? document.querySelector('input[type=radio][name="' + CSS.escape(e.name) + '"]') : e;
	const keys = window.keys = {left: new Set(all.map(one)), bare: [], first: null, round: false};
	document.activeElement?.blur();
	document.addEventListener("focusin", ({target}) => {
		if (!document.hasFocus()) return; // between the last and the first, a window may have it
		keys.round ||= target === keys.first;
		keys.first ??= target;
		keys.left.delete(one(target));
		const {outlineStyle, outlineWidth, outlineColor} = getComputedStyle(target);
		if (outlineStyle === "none" || parseFloat(outlineWidth) < 2 || /, 0\)$/.test(outlineColor)) keys.bare.push(target.outerHTML);
	});
	return all.length;
})()`

// ByKeyboard fails where the key Tab does not lead to all of the page that can
// be used, or where nothing shows what it has come to.
func ByKeyboard(t *testing.T, ctx context.Context, page string) {
	t.Helper()
	const step = 20
	all := Tell[int](t, ctx, watchKeys)
	if all == 0 {
		return // it is there to be read
	}
	most := 5*all + step // a field of a day stops at each of its parts
	for pressed := 0; pressed < most && !Tell[bool](t, ctx, `keys.round`); pressed += step {
		Do(t, ctx, chromedp.KeyEvent(strings.Repeat(kb.Tab, step)))
	}
	for _, left := range Tell[[]string](t, ctx, `[...keys.left].map(e => e.outerHTML)`) {
		t.Errorf("%s: no key leads to %.300s", page, left)
	}
	for _, bare := range Tell[[]string](t, ctx, `keys.round ? [...new Set(keys.bare)] : ["nothing: Tab never comes round"]`) {
		t.Errorf("%s: nothing shows when the keyboard is at %.300s", page, bare)
	}
}
