package desk_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"banns/feed/web/browse"
)

// comes waits until a script in the page says so.
func comes(t *testing.T, ctx context.Context, script string) {
	t.Helper()
	for range 300 {
		if browse.Tell[bool](t, ctx, script) {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("it never comes to %s", script)
}

// write types into a field of the page.
func write(t *testing.T, ctx context.Context, id, text string) {
	t.Helper()
	browse.Type(t, ctx, "#"+id, text)
}

// beside is a script that tells whether what stands beside a line has a text.
func beside(id, text string) string {
	return fmt.Sprintf(`document.getElementById(%q).textContent.replace(/\s+/g, " ").includes(%q)`, id, text)
}

// What a line gives stands beside it while it is typed, and nothing is kept
// until somebody says so.
func TestReadingWhileTyping(t *testing.T) {
	s := demoSite(t)
	ctx := browse.Start(t)
	browse.Do(t, ctx, chromedp.Navigate(s.URL+"/desk/door/open-sesame"), chromedp.Navigate(s.URL+addAgreement))
	const form = "agreements-new--"
	write(t, ctx, form+"with", "Plum and Rye")
	write(t, ctx, form+"service", "catering")
	comes(t, ctx, beside("gives-"+form+"pay-new-1", "Such as: 25% on signing")) // what is usual follows the service
	write(t, ctx, form+"price", "12950")
	comes(t, ctx, beside("gives-"+form+"price", "The price comes to $12,950.00."))
	write(t, ctx, form+"pay-new-1-says", "balance 14 dys before the wedding")
	comes(t, ctx, beside("gives-"+form+"pay-new-1", `"dys" is not understood here; did you mean "days"?`))
	if invalid := browse.Tell[string](t, ctx, `document.getElementById("`+form+`pay-new-1-says").getAttribute("aria-invalid")`); invalid != "true" {
		t.Errorf("the field is not marked as wrong: %q", invalid)
	}
	browse.Tell[any](t, ctx, `document.getElementById("`+form+`pay-new-1-says").value = ""; null`)
	write(t, ctx, form+"pay-new-1-says", "balance 14 days before the wedding")
	comes(t, ctx, beside("gives-"+form+"pay-new-1", "$12,950.00 Due by Fri 3 Sep 2027. The contract says Sat 4 Sep 2027; banks are closed that day."))

	// Enter goes on to the next line, and what was typed stays.
	browse.Do(t, ctx, chromedp.KeyEvent(kb.Enter))
	if at := browse.Tell[string](t, ctx, `document.activeElement.id`); at != form+"pay-new-2-says" {
		t.Errorf("Enter leads to %q", at)
	}
	if s.agreed(t, "catering-2") != nil {
		t.Error("it was kept without being asked to")
	}
	// Without the server, the page says that it does not know.
	browse.Tell[any](t, ctx, `document.querySelector("form[data-read]").dataset.read = "/desk/nothing"; null`)
	write(t, ctx, form+"pay-new-2-says", "5")
	comes(t, ctx, `document.querySelector(".stale").textContent !== ""`)
}

// keys presses keys, one at a time, and counts them.
type keys struct {
	t     *testing.T
	ctx   context.Context
	count int
}

func (k *keys) press(all ...string) {
	k.t.Helper()
	for _, text := range all {
		for _, one := range text {
			browse.Do(k.t, k.ctx, chromedp.KeyEvent(string(one)))
			k.count++
		}
	}
}

// A caterer with three instalments and three steps of leaving is written down
// by keyboard alone, in as few keys as anybody types in two minutes: at 25
// words a minute, of 5 keys each, those are 250.
func TestWriteDownAnAgreementByKeyboard(t *testing.T) {
	s := demoSite(t)
	ctx := browse.Start(t)
	browse.Do(t, ctx, chromedp.Navigate(s.URL+"/desk/door/open-sesame"), chromedp.Navigate(s.URL+addAgreement),
		chromedp.Focus(chromedp.CSS("#agreements-new--with")))
	k := &keys{t: t, ctx: ctx}
	line := func(list string, n int) string { return caterer.Get(fmt.Sprintf("agreements/+/%s/+%d/says", list, n)) }
	k.press("Plum and Rye", kb.Tab, "catering", kb.Tab, "11252026", kb.Tab, kb.Tab, "12950", kb.Tab, "Ada", kb.Tab, kb.Tab, kb.Tab)
	k.press(line("pay", 1), kb.Enter, line("pay", 2), kb.Enter, line("pay", 3), kb.Enter, kb.Enter)
	k.press(line("cancel", 1), kb.Enter, line("cancel", 2), kb.Enter, line("cancel", 3))
	comes(t, ctx, beside("gives-agreements-new--pay-new-3", "$8,212.50 Due by Fri 3 Sep 2027."))
	for n := 0; browse.Tell[string](t, ctx, `document.activeElement.value ?? ""`) != "save"; n++ { // past what was left to its defaults
		if n == 100 {
			t.Fatal("Tab never comes to what saves")
		}
		browse.Do(t, ctx, chromedp.KeyEvent(kb.Tab))
		k.count++
	}
	if _, err := chromedp.RunResponse(ctx, chromedp.KeyEvent(kb.Enter)); err != nil {
		t.Fatal(err)
	}
	k.count++
	a := s.agreed(t, "catering-2")
	if a == nil || a.Payer != "ada" || a.Signed.String() != "2026-11-25" || len(a.Pay) != 3 || len(a.Cancel) != 3 || a.Cancel[2].Says != "100% after that" {
		t.Errorf("it is kept as %+v", a)
	}
	t.Logf("%d keys", k.count)
	if k.count > 250 {
		t.Errorf("it took %d keys", k.count)
	}
}

// The back button brings back what was typed before a form was refused, and
// what was typed into the form that came then, in its new lines too.
func TestBackAfterARefusal(t *testing.T) {
	s := demoSite(t)
	ctx := browse.Start(t)
	browse.Do(t, ctx, chromedp.Navigate(s.URL+"/desk/door/open-sesame"))
	for _, row := range []struct{ path, form string }{
		{addAgreement, "agreements-new-"},
		{theAgreements + "/shuttle", "agreements-shuttle"},
	} {
		has := func(id, want string) {
			t.Helper()
			if got := browse.Tell[string](t, ctx, `document.getElementById("`+row.form+id+`")?.value ?? "no such field on: " + document.title`); got != want {
				t.Errorf("%s: after the back button %s is %q, not %q", row.path, id, got, want)
			}
		}
		browse.Do(t, ctx, chromedp.Navigate(s.URL+row.path))
		write(t, ctx, row.form+"-pay-new-1-says", "7 til the wedding")
		browse.Tell[any](t, ctx, browse.Unfold)
		write(t, ctx, row.form+"-note", "Ask about ice.")
		res, err := chromedp.RunResponse(ctx, chromedp.Click(chromedp.CSS("button[value=save]")))
		if err != nil || res.Status != 422 {
			t.Fatalf("it answers %v, %v", res, err)
		}
		write(t, ctx, row.form+"-cancel-new-1-says", "10% until 60 days before the wedding")
		write(t, ctx, row.form+"-pay-new-2-says", "8 7 days before the wedding")
		browse.Do(t, ctx, chromedp.Navigate(s.URL+atWedding+"people"), chromedp.NavigateBack())
		has("-pay-new-1-says", "7 til the wedding")
		has("-cancel-new-1-says", "10% until 60 days before the wedding")
		has("-pay-new-2-says", "8 7 days before the wedding")
		has("-note", "Ask about ice.")
		browse.Do(t, ctx, chromedp.NavigateBack())
		has("-pay-new-1-says", "7 til the wedding")
		has("-note", "Ask about ice.")
		browse.Do(t, ctx, chromedp.NavigateForward())
		has("-cancel-new-1-says", "10% until 60 days before the wedding")
		has("-pay-new-2-says", "8 7 days before the wedding")
	}
}
