package desk

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

// form is places of a plan to be filled in, as they were in one version.
type form struct {
	Seen   int // that version
	Back   int // of what was taken out of the plan since: the version in which the visitor saw it
	Fields []field
	Faults []fault // in the order of the fields
	Lead   string  // what is said above them, where it is not that nothing was saved yet
}

// field is one place of a plan, as a form asks for it. Its name in the form
// is its path in the plan.
type field struct {
	Path    string
	As      string // its id on the page, where that is not its path
	Label   string
	Hint    string
	Kind    kind
	Options []option // of a choice, of many, or what is often written on a line
	Picks   string   // id of a list of what is often written there
	Value   string
	Fault   string
	Mend    string
	Theirs  *string // what another editor has made of it meanwhile
	Folded  bool    // of many: folded up while none is ticked
	Dated   bool    // of days in a list: they are read back beside it, with their weekdays
	Above   bool    // what is wrong with all that the place is part of stands beside it
	Must    bool    // a browser sends nothing while it is empty
	Fill    string  // what a browser may fill in by itself (HTML, autocomplete)
	Least   int     // of a passphrase that is chosen: how long it is at least
	Accept  string  // of a file: what kinds of it
}

// kind is how a field is asked for.
type kind string

const (
	lineKind   kind = "text"
	emailKind  kind = "email"
	phoneKind  kind = "tel"
	areaKind   kind = "area"
	dateKind   kind = "date"
	timeKind   kind = "time"
	choiceKind kind = "choice"
	listKind   kind = "list" // words with commas between them
	manyKind   kind = "many" // any of the options
	daysKind   kind = "days" // dates, any number of them
	hiddenKind kind = "hidden"
	fileKind   kind = "file"
	urlKind    kind = "url"
	secretKind kind = "password"
)

// Type is how a browser asks for it on one line.
func (f field) Type() kind {
	switch f.Kind {
	case dateKind, timeKind, fileKind, secretKind:
		return f.Kind
	}
	return lineKind
}

type option struct{ Value, Label string }

// fault is one line of the sum of what is wrong, above the form.
type fault struct{ ID, Says string }

// ID is the field's name on the page, for labels and links.
func (f field) ID() string {
	if f.As != "" {
		return f.As
	}
	return strings.NewReplacer("/", "-", " ", "-", "+", "new-").Replace(f.Path)
}

// newForm is a form on places of a plan, as they are in doc.
func newForm(doc *store.Document, fields ...field) form {
	f := form{Seen: doc.Plan.Version, Fields: fields}
	for n := range f.Fields {
		one := &f.Fields[n]
		values := doc.At(one.Path)
		one.Value = strings.Join(values, ", ")
	}
	return f
}

// sets are what was sent, for the store: it knows which of them changed. The
// fields keep what was typed.
func (f *form) sets(sent url.Values) []store.Set {
	if seen, err := strconv.Atoi(sent.Get("seen")); err == nil {
		f.Seen = seen
	}
	var all []store.Set
	for n := range f.Fields {
		one := &f.Fields[n]
		if !sent.Has(one.Path) {
			continue
		}
		switch one.Kind {
		case manyKind:
			if !one.choose(sent[one.Path]) {
				continue
			}
		case daysKind:
			one.Value = strings.Join(slices.DeleteFunc(slices.Clone(sent[one.Path]), func(day string) bool { return day == "" }), ", ")
		default:
			one.Value = strings.ReplaceAll(sent.Get(one.Path), "\r\n", "\n")
		}
		all = append(all, one.set())
	}
	return all
}

// choose takes what was ticked, and reports whether that is anything else
// than before. What was ticked before keeps its place in the plan's list.
func (f *field) choose(ticked []string) bool {
	var had, all []string
	if f.Value != "" {
		had = strings.Split(f.Value, ", ")
	}
	for _, one := range slices.Concat(had, ticked) {
		if one != "" && slices.Contains(ticked, one) && !slices.Contains(all, one) {
			all = append(all, one)
		}
	}
	f.Value = strings.Join(all, ", ")
	return !slices.Equal(had, all)
}

// daysLeast is how many days there is always room for.
const daysLeast = 3

// Days are those of a field of days, and room for others.
func (f field) Days() []string {
	all := strings.Split(f.Value, ", ")
	for len(all) < daysLeast {
		all = append(all, "")
	}
	return all
}

// Read is a list of days as they read, with their weekdays.
func (f field) Read() string {
	var all []string
	for _, word := range strings.Split(f.Value, ",") {
		if day, err := milestones.ParseDate(strings.TrimSpace(word)); err == nil {
			all = append(all, day.Words())
		}
	}
	return strings.Join(all, ", ")
}

// Has reports whether an option of many is ticked.
func (f field) Has(value string) bool { return slices.Contains(strings.Split(f.Value, ", "), value) }

func (f *field) set() store.Set {
	set := store.Set{Path: f.Path, List: f.Kind == listKind || f.Kind == manyKind || f.Kind == daysKind}
	text := strings.TrimSpace(f.Value)
	switch {
	case text == "":
	case set.List:
		for _, word := range strings.Split(text, ",") {
			if word = strings.TrimSpace(word); word != "" {
				set.Value = append(set.Value, word)
			}
		}
	default:
		set.Value = []string{text}
	}
	return set
}

// refused puts into the form what the store had against it, and reports
// whether it was that: another error is none of the form's.
func (f *form) refused(s *sight, err error) bool {
	var faults store.Faults
	var overlaps store.Overlaps
	switch {
	case errors.As(err, &faults):
		for _, one := range faults {
			f.wrong(s, one)
		}
	case errors.As(err, &overlaps):
		for _, one := range overlaps {
			f.overlap(s, one)
		}
		f.Seen = s.newest() // sent once more, it stands
	default:
		return false
	}
	return true
}

// wrong is a fault of the plan in words for a page: what a plan file calls by
// a key has a label here, and a place that no field asks for has a name.
func (f *form) wrong(s *sight, one store.Fault) {
	n := f.of(one.Path)
	if n < 0 {
		f.Faults = append(f.Faults, fault{Says: s.elsewhere(one) + one.Says})
		return
	}
	switch asked := f.Fields[n]; {
	case asked.Kind == listKind:
		one.Mend = strings.NewReplacer("[", "", "]", "").Replace(one.Mend)
	case asked.Kind == dateKind && asked.Value == "": // it takes no words
		one.Mend = "choose the day"
	}
	one = unkeyed(one)
	for _, other := range f.Fields {
		key := other.Path[strings.LastIndex(other.Path, "/")+1:]
		one.Mend = strings.ReplaceAll(one.Mend, " "+key+": ", " ")
	}
	f.fault(one.Path, one.Says, one.Mend)
}

// unkeyed is a fault without the key by which a plan file calls its field.
func unkeyed(one store.Fault) store.Fault {
	key := one.Path[strings.LastIndex(one.Path, "/")+1:]
	if one.Says == key+" is missing" {
		one.Says = "nothing is written here"
	}
	one.Mend = strings.ReplaceAll(one.Mend, " "+key+": ", " ")
	return one
}

func (f *form) fault(path, says, mend string) {
	n := f.of(path)
	if n < 0 {
		f.Faults = append(f.Faults, fault{Says: strings.TrimPrefix(path+": ", ": ") + says})
		return
	}
	one := &f.Fields[n]
	one.Fault, one.Mend = says, mend
	f.Faults = append(f.Faults, fault{one.ID(), one.Label + ": " + says})
}

// value is what stands in the field that asks for a place of the plan.
func (f *form) value(path string) string { return strings.TrimSpace(f.Fields[f.of(path)].Value) }

// at is the field that asks for a place.
func (f *form) at(path string) *field { return &f.Fields[f.of(path)] }

// missing puts a fault beside the field of a place where it is empty.
func (f *form) missing(path, says, mend string) {
	if f.value(path) == "" {
		f.fault(path, says, mend)
	}
}

// of is which of the fields asks for a place of the plan, or -1. Of several
// that ask for a part of it, it is the first that is filled in.
func (f *form) of(path string) int {
	n := slices.IndexFunc(f.Fields, func(one field) bool {
		rest, under := strings.CutPrefix(path, one.Path)
		return under && (rest == "" || rest[0] == '/' || rest[0] == '[')
	})
	if n >= 0 {
		return n
	}
	above := func(one field) bool { return one.Above && strings.HasPrefix(one.Path, path+"/") }
	if n = slices.IndexFunc(f.Fields, func(one field) bool { return above(one) && one.Value != "" }); n >= 0 {
		return n
	}
	return slices.IndexFunc(f.Fields, above)
}

func (f *form) overlap(s *sight, o store.Overlap) {
	f.wrong(s, store.Fault{Fault: milestones.Fault{Path: o.Path, Says: "somebody else has changed this meanwhile", Mend: "keep yours, or write theirs"}})
	for n := range f.Fields {
		if f.Fields[n].Path == o.Path {
			f.Fields[n].Theirs = &o.Theirs
		}
	}
}

// save keeps what a form was sent with, and sends the browser on; where the
// store refuses, show is called with the form as it was filled in.
func (d *Desk) save(w http.ResponseWriter, r *http.Request, f *form, to string, show func(status int) error, more ...store.Set) error {
	s := sightOf(r)
	sets := append(f.sets(r.PostForm), more...)
	if f.bringsBack(s, r.PostForm); f.Faults != nil {
		return show(http.StatusUnprocessableEntity)
	}
	done, err := d.Store.Update(r.Context(), store.Edit{Wedding: s.ID, Seen: f.Seen, Sets: sets, Back: s.back(), By: visitorOf(r).Name, As: s.key}, d.Now())
	if err := d.catchUp(r, f, err); err != nil {
		return err
	}
	if f.refused(s, s.veiled(err)) {
		return show(http.StatusUnprocessableEntity)
	} else if err != nil {
		return err
	}
	return goTo(w, r, s.at(to)+fmt.Sprintf("?kept=%d", done.Version))
}

// catchUp has the fields that the visitor left alone show what others made of
// them, where an edit overlaps with theirs: sent once more, it would write over
// all that was changed since.
func (d *Desk) catchUp(r *http.Request, f *form, err error) error {
	var overlaps store.Overlaps
	if !errors.As(err, &overlaps) {
		return nil
	}
	s := sightOf(r)
	seen, err := d.Store.LoadVersion(r.Context(), s.ID, f.Seen)
	if err != nil {
		return err
	}
	for n := range f.Fields {
		if one := &f.Fields[n]; one.Value == strings.Join(seen.At(one.Path), ", ") {
			one.Value = strings.Join(s.doc.At(one.Path), ", ")
		}
	}
	return nil
}

// pageFrame is what every page of a wedding has.
type pageFrame struct {
	web.Frame
	At      string // the way to the wedding's front page
	Wedding string // its title
	Here    string // which of the pages this is
	Kept    string // the version that was just saved
	Visitor string
}

// Rest reports whether the page is one of those that are a step further away.
func (p pageFrame) Rest() bool {
	return slices.Contains([]string{"day", "weigh", "events", "history", "paper"}, p.Here)
}

func newPageFrame(r *http.Request, title, here string) pageFrame {
	s := sightOf(r)
	p := pageFrame{Frame: frame(r, title), Wedding: s.plan.Wedding.Title, Here: here, Visitor: visitorOf(r).Name, Kept: r.URL.Query().Get("kept")}
	p.At = p.Root + "desk/" + s.at("")
	return p
}
