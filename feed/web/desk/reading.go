package desk

import (
	"slices"
	"strconv"
	"strings"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

// reading is what stands beside a line that is being written: what it comes
// to, what it leaves open, or why it is not understood.
type reading struct {
	ID      string // of the element that it stands in
	Results []result
	Asks    []ask
	Fault   string
	Mend    string
	Usual   string // of an empty line: how one is mostly written
}

// result is one thing that a line comes to.
type result struct {
	Mark, Word string // of its state
	Sum        string
	Gives      []string // sentences: when, why that day, what leaving costs
}

// ask is a question with what its words may mean.
type ask struct {
	Says     string
	Readings []meaning
	Stored   bool // it can be answered on the page of the questions
}

// meaning is one reading of a question: what it says, and the day and the sum
// that follow.
type meaning struct {
	Says, Gives string
	Taken       bool
}

// readings are those of all lines of the form, and of what is asked of the
// agreement as a whole.
func (f *agreementForm) readings(t trial) map[string]reading {
	all := map[string]reading{}
	for _, list := range termLists {
		lacking := usualOf(f.service()).lacking(list, f.typed(list))
		for _, key := range f.lines[list] {
			path := f.base + "/" + string(list) + "/" + key
			says := strings.TrimSpace(f.field(string(list) + "/" + key + "/says").Value)
			r := f.reading(t, list, path, says)
			if says == "" && strings.HasPrefix(key, "+") && len(lacking) > 0 {
				r.Usual, lacking = lacking[0], lacking[1:]
			}
			all[path] = r
		}
	}
	path := f.base + "/postpone"
	all[path] = f.reading(t, milestones.PostponeList, path, strings.TrimSpace(f.field("postpone/says").Value))
	if f.field("postpone/says").Value == "" {
		one := all[path]
		one.Usual = "once, with 60 days' notice, to a date within 12 months"
		all[path] = one
	}
	sums := t.faults[f.planPath(f.base)+"/pay"]
	all[f.base+"/pay"] = reading{ID: readingID(f.base + "/pay"), Fault: sums.Says, Mend: sums.Mend}
	all[f.base] = reading{ID: readingID(f.base), Asks: f.asks(t, "")}
	if len(t.others) > 0 {
		one := all[f.base]
		one.Fault, one.Mend = t.others[0].Says, t.others[0].Mend
		all[f.base] = one
	}
	all[f.base+"/price"] = f.priceReading(t)
	return all
}

// typed are the phrases of a list as they stand in the form.
func (f *agreementForm) typed(list milestones.List) []string {
	var all []string
	for _, key := range f.lines[list] {
		if says := strings.TrimSpace(f.field(string(list) + "/" + key + "/says").Value); says != "" {
			all = append(all, says)
		}
	}
	return all
}

// readingID is the id of the element that holds the reading of a place.
func readingID(path string) string { return "gives-" + field{Path: path}.ID() }

// reading is that of the line at a path of the form.
func (f *agreementForm) reading(t trial, list milestones.List, path, says string) reading {
	r := reading{ID: readingID(path)}
	in := f.planPath(path)
	for _, at := range []string{in, in + "/says"} {
		if one, wrong := t.faults[at]; wrong {
			one = plainly(one, says)
			r.Fault, r.Mend = one.Says, one.Mend
			return r
		}
	}
	if says == "" || t.plan == nil {
		return r
	}
	term := t.term(in)
	for n := range t.entries {
		if e := &t.entries[n]; e.Term == term {
			r.Results = append(r.Results, f.result(t, e))
		}
	}
	if len(r.Results) == 0 && list == milestones.CancelList {
		r.Results = f.stepResult(t, term)
	}
	r.Asks = f.asks(t, term)
	return r
}

// planPath is a path of the form as the plan has it.
func (f *agreementForm) planPath(path string) string {
	return "agreements/" + f.key() + strings.TrimPrefix(path, f.base)
}

// result is what one entry of a line says.
func (f *agreementForm) result(t trial, e *feed.Entry) result {
	r := result{Gives: e.Gives(feed.Closed(t.plan, e))}
	if e.Kind == milestones.KindPayment || e.Kind == milestones.KindRefund {
		r.Sum = e.Currency.Range(e.Amount)
	}
	switch {
	case !counts(e):
		r.Mark, r.Word = "withdrawn", "withdrawn"
	case e.Date.IsZero() && e.Done.IsZero():
		r.Word = "no day yet"
	default:
		r.Mark, r.Word = web.StateOf(e, f.s.today)
	}
	return r
}

// stepResult is what a step of leaving says that has no last day, and so no
// entry: from when it holds, and what it costs then.
func (f *agreementForm) stepResult(t trial, term string) []result {
	a, _ := t.plan.Agreement(f.key())
	n := slices.IndexFunc(a.Cancel, func(step milestones.CancelStep) bool { return step.Key == term })
	if n < 0 {
		return nil
	}
	first, cost := milestones.StepFrom(t.plan, t.closures, a, &a.Cancel[n])
	from := "After the last day above"
	switch {
	case first == nil:
	case first.WaitsFor != "":
		return []result{{Word: "no day yet", Gives: []string{"No day yet: it waits for " + first.WaitsFor + "."}}}
	default:
		from = "From " + first.Words()
	}
	return []result{{Gives: []string{from + ", leaving costs " + t.plan.Wedding.Currency.Range(cost) + " in all."}}}
}

// asks are what a line leaves open, or without one, the agreement as a whole.
func (f *agreementForm) asks(t trial, term string) []ask {
	var all []ask
	for _, q := range t.asked {
		line := ""
		if rest, ok := strings.CutPrefix(q.Path, q.Agreement+"/"); ok {
			line, _, _ = strings.Cut(rest, "/")
		}
		if line != term {
			continue
		}
		one := ask{Says: q.Says, Stored: f.now.Key != "" && f.sent == nil && q.Settles()}
		for _, r := range q.Readings {
			m := meaning{Says: r.Says, Gives: r.Words(), Taken: r.Taken}
			if r.Clock != nil {
				m.Gives += ", " + r.Clock.String()
			}
			if r.Amount.Known {
				m.Gives = strings.TrimPrefix(m.Gives+", "+t.plan.Wedding.Currency.Range(r.Amount), ", ")
			}
			one.Readings = append(one.Readings, m)
		}
		all = append(all, one)
	}
	return all
}

// priceReading is what the price comes to.
func (f *agreementForm) priceReading(t trial) reading {
	r := reading{ID: readingID(f.base + "/price")}
	for _, h := range append([]string{""}, heads...) {
		one, wrong := t.faults[strings.TrimSuffix(f.planPath(f.base)+"/price/"+h, "/")]
		if wrong {
			r.Fault, r.Mend = one.Says, one.Mend
			return r
		}
	}
	if t.plan == nil {
		return r
	}
	a, ok := t.plan.Agreement(f.key())
	if !ok || a.Price == (milestones.Price{}) {
		return r
	}
	says := "The price comes to " + t.plan.Wedding.Currency.Range(milestones.Prices(t.plan, t.closures)[a.Key]) + "."
	r.Results = []result{{Gives: []string{says}}}
	return r
}

// plainly is a fault of a phrase, beside the phrase: it need not say it again.
func plainly(f store.Fault, says string) store.Fault {
	if says == "" {
		f.Says, f.Mend = "there is nothing here", "write it again, or take the line away below"
		return f
	}
	f.Says = strings.TrimPrefix(f.Says, strconv.Quote(says)+": ")
	return f
}
