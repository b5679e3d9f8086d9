package store

import (
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"banns/milestones"
)

// notKeys are words that stand where an agreement's key would in an id.
var notKeys = []string{"wedding", "appointments", "occasions", "countdown"}

func (f *filed) agreement(c milestones.Currency, key string, n *yaml.Node, path string) milestones.Agreement {
	f.key(key, path)
	if slices.Contains(notKeys, key) {
		f.fault(nil, path, "give the agreement another key", "%q is taken as a key", key)
	}
	t := f.table(n, path, "with", "service", "standing", "signed", "price", "payer", "contact", "business days",
		"closed", "dates", "pay", "cancel", "change", "papers", "postpone", "hide from", "note", "answers")
	a := milestones.Agreement{
		Key:          key,
		With:         t.must("with", "with: Hollow Oak Table"),
		Service:      t.text("service"),
		Signed:       read(t, "signed", openDay),
		Price:        f.price(c, t),
		Payer:        t.text("payer"),
		Contact:      t.text("contact"),
		BusinessDays: oneOf(t, "business days", []milestones.BusinessDays{milestones.Banks, milestones.Federal, milestones.MonFri, milestones.MonSat}),
		Closed:       t.dates("closed"),
		Dates:        t.dated("dates"),
		Hide:         t.words("hide from"),
		Note:         t.text("note"),
		Answers:      t.answersByName(),
	}
	if a.BusinessDays == "" {
		a.BusinessDays = milestones.Banks
	}
	if t.must("standing", "standing: signed") != "" {
		a.Standing = oneOf(t, "standing", milestones.Standings)
	}
	if a.Standing == milestones.Signed && a.Signed.IsZero() && !t.misread("signed") {
		f.fault(t.values["signed"], t.sub("signed"), "write signed: 2026-10-02, or standing: quoted", "a signed agreement needs the day of its last signature")
	}
	for _, e := range t.list("pay") {
		a.Pay = append(a.Pay, milestones.Payment{Line: f.line(c, e)})
	}
	for _, e := range t.list("cancel") {
		a.Cancel = append(a.Cancel, milestones.CancelStep{Line: f.line(c, e)})
	}
	for _, e := range t.list("change") {
		a.Change = append(a.Change, milestones.ChangeBy{Line: f.line(c, e)})
	}
	for _, e := range t.list("papers") {
		a.Papers = append(a.Papers, milestones.Paper{Line: f.line(c, e)})
	}
	if n := t.values["postpone"]; !absent(n) {
		a.Postpone = &milestones.Postpone{Line: f.line(c, entry{n, t.sub("postpone")})}
		a.Postpone.Key = "postpone"
	}
	return a
}

// line reads one line of an agreement, in its short or its longer form.
func (f *filed) line(c milestones.Currency, e entry) milestones.Line {
	if e.node.Kind == yaml.ScalarNode {
		l := milestones.Line{Says: strings.TrimSpace(e.node.Value)}
		if absent(e.node) {
			l.Says, f.unread[e.path] = "", true
			f.fault(e.node, e.path, "write the phrase, or take the dash away", "the line is empty")
		}
		return l
	}
	t := f.table(e.node, e.path, "key", "says", "what", "done", "amount", "back", "given", "owed", "for", "hide from", "note", "wording", "answer")
	one, parts := done(t)
	l := milestones.Line{
		Key:     t.text("key"),
		Keyed:   t.text("key") != "",
		Says:    t.must("says", `says: "balance 14 days before the wedding"`),
		What:    t.text("what"),
		Done:    one,
		Amount:  maybe(t, "amount", c.Parse),
		Given:   read(t, "given", whole(0, 100_000)),
		Owed:    read(t, "owed", yes),
		For:     t.words("for"),
		Hide:    t.words("hide from"),
		Note:    t.text("note"),
		Wording: t.text("wording"),

		DoneParts: parts,
		CameBack:  read(t, "back", day),
		Answers:   t.answers(),
	}
	if l.Key != "" {
		f.key(l.Key, t.sub("key"))
	}
	if l.Key == "postpone" {
		f.fault(t.values["key"], t.sub("key"), "give the line another key", "%q is taken as a key", l.Key)
	}
	f.unread[e.path] = l.Says == ""
	return l
}

// done reads the day on which a line was done, or the days of its first parts.
func done(t table) (one milestones.Date, parts []milestones.Date) {
	if n := t.values["done"]; !absent(n) && n.Kind == yaml.SequenceNode {
		return one, t.dates("done")
	}
	return read(t, "done", day), nil
}

func (f *filed) price(c milestones.Currency, t table) (p milestones.Price) {
	n := t.values["price"]
	if absent(n) {
		return p
	}
	if n.Kind == yaml.ScalarNode {
		p.Sum = maybe(t, "price", c.Parse)
		return p
	}
	h := f.table(n, t.sub("price"), "each", "count", "at least", "at most", "service", "tax", "tax on")
	if h.must("each", `each: "98.00"`) == "" {
		return p
	}
	heads := whole(0, 100_000)
	p = milestones.Price{
		Each:    maybe(h, "each", c.Parse),
		Count:   read(h, "count", heads),
		AtLeast: read(h, "at least", heads),
		AtMost:  read(h, "at most", heads),
		Service: read(h, "service", milestones.ParsePercent),
		Tax:     read(h, "tax", milestones.ParsePercent),
		TaxOn:   oneOf(h, "tax on", []milestones.TaxOn{milestones.TaxOnAll, milestones.TaxOnFood}),
	}
	if p.AtMost > 0 && p.AtMost < p.AtLeast {
		f.fault(n, h.sub("at most"), "exchange the two", "at most %d is fewer than at least %d", p.AtMost, p.AtLeast)
	}
	return p
}
