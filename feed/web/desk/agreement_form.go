package desk

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"banns/milestones"
)

// agreementForm is a form of one agreement: its facts and its lines. The
// fields of one that is not in the plan yet stand under agreements/+ until it
// gets its key.
type agreementForm struct {
	form
	s     *sight
	base  string                // agreements/catering
	now   *milestones.Agreement // as the visitor sees it; empty for a new one
	own   string                // the key that a new one gets
	sent  url.Values            // nil where nothing was sent
	lines map[milestones.List][]string
	amiss map[stepField]string // what is wrong in the step that was pressed
}

// newAgreement is the base of an agreement that is not in the plan yet.
const newAgreement = "agreements/+"

// termLists are the lists of an agreement, in the order of the page.
var termLists = []milestones.List{milestones.PayList, milestones.CancelList, milestones.ChangeList, milestones.PapersList}

// offered are how many empty lines a new agreement is offered at least.
var offered = map[milestones.List]int{milestones.PayList: 4, milestones.CancelList: 3, milestones.ChangeList: 2, milestones.PapersList: 2}

// newAgreementForm is the form of an agreement, as it is in the plan, and
// where something was sent, as that has it.
func newAgreementForm(s *sight, now *milestones.Agreement, sent url.Values) *agreementForm {
	f := &agreementForm{s: s, base: newAgreement, now: now, sent: sent, lines: map[milestones.List][]string{}}
	if now.Key != "" {
		f.base = "agreements/" + now.Key
	}
	fields := f.facts()
	for _, list := range termLists {
		f.lines[list] = f.lineKeys(list)
		for n, key := range f.lines[list] {
			line := lineFields(f.base+"/"+string(list)+"/"+key, list, s.plan.Wedding.Currency)
			line[0].Label += fmt.Sprintf(" %d", n+1)
			fields = append(fields, line...)
		}
	}
	fields = append(fields, lineFields(f.base+"/postpone", milestones.PostponeList, s.plan.Wedding.Currency)...)
	f.form = newForm(s.doc, fields...)
	f.whoByName()
	f.Fields = append(f.Fields, f.dateFields()...)
	if sent != nil {
		f.fill()
	}
	return f
}

// whoByName has people stand by their names where they are listed.
func (f *agreementForm) whoByName() {
	for n := range f.Fields {
		one := &f.Fields[n]
		if one.Value == "" || !listsPeople(one.Path) {
			continue
		}
		words := strings.Split(one.Value, ", ")
		for k, key := range words {
			if who, ok := f.s.plan.Person(key); ok && !strings.Contains(who.Name, ",") && keyOfName(f.s.plan, who.Name) == key {
				words[k] = who.Name
			}
		}
		one.Value = strings.Join(words, ", ")
	}
}

// listsPeople reports whether a place of a plan lists people, by their keys.
func listsPeople(path string) bool {
	return strings.HasSuffix(path, "/for") || strings.HasSuffix(path, "/hide from")
}

// fill puts what was sent into the fields.
func (f *agreementForm) fill() {
	if seen, err := strconv.Atoi(f.sent.Get("seen")); err == nil {
		f.Seen = seen
	}
	for n := range f.Fields {
		if one := &f.Fields[n]; f.sent.Has(one.Path) {
			one.Value = strings.ReplaceAll(f.sent.Get(one.Path), "\r\n", "\n")
		}
	}
}

// field is the field of a place inside the agreement; one that nobody sees
// where there is none.
func (f *agreementForm) field(rel string) *field {
	for n := range f.Fields {
		if f.Fields[n].Path == f.base+"/"+rel {
			return &f.Fields[n]
		}
	}
	return &field{}
}

// facts are the fields of the agreement as a whole.
func (f *agreementForm) facts() []field {
	people := []option{{"", "The couple"}}
	vendors := []option{{"", "Nobody yet"}}
	for _, p := range f.s.plan.People {
		if p.Part == milestones.Vendor {
			vendors = append(vendors, option{p.Key, p.Name})
		} else {
			people = append(people, option{p.Key, p.Name})
		}
	}
	at := func(rel string) string { return f.base + "/" + rel }
	currency := string(f.s.plan.Wedding.Currency)
	// What a plan may leave out keeps the value that it was left out with.
	or := func(rel, value string) string {
		if len(f.s.doc.At(at(rel))) == 0 {
			return ""
		}
		return value
	}
	return []field{
		{Path: at("with"), Label: "With whom", Hint: "As the contract names them"},
		{Path: at("service"), Label: "For what", Hint: "Such as catering, venue or music", Picks: "services"},
		{Path: at("signed"), Label: "Signed on", Kind: dateKind, Hint: "Empty while it is only quoted"},
		{Path: at("price"), Label: "Price in one sum, in " + currency, Hint: "As 14800 or 14,800.00"},
		{Path: at("payer"), Label: "Who pays", Kind: choiceKind, Options: people},
		{Path: at("price/each"), Label: "Price for each guest, in " + currency, Hint: "Instead of one sum"},
		{Path: at("price/count"), Label: "Guests expected", Hint: "Leave it empty while nobody knows"},
		{Path: at("price/at least"), Label: "At least so many are charged"},
		{Path: at("price/at most"), Label: "At most so many may come"},
		{Path: at("price/service"), Label: "Service on top", Hint: "As 22%"},
		{Path: at("price/tax"), Label: "Tax on top", Hint: "As 6%"},
		{Path: at("price/tax on"), Label: "The tax is on", Kind: choiceKind, Options: []option{{or("price/tax on", "all"), "Food and service"}, {"food", "Food alone"}}},
		{Path: at("contact"), Label: "Their person", Kind: choiceKind, Options: vendors, Hint: "Gets the vendor’s own calendar. Add them under the people of the wedding first"},
		{Path: at("business days"), Label: "Days that count as business days", Kind: choiceKind, Options: []option{{or("business days", "banks"), "Those of banks"}, {"federal", "Those of government offices"}, {"mon-fri", "Monday to Friday, holidays too"}, {"mon-sat", "Monday to Saturday, without holidays"}}},
		{Path: at("closed"), Label: "Days on which they are closed", Kind: listKind, Dated: true, Hint: "As 2027-07-02, 2027-07-03"},
		{Path: at("hide from"), Label: "Hide all of it from", Kind: listKind, Hint: "Names, with commas between them. They see no line of it anywhere"},
		{Path: at("note"), Label: "Note", Kind: areaKind},
	}
}

// lineKeys are the keys of the lines of a list: those of the plan that the
// visitor sees, new ones that were sent, and empty ones to write in. One that
// somebody took away meanwhile comes back as a new one where it was sent
// again.
func (f *agreementForm) lineKeys(list milestones.List) []string {
	var keys []string
	hidden := map[string]bool{}
	for _, l := range f.whole(list) {
		hidden[l.Key] = true
	}
	for _, l := range linesOf(f.now, list) {
		keys = append(keys, l.Key)
		hidden[l.Key] = false
	}
	var fresh []int
	var gone []string
	for name := range f.sent {
		rel, ok := strings.CutPrefix(name, f.base+"/"+string(list)+"/")
		key, _, line := strings.Cut(rel, "/")
		if !ok || !line || hidden[key] || slices.Contains(keys, key) || slices.Contains(gone, key) {
			continue
		}
		if n, err := strconv.Atoi(strings.TrimPrefix(key, "+")); err == nil && strings.HasPrefix(key, "+") {
			if !slices.Contains(fresh, n) && n > 0 && n <= linesMost && !f.blank(list, key) {
				fresh = append(fresh, n)
			}
		} else if keyForm.MatchString(key) {
			gone = append(gone, key)
		}
	}
	slices.Sort(gone)
	keys = append(keys, gone...)
	slices.Sort(fresh)
	written := f.written(list, fresh)
	empty := max(1, len(usualOf(f.service()).lacking(list, written)))
	if f.now.Key == "" {
		empty = max(1, offered[list]-len(fresh))
	}
	for n := 1; empty > 0; n++ {
		if !slices.Contains(fresh, n) {
			fresh, empty = append(fresh, n), empty-1
		}
	}
	slices.Sort(fresh)
	for _, n := range fresh {
		keys = append(keys, fmt.Sprintf("+%d", n))
	}
	return keys
}

// linesMost is how many new lines of one list can be sent at once.
const linesMost = 60

// service is what the agreement is for, as it was sent or else stands.
func (f *agreementForm) service() string {
	if f.sent.Has(f.base + "/service") {
		return f.sent.Get(f.base + "/service")
	}
	return f.now.Service
}

// written are the phrases of a list, as they were sent or else stand.
func (f *agreementForm) written(list milestones.List, fresh []int) []string {
	var all []string
	for _, l := range linesOf(f.now, list) {
		all = append(all, l.Says)
	}
	for _, n := range fresh {
		all = append(all, f.sent.Get(fmt.Sprintf("%s/%s/+%d/says", f.base, list, n)))
	}
	return all
}

// blank reports whether nothing was written in a new line.
func (f *agreementForm) blank(list milestones.List, key string) bool {
	under := f.base + "/" + string(list) + "/" + key + "/"
	for name, values := range f.sent {
		if strings.HasPrefix(name, under) && strings.TrimSpace(strings.Join(values, "")) != "" {
			return false
		}
	}
	return true
}

// whole are the lines of a list with those that are hidden from the visitor.
func (f *agreementForm) whole(list milestones.List) []*milestones.Line {
	if a, ok := f.s.doc.Plan.Agreement(f.now.Key); ok {
		return linesOf(a, list)
	}
	return nil
}

// linesOf are the lines of one list of an agreement.
func linesOf(a *milestones.Agreement, list milestones.List) []*milestones.Line {
	var all []*milestones.Line
	paths := a.Paths()
	for n, l := range a.Lines() {
		if strings.HasPrefix(paths[n], "agreements/"+a.Key+"/"+string(list)+"[") {
			all = append(all, l)
		}
	}
	return all
}

// lineFields are the fields of one line, its sums in a currency.
func lineFields(base string, list milestones.List, c milestones.Currency) []field {
	all := []field{
		{Path: base + "/says", Label: lineLabels[list], Picks: "usual-" + string(list)},
		{Path: base + "/wording", Label: "The contract’s own sentence", Kind: areaKind},
		{Path: base + "/what", Label: "What it is called", Hint: "Instead of the words above; whoever sees the line sees it"},
		{Path: base + "/for", Label: "Who sees it besides", Kind: listKind, Hint: "Names, groups or parts, with commas between them"},
		{Path: base + "/hide from", Label: "Hide it from", Kind: listKind, Hint: "They do not see this line anywhere"},
		{Path: base + "/owed", Label: "When another took over, or you left", Kind: choiceKind,
			Options: []option{{"", "This falls away with the rest"}, {"yes", "This is still owed"}}},
		{Path: base + "/note", Label: "Note", Kind: areaKind},
	}
	if list == milestones.PayList {
		all = append(all, field{Path: base + "/amount", Label: "The sum on the invoice, in " + string(c), Hint: "Where it is another than the line gives"})
	}
	return all
}

var lineLabels = map[milestones.List]string{
	milestones.PayList: "Payment", milestones.CancelList: "Step", milestones.ChangeList: "Change",
	milestones.PapersList: "Paper", milestones.PostponeList: "Moving to another date",
}

// dateFields are the named dates that lines count from, and one row more.
func (f *agreementForm) dateFields() []field {
	var all []field
	names := append(slices.Clone(f.now.Dates), milestones.NamedDate{})
	for n, d := range names {
		row := fmt.Sprintf("%s/named/%d/", f.base, n+1)
		all = append(all,
			field{Path: row + "was", Kind: hiddenKind, Value: d.Name},
			field{Path: row + "name", Label: "A day that lines count from", Hint: "Such as invoice or arrival", Value: d.Name},
			field{Path: row + "date", Label: "When it is", Kind: dateKind, Hint: "Leave it empty until it is known", Value: d.Date.String()})
	}
	return all
}
