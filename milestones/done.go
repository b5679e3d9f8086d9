package milestones

// doneOn is the day on which the nth of p's equal parts was done, or p itself.
func (p *Payment) doneOn(n int) Date {
	switch {
	case len(p.DoneParts) == 0:
		return p.Done
	case n > len(p.DoneParts):
		return Date{}
	}
	return p.DoneParts[n-1]
}

// settled checks what the lines of a say of being done: each mark stands
// where it has a meaning.
func (rd *planReader) settled(a *Agreement) {
	check := func(l *Line, list, path string) {
		if l.Given > 0 && list != "change" {
			rd.fault(path, "write it on the change line that asks for the count", "only a change has a count that is given")
		}
		if list == "pay" {
			return
		}
		if len(l.DoneParts) > 0 {
			rd.fault(path, "write one day", "only equal payments are done in parts")
		}
		if !l.CameBack.IsZero() {
			rd.fault(path, "write it on the security deposit", "only a security deposit comes back")
		}
	}
	a.lines(func(l *Line, list string, i int) { check(l, list, linePath(a, list, i)) })
	if a.Postpone != nil {
		check(&a.Postpone.Line, "postpone", "agreements/"+a.Key+"/postpone")
	}
	for i := range a.Pay {
		rd.paid(&a.Pay[i], linePath(a, "pay", i))
	}
}

func (rd *planReader) paid(p *Payment, path string) {
	if p.When.Says == "" {
		return // the phrase was not understood, so nobody knows what it is
	}
	done := !p.Done.IsZero() || len(p.DoneParts) > 0
	if done && p.Amount == nil && p.Form != FixedSum && p.Form != Security {
		rd.notes = append(rd.notes, Note{path, "this was done, and no amount says how much was paid: " +
			"it is taken from the price, and would change with it; write the sum that was paid"})
	}
	switch n := len(p.DoneParts); {
	case n > 0 && p.Form != Equal:
		rd.fault(path, "write one day", "only equal payments are done in parts")
	case n > p.Times:
		rd.fault(path, "write a day for each that was made", "%d payments were made of %d", n, p.Times)
	}
	if !p.CameBack.IsZero() && p.Back == nil {
		rd.fault(path, `write when it comes back, as "security 500 on signing, back within 14 days after the wedding"`,
			"it came back on %s, and %q says nothing of coming back", p.CameBack.Words(), p.Says)
	}
}
