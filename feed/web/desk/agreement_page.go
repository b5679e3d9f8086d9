package desk

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var agreementTemplate = page("agreement.html", "step.html", "reading.html", "copies_list.html")

// agreementPage is one agreement: what was agreed, what each of its lines
// gives, and what has been done about it.
type agreementPage struct {
	pageFrame
	Form     form
	New      bool
	Key      string
	Reads    string // where what is typed is read, below the wedding
	Standing standing
	Steps    step // how it stands changes on its day
	Leaving  string
	Hidden   string // from whom it is, or some of it
	Next     []nextRow
	Whole    reading // what is asked of the agreement as a whole
	Facts    []field
	Price    reading
	ByHead   fold
	More     fold
	Dates    [][]field
	Sections []section
	Postpone row
	Copies   *copiesPart // nil where they are not for the visitor
	Picks    []picks
}

// fold is fields that are out of sight until somebody wants them, or one of
// them is filled in or wrong.
type fold struct {
	Fields []field
	Open   bool
}

func newFold(fields []field, keep bool) fold {
	return fold{fields, slices.ContainsFunc(fields, func(f field) bool { return f.Fault != "" || f.Theirs != nil || keep && f.Value != "" })}
}

// section is the lines of one list.
type section struct {
	List  milestones.List
	Title string
	Says  string
	Rows  []row
	Sums  reading // what is wrong with all of them together
}

// row is one line.
type row struct {
	ID      string
	At      string // pay/pay-1
	Says    field
	Gives   reading
	Wording string
	More    fold
	Step    *step
	Fresh   bool // not in the plan yet
}

// picks are phrases that are often written in a field.
type picks struct {
	ID      string
	Phrases []string
}

// rowID is the id of the element of a line, by where it is in the agreement.
func rowID(at string) string { return "line-" + field{Path: at}.ID() }

// sectionWords are the title of each list, and what belongs there.
var sectionWords = map[milestones.List][2]string{
	milestones.PayList:    {"Payments", "Each sum with its day, as the contract has it: “25% on signing”, “1,500 60 days before the wedding”, “balance 14 days before the wedding”."},
	milestones.CancelList: {"What leaving costs", "Each step until its last day: “25% until 181 days before the wedding”, and at the end “100% after that”."},
	milestones.ChangeList: {"Changes and counts", "What you tell them, and by when: “final headcount 10 business days before the wedding by 17:00”."},
	milestones.PapersList: {"Papers", "What has to be handed in: “certificate of insurance 3 weeks before the wedding”."},
}

func (d *Desk) showAgreement(w http.ResponseWriter, r *http.Request, status int, f *agreementForm, t trial) error {
	title := f.now.With
	if title == "" {
		title = "A new agreement"
	}
	p := agreementPage{pageFrame: newPageFrame(r, title, "agreements"), Form: f.form, New: f.now.Key == "", Key: f.now.Key}
	p.Reads = "agreements/" + p.Key + "/read"
	if p.New {
		p.Reads = "add/agreement/read"
	}
	p.Scripts = []string{"reading.js"}
	f.fold(&p)
	f.part(t).into(&p, f)
	if !p.New {
		f.state(&p)
		var err error
		if p.Copies, err = d.copiesOf(r, f.now); err != nil {
			return err
		}
	}
	return web.Show(w, r, status, agreementTemplate, p)
}

// fold sorts the fields of the agreement as a whole.
func (f *agreementForm) fold(p *agreementPage) {
	all := func(rels ...string) (some []field) {
		for _, rel := range rels {
			some = append(some, *f.field(rel))
		}
		return some
	}
	if p.New {
		p.Facts = all("with", "service", "signed", "price", "payer")
	} else {
		p.Facts = all("with", "service", "price", "payer")
	}
	var byHead []field
	for _, h := range heads {
		byHead = append(byHead, *f.field("price/" + h))
	}
	p.ByHead = newFold(byHead, true)
	p.More = newFold(all("contact", "business days", "closed", "hide from", "note"), false)
	for n := 1; f.has(f.base + "/named/" + strconv.Itoa(n) + "/name"); n++ {
		at := "named/" + strconv.Itoa(n) + "/"
		dates := all(at+"was", at+"name", at+"date")
		p.More.Open = p.More.Open || dates[1].Fault != "" || dates[2].Fault != ""
		p.Dates = append(p.Dates, dates)
	}
}

// part is what changes on the page while somebody types.
type part struct {
	Readings []reading // in the order of the page
	Picks    []picks
	Closed   field // the days on which they are closed, as they read
	by       map[string]reading
}

func (f *agreementForm) part(t trial) part {
	p := part{by: f.readings(t), Closed: *f.field("closed")}
	for _, path := range f.places() {
		p.Readings = append(p.Readings, p.by[path])
	}
	u := usualOf(f.service())
	for _, list := range termLists {
		p.Picks = append(p.Picks, picks{"usual-" + string(list), u.of(list)})
	}
	return p
}

// places are where the readings of the form stand.
func (f *agreementForm) places() []string {
	all := []string{f.base, f.base + "/price", f.base + "/pay"}
	for _, list := range termLists {
		for _, key := range f.lines[list] {
			all = append(all, f.base+"/"+string(list)+"/"+key)
		}
	}
	return append(all, f.base+"/postpone")
}

// into puts the readings where they stand on the page.
func (parts part) into(p *agreementPage, f *agreementForm) {
	p.Picks = append(parts.Picks, picks{"services", nil})
	for _, u := range usuals {
		p.Picks[len(p.Picks)-1].Phrases = append(p.Picks[len(p.Picks)-1].Phrases, u.service)
	}
	p.Whole, p.Price = parts.by[f.base], parts.by[f.base+"/price"]
	for _, list := range termLists {
		s := section{List: list, Title: sectionWords[list][0], Says: sectionWords[list][1]}
		if list == milestones.PayList {
			s.Sums = parts.by[f.base+"/pay"]
		}
		for _, key := range f.lines[list] {
			at := string(list) + "/" + key
			one := f.row(at, parts.by[f.base+"/"+at])
			one.Fresh = strings.HasPrefix(key, "+")
			one.Step = f.lineStep(list, key)
			s.Rows = append(s.Rows, one)
		}
		p.Sections = append(p.Sections, s)
	}
	p.Postpone = f.row("postpone", parts.by[f.base+"/postpone"])
}

func (f *agreementForm) row(at string, gives reading) row {
	one := row{ID: rowID(at), At: at, Says: *f.field(at + "/says"), Gives: gives, Wording: f.field(at + "/wording").Value}
	if gives.Fault != "" {
		one.Says.Fault, one.Says.Mend = "", "" // it stands beside, in the same words
	}
	var more []field
	for n := range f.Fields {
		if rel, ok := strings.CutPrefix(f.Fields[n].Path, f.base+"/"+at+"/"); ok && rel != "says" {
			more = append(more, f.Fields[n])
		}
	}
	one.More = newFold(more, false)
	return one
}

// state is how an agreement that is in the plan stands, and what is next.
func (f *agreementForm) state(p *agreementPage) {
	p.Standing = standingOf(f.now)
	p.Steps = *f.step("", "standing", "", "On", "")
	if slices.Contains([]string{"signed", "replaced", "ended"}, f.sent.Get("do")) && p.Steps.On == "" {
		p.Steps.Fault = "Write the day on which it was."
	}
	p.Hidden = f.s.agreementHidden(f.now)
	p.Next = nextOf(f.s, f.now.Key, 3)
	if f.now.Standing != milestones.Signed {
		return
	}
	from, to := f.s.doc.Plan.Minutes(f.s.today, nil)
	for _, one := range milestones.Leaving(f.s.doc.Plan, f.s.closures, from, to) {
		if one.Agreement == f.now.Key {
			p.Leaving = f.s.plan.Wedding.Currency.Range(one.Cost)
		}
	}
}

// standing is how an agreement stands, in a word and a shape.
type standing struct {
	Is   milestones.Standing
	Mark string
	Word string
	Days string // since when, and when it was signed
}

func standingOf(a *milestones.Agreement) standing {
	s := standing{Is: a.Standing, Word: string(a.Standing)}
	s.Mark = map[milestones.Standing]string{milestones.Quoted: "todo", milestones.Signed: "settled",
		milestones.Replaced: "withdrawn", milestones.Ended: "withdrawn"}[a.Standing]
	if a.Standing == milestones.Quoted {
		s.Word = "only quoted"
	}
	for _, d := range a.Dates {
		if d.Name == s.Word && a.Over() && !d.Date.IsZero() {
			s.Days = "on " + d.Date.Words()
		}
	}
	switch {
	case a.Signed.IsZero():
	case a.Standing == milestones.Signed:
		s.Days = "on " + a.Signed.Words()
	default:
		s.Days += ", signed on " + a.Signed.Words()
	}
	return s
}

// copiesPart is the contracts that are kept beside an agreement.
type copiesPart struct {
	To   string // where they are kept
	Rows []copyRow
}

// copyRow is one of them.
type copyRow struct {
	store.Copy
	Is   string // a PDF of 340 KB
	When string
}
