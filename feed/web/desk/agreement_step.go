package desk

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"banns/milestones"
	"banns/store"
)

// step is something that happens to an agreement or a line on a day.
type step struct {
	Do      string // its name among the buttons: paid pay/pay-1
	Asks    string // what may have happened: It was paid
	Label   string // of the day
	Press   string // of the button
	On      string // ISO day, to begin with
	OnAt    stepField
	Sum     string
	In      milestones.Currency // of the sum
	SumAt   stepField           // empty where there is no sum to it
	Count   string
	CountAt stepField // empty where no count is given with it
	Fault   string
	Was     string // what was done, in words, where it is done already
	Undo    string // the name of the button that takes it back
	More    bool   // some of it is done, and there is more to do
	Back    *step  // of a security deposit: that it came back
}

// Open reports whether there is something to be done.
func (st step) Open() bool { return st.Was == "" || st.More }

// stepField is the name of a field of a step. It is none of the plan's: a step
// is taken by its button alone.
type stepField string

func stepAt(at, part string) stepField { return stepField("step/" + at + "/" + part) }

// ID is the field's name on the page.
func (name stepField) ID() string { return field{Path: string(name)}.ID() }

// sentTo is what was sent for a field of a step, or what it begins with.
func (f *agreementForm) sentTo(name stepField, begins string) string {
	if f.sent.Has(string(name)) {
		return strings.TrimSpace(f.sent.Get(string(name)))
	}
	return begins
}

// lineStep is what can be done about a line of an agreement that is in the
// plan; nil where there is nothing.
func (f *agreementForm) lineStep(list milestones.List, key string) *step {
	line, ok := f.lineOf(list, key)
	if !ok || f.now.Standing == milestones.Quoted || list == milestones.CancelList {
		return nil
	}
	at := string(list) + "/" + key
	if list == milestones.PayList {
		return f.payStep(key)
	}
	st := f.step("done "+at, at, "It was settled", "Settled on", "Settled")
	st.Undo = "undo " + at
	if !line.Done.IsZero() {
		st.Was = "settled on " + line.Done.Words()
		if line.Given > 0 {
			st.Was = "given on " + line.Done.Words() + ": " + strconv.Itoa(line.Given)
		}
	}
	if list == milestones.ChangeList && f.now.Price.Each != nil {
		st.CountAt = stepAt(at, "given")
		st.Count = f.sentTo(st.CountAt, "")
	}
	return st
}

// step is one that begins with today, or with what was sent.
func (f *agreementForm) step(do, at, asks, label, press string) *step {
	st := &step{Do: do, Asks: asks, Label: label, Press: press, OnAt: stepAt(at, "on")}
	st.On = f.sentTo(st.OnAt, f.s.today.String())
	if do != "" && f.sent.Get("do") == do && st.On == "" {
		st.Fault = "Write the day on which it was."
	}
	for _, part := range []string{"on", "sum", "given"} {
		if says := f.amiss[stepAt(at, part)]; says != "" {
			st.Fault = says
		}
	}
	return st
}

// payStep is a payment, or the next of several equal ones, and for a deposit
// against damage that it came back.
func (f *agreementForm) payStep(key string) *step {
	p, _ := f.payment(key)
	at := "pay/" + key
	st := f.step("paid "+at, at, "It was paid", "Paid on", "Paid")
	st.Undo = "undo " + at
	st.SumAt = stepAt(at, "sum")
	st.Sum = f.sentTo(st.SumAt, f.expected(key, len(p.DoneParts)+1))
	st.In = f.s.plan.Wedding.Currency
	sum := ""
	if p.Amount != nil {
		sum = ": " + st.In.Words(*p.Amount)
	}
	n := len(p.DoneParts)
	st.More = n > 0 && n < p.Times
	switch {
	case st.More:
		st.Asks, st.Label = "The next was paid", ordinal(n+1)+" of "+strconv.Itoa(p.Times)+" paid on"
		st.Was = strings.ToLower(ordinal(n)) + " of " + strconv.Itoa(p.Times) + " paid on " + p.DoneParts[n-1].Words() + sum
	case n > 0:
		st.Was = "all paid, the last on " + p.DoneParts[n-1].Words()
	case p.Form == milestones.Equal && p.Done.IsZero():
		st.Asks, st.Label = "The first was paid", "First of "+strconv.Itoa(p.Times)+" paid on"
	case !p.Done.IsZero():
		st.Was = "paid on " + p.Done.Words() + sum
	}
	if p.Back == nil {
		return st
	}
	back := f.step("came "+at, at+"/back", "It came back", "Came back on", "Came back")
	back.Undo = "stayed " + at
	if !p.CameBack.IsZero() {
		back.Was = "came back on " + p.CameBack.Words()
	}
	st.Back = back
	return st
}

func ordinal(n int) string {
	words := []string{"First", "Second", "Third", "Fourth", "Fifth", "Sixth"}
	if n <= len(words) {
		return words[n-1]
	}
	return "Number " + strconv.Itoa(n)
}

// expected is the sum that the nth part of a payment comes to, where it is
// one sum.
func (f *agreementForm) expected(key string, n int) string {
	for i := range f.s.entries {
		e := &f.s.entries[i]
		if e.Kind != milestones.KindPayment || e.Agreement != f.now.Key || e.Term != key {
			continue
		}
		if n--; n > 0 && e.ID != f.now.Key+"/"+key {
			continue
		}
		if sum, exact := e.Amount.Exact(); exact {
			return e.Currency.Plain(sum)
		}
	}
	return ""
}

func (f *agreementForm) payment(key string) (milestones.Payment, bool) {
	n := slices.IndexFunc(f.now.Pay, func(p milestones.Payment) bool { return p.Key == key })
	if n < 0 {
		return milestones.Payment{}, false
	}
	return f.now.Pay[n], true
}

// lineOf is a line of the agreement that the visitor sees.
func (f *agreementForm) lineOf(list milestones.List, key string) (*milestones.Line, bool) {
	for _, l := range linesOf(f.now, list) {
		if l.Key == key {
			return l, true
		}
	}
	return nil, false
}

// stepSets are what the step of a button sets. No more is asked of the plan
// where the button is none of a step; done reports whether it is one.
func (f *agreementForm) stepSets() (sets []store.Set, done bool) {
	verb, at, _ := strings.Cut(f.sent.Get("do"), " ")
	list, key, _ := strings.Cut(at, "/")
	when := at
	switch {
	case at == "":
		when = "standing"
	case verb == "came":
		when = at + "/back"
	}
	on := f.sentTo(stepAt(when, "on"), "")
	set := func(rel string, value ...string) {
		sets = append(sets, store.Set{Path: f.base + "/" + rel, Value: value})
	}
	if at != "" {
		if _, ok := f.lineOf(milestones.List(list), key); !ok {
			return nil, false
		}
	}
	needsDay := slices.Contains([]string{"signed", "replaced", "ended", "paid", "done", "came"}, verb)
	if needsDay && on == "" {
		return nil, true
	}
	switch verb {
	case "signed":
		set("standing", "signed")
		set("signed", on)
	case "quoted":
		set("standing", "quoted")
		set("signed")
	case "replaced", "ended":
		set("standing", verb)
		set("dates/"+verb, on)
	case "holds":
		f.holds(set)
	case "paid":
		sets = f.paid(key, on)
	case "done":
		set(at+"/done", on)
		if given := f.sentTo(stepAt(at, "given"), ""); given != "" {
			set(at+"/given", given)
		}
	case "undo":
		sets = f.undo(milestones.List(list), key)
	case "came":
		set(at+"/back", on)
	case "stayed":
		set(at + "/back")
	case "away":
		sets = append(sets, store.Set{Path: strings.TrimSuffix(f.base+"/"+at, "/")})
	default:
		return nil, false
	}
	return sets, true
}

// holds takes back that an agreement was replaced or has ended.
func (f *agreementForm) holds(set func(string, ...string)) {
	standing := milestones.Signed
	if f.now.Signed.IsZero() {
		standing = milestones.Quoted
	}
	set("standing", string(standing))
	set("dates/" + string(f.now.Standing))
}

// paid are the sets of a payment that was made. Equal ones keep a list of
// days: one alone would say that all were.
func (f *agreementForm) paid(key, on string) []store.Set {
	p, _ := f.payment(key)
	at := f.base + "/pay/" + key
	done := store.Set{Path: at + "/done", List: p.Form == milestones.Equal}
	for _, d := range p.DoneParts {
		done.Value = append(done.Value, d.String())
	}
	done.Value = append(done.Value, on)
	sets := []store.Set{done}
	if sum := f.sentTo(stepAt("pay/"+key, "sum"), ""); sum != "" {
		sets = append(sets, store.Set{Path: at + "/amount", Value: []string{sum}})
	}
	return sets
}

// undo are the sets that take back that a line was done; of equal payments,
// that the last of them was made.
func (f *agreementForm) undo(list milestones.List, key string) []store.Set {
	at := f.base + "/" + string(list) + "/" + key
	done := store.Set{Path: at + "/done", List: true}
	if p, ok := f.payment(key); ok && len(p.DoneParts) > 1 {
		for _, d := range p.DoneParts[:len(p.DoneParts)-1] {
			done.Value = append(done.Value, d.String())
		}
		return []store.Set{done}
	}
	switch list {
	case milestones.PayList:
		return []store.Set{done, {Path: at + "/amount"}}
	case milestones.ChangeList:
		return []store.Set{done, {Path: at + "/given"}}
	}
	return []store.Set{done}
}

// lookBack is how many versions are gone through for what a line said before
// it was done.
const lookBack = 50

// billed has a payment that is taken back keep the sum that it had before it
// was paid, such as an invoice's.
func (d *Desk) billed(r *http.Request, f *agreementForm, sets []store.Set) ([]store.Set, error) {
	verb, at, _ := strings.Cut(f.sent.Get("do"), " ")
	line := f.base + "/" + at
	n := slices.IndexFunc(sets, func(s store.Set) bool { return s.Path == line+"/amount" })
	if verb != "undo" || n < 0 {
		return sets, nil
	}
	newest := f.s.plan.Version
	versions, err := d.Store.LoadVersions(r.Context(), f.s.ID, max(1, newest-lookBack), newest)
	if err != nil {
		return nil, err
	}
	for v := newest; v >= max(1, newest-lookBack); v-- {
		if doc := versions[v]; doc != nil && len(doc.At(line+"/done")) == 0 {
			sets[n].Value = doc.At(line + "/amount")
			break
		}
	}
	return sets, nil
}
