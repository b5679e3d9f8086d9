package desk_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"banns/milestones"
)

// press sends a page's form by one of its buttons.
func (b *browser) press(p seenPage, button string, more url.Values) seenPage {
	b.t.Helper()
	form := p.filled(more)
	p.has(`value="` + button + `"`)
	form.Set("do", button)
	return b.post(p.URL.Path, http.StatusOK, form)
}

func TestStepsOfALine(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	p := b.get(theAgreements+"/catering", http.StatusOK)
	if sum := p.form().Get("step/pay/pay-2/sum"); sum != "6083.21" {
		t.Errorf("the sum to be paid is %q", sum)
	}
	// What was typed beside is kept with it.
	p = b.press(p, "paid pay/pay-2", url.Values{"step/pay/pay-2/on": {"2026-11-20"}, "agreements/catering/note": {"Ask about ice."}})
	if p.URL.Fragment != "" && p.URL.Fragment != "line-pay-pay-2" {
		t.Errorf("it leads to %s", p.URL)
	}
	p.has("Undo: paid on Fri 20 Nov 2026: $6,083.21")
	if a := s.agreed(t, "catering"); a.Pay[1].Done.String() != "2026-11-20" || *a.Pay[1].Amount != 608321 || a.Note != "Ask about ice." {
		t.Errorf("it is kept as %+v", a.Pay[1].Line)
	}
	p = b.press(p, "undo pay/pay-2", nil)
	if a := s.agreed(t, "catering"); !a.Pay[1].Done.IsZero() || a.Pay[1].Amount != nil {
		t.Errorf("taken back it is %+v", a.Pay[1].Line)
	}
	p = b.press(p, "done change/change-2", url.Values{"step/change/change-2/on": {"2026-11-20"}, "step/change/change-2/given": {"131"}})
	p.has("Undo: given on Fri 20 Nov 2026: 131", "The price comes to $16,602.10.")
	p = b.press(p, "came pay/pay-4", url.Values{"step/pay/pay-4/back/on": {"2026-11-23"}})
	if a := s.agreed(t, "catering"); a.Pay[3].CameBack.String() != "2026-11-23" || !a.Pay[3].Done.IsZero() || a.Change[1].Given != 131 {
		t.Errorf("it is kept as %+v and %+v", a.Pay[3].Line, a.Change[1].Line)
	}
	p = b.press(p, "stayed pay/pay-4", nil)
	p = b.press(p, "done papers/paper-1", url.Values{"step/papers/paper-1/on": {"2026-11-24"}})
	p = b.press(p, "away papers/paper-1", nil)
	if a := s.agreed(t, "catering"); !a.Pay[3].CameBack.IsZero() || len(a.Papers) != 0 {
		t.Errorf("it is kept as %+v", a)
	}
	// A step without its day is none, and says so.
	form := p.filled(url.Values{"step/pay/pay-2/on": {""}})
	form.Set("do", "paid pay/pay-2")
	b.post(theAgreements+"/catering", http.StatusUnprocessableEntity, form).has("the day is missing", "Write the day on which it was.")
	form.Set("do", "paid pay/pay-99")
	b.post(theAgreements+"/catering", http.StatusNotFound, form)
}

// Of equal payments each has its day.
func TestStepsOfEqualPayments(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	p := b.get(theAgreements+"/photography", http.StatusOK)
	for n, on := range []string{"2026-11-18", "2026-11-19"} {
		p = b.press(p, "paid pay/pay-2", url.Values{"step/pay/pay-2/on": {on}})
		if a := s.agreed(t, "photography"); len(a.Pay[1].DoneParts) != n+1 || !a.Pay[1].Done.IsZero() || a.Pay[1].DoneParts[n].String() != on {
			t.Fatalf("after %d it is %+v", n+1, a.Pay[1].Line)
		}
	}
	p.has("Third of 6 paid on", "Undo: second of 6 paid on Thu 19 Nov 2026: $553.33")
	p = b.press(p, "undo pay/pay-2", nil)
	b.press(p, "undo pay/pay-2", nil)
	if a := s.agreed(t, "photography"); len(a.Pay[1].DoneParts) != 0 || a.Pay[1].Amount != nil {
		t.Errorf("taken back it is %+v", a.Pay[1].Line)
	}
}

func TestStandings(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	on := func(day string) url.Values { return url.Values{"step/standing/on": {day}} }
	p := b.press(b.get(theAgreements+"/film", http.StatusOK), "signed", on("2026-11-24"))
	p.has("signed</strong> on Tue 24 Nov 2026", "Leaving today would cost $1,160.00 in all")
	const print = atWedding + "paper/month?m=2027-08"
	b.get(print, http.StatusOK).has("Pay Slow Kettle Films $1,740.00")
	p = b.press(p, "ended", on("2026-11-25"))
	p.has("ended</strong> on Wed 25 Nov 2026, signed on Tue 24 Nov 2026", "Nothing of it has still to be done", "#m-withdrawn")
	p.lacks(" to do<", " due soon<")
	b.get(print, http.StatusOK).lacks("Slow Kettle Films")
	if a := s.agreed(t, "film"); a.Standing != milestones.Ended || len(a.Dates) != 1 {
		t.Errorf("it is kept as %+v", a)
	}
	p = b.press(p, "holds", nil)
	if a := s.agreed(t, "film"); a.Standing != milestones.Signed || len(a.Dates) != 0 {
		t.Errorf("taken back it is %+v", a)
	}
	p = b.press(p, "replaced", on("2026-11-25"))
	p = b.press(b.press(p, "holds", nil), "quoted", nil)
	if a := s.agreed(t, "film"); a.Standing != milestones.Quoted || !a.Signed.IsZero() {
		t.Errorf("taken back it is %+v", a)
	}
	gone := b.press(p, "away", nil)
	if gone.URL.Path != theAgreements+"/" || s.agreed(t, "film") != nil {
		t.Errorf("taken away, it leads to %s", gone.URL)
	}
}

// A payment that was not made after all has the sum again that its invoice gave.
func TestUndoBringsTheInvoiceBack(t *testing.T) {
	s := newSite(t, `banns: 1
wedding: {title: Maren and Theo, date: 2027-09-18, zone: America/Detroit, currency: USD}
people: {maren: {name: Maren Okafor, part: couple}}
agreements:
  hall:
    with: The Hall
    service: venue
    standing: signed
    signed: 2026-10-01
    price: "900.00"
    pay: [{key: pay-1, says: 50% on 2026-12-01, amount: "455.00"}, balance 14 days before the wedding]
`)
	b := s.atDoor(t)
	const hall = theAgreements + "/hall"
	paid := b.press(b.get(hall, http.StatusOK), "paid pay/pay-1", url.Values{"step/pay/pay-1/on": {"2026-11-25"}, "step/pay/pay-1/sum": {"450"}})
	if p := s.agreed(t, "hall").Pay[0]; p.Amount == nil || *p.Amount != 45000 || p.Done.IsZero() {
		t.Fatalf("it is paid as %+v", p)
	}
	b.press(paid, "undo pay/pay-1", nil)
	if p := s.agreed(t, "hall").Pay[0]; p.Amount == nil || *p.Amount != 45500 || !p.Done.IsZero() {
		t.Errorf("taken back, it is %+v", p)
	}
}

// TestStepsThatCannotBe has each fault stand in the step that was pressed, and
// in the list above the page, and nothing kept.
func TestStepsThatCannotBe(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	for _, row := range []struct {
		do, field, value, says string
	}{
		{"paid pay/pay-2", "step/pay/pay-2/sum", "-5", "The sum: "},
		{"paid pay/pay-2", "step/pay/pay-2/sum", "much", "The sum: "},
		{"paid pay/pay-2", "step/pay/pay-2/on", "2027-05-20", "The day: Thu 20 May 2027 is still to come"},
		{"came pay/pay-4", "step/pay/pay-4/back/on", "2027-10-01", "The day: Fri 1 Oct 2027 is still to come"},
		{"done change/change-2", "step/change/change-2/given", "-3", "The number of guests: "},
	} {
		p := b.get(theAgreements+"/catering", http.StatusOK)
		form := p.filled(url.Values{row.field: {row.value}})
		form.Set("do", row.do)
		p = b.post(theAgreements+"/catering", http.StatusUnprocessableEntity, form)
		p.has(`href="#` + strings.ReplaceAll(row.field, "/", "-") + `"`)
		if at := strings.Index(p.Text, `<p class="fault">`+row.says); at < 0 || strings.LastIndex(p.Text[:at], `<details open>`) < 0 {
			t.Errorf("%s, %s: the step does not say %q", row.do, row.value, row.says)
		}
		if got := p.form().Get(row.field); got != row.value {
			t.Errorf("%s: %q became %q", row.do, row.value, got)
		}
	}
	if a := s.agreed(t, "catering"); !a.Pay[1].Done.IsZero() || a.Change[1].Given != 0 || !a.Pay[3].CameBack.IsZero() {
		t.Errorf("it is kept as %+v", a)
	}
}
