package store

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"banns/milestones"
)

// fact is a Fact on its way from one document into another.
type fact struct {
	Fact
	path  string // of what it is about, in the document that it goes into
	field string
}

func (f fact) name() string { return f.path + " " + f.field }

// giver gives what one document knows of the world to another.
type giver struct {
	from, to *Document
	wins     prefers
	blind    unseen
	lost     map[string]bool // by name: not given
	facts    []fact
}

// with is d with the facts of last, but for those that are lost.
func (d *Document) with(last *Document, wins prefers, blind unseen, lost map[string]bool) (*Document, []fact, error) {
	g := &giver{from: last, to: &Document{File: d.File, Plan: d.Plan, root: clone(d.root)}, wins: wins, blind: blind, lost: lost}
	g.agreements()
	g.meetings()
	g.countdown()
	if len(g.facts) == 0 {
		return d, nil, nil
	}
	text, err := g.to.Text()
	if err != nil {
		return nil, nil, err
	}
	next, err := ReadPlan(d.File, text)
	return next, g.facts, err
}

// top is a part of a document's file.
func (d *Document) top(keys ...string) *yaml.Node {
	n := d.root.Content[0]
	for _, key := range keys {
		n = child(n, key)
	}
	return n
}

// give puts field of from into to, where to lacks it or is to yield.
func (g *giver) give(of, path, field, says string, from, to *yaml.Node, fits bool) {
	if absent(child(from, field)) || to == nil {
		return
	}
	put := g.choose(field, path, child(from, field), child(to, field))
	if put == nil {
		return
	}
	f := fact{Fact{of, says}, path, field}
	g.facts = append(g.facts, f)
	if !fits {
		g.lost[f.name()] = true
	}
	if g.lost[f.name()] {
		return
	}
	if to.Kind == yaml.ScalarNode {
		long(to, "says")
	}
	setLast(to, field, put)
}

// choose is what should stand in place of to, or nil where it stays.
func (g *giver) choose(field, path string, from, to *yaml.Node) *yaml.Node {
	switch {
	case absent(to) && g.blind(path):
		return clone(from)
	case absent(to) || same(from, to) || !g.blind(path):
		return nil
	case field == "answer":
		return g.answers(from, to)
	case g.wins == storeWins, field == "done" && goesOn(from, to):
		return clone(from)
	}
	return nil
}

// goesOn reports whether both are days of parts that were done, and the first
// has some more.
func goesOn(from, to *yaml.Node) bool {
	return from.Kind == yaml.SequenceNode && to.Kind == yaml.SequenceNode && len(from.Content) > len(to.Content) &&
		slices.EqualFunc(from.Content[:len(to.Content)], to.Content, same)
}

// answers are those of both, one to each doubt; nil where to has them all.
func (g *giver) answers(from, to *yaml.Node) *yaml.Node {
	first, second := to, from
	if g.wins == storeWins {
		first, second = from, to
	}
	all := &yaml.Node{Kind: yaml.SequenceNode}
	settled := map[string]bool{}
	for _, n := range slices.Concat(members(first), members(second)) {
		a := milestones.Answer{}
		if reads := child(n, "reads"); reads != nil {
			a.Reads = strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(reads.Value), "-", " ")), " ")
		}
		doubt, back := a.Doubt()
		if key := fmt.Sprint(doubt, back); !settled[key] {
			settled[key] = true
			all.Content = append(all.Content, clone(n))
		}
	}
	if len(all.Content) == 1 {
		all = all.Content[0]
	}
	if same(all, to) || slices.EqualFunc(members(all), members(to), same) {
		return nil
	}
	return all
}

func members(n *yaml.Node) []*yaml.Node {
	if n.Kind == yaml.SequenceNode {
		return n.Content
	}
	return []*yaml.Node{n}
}

// same reports whether two nodes say the same.
func same(a, b *yaml.Node) bool {
	return a.Kind == b.Kind && a.Value == b.Value && slices.EqualFunc(a.Content, b.Content, same)
}

// setLast sets a value of a mapping; a new one stands last.
func setLast(n *yaml.Node, key string, value *yaml.Node) {
	if v := child(n, key); v != nil {
		*v = *value
		return
	}
	n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, value)
}

// agreements gives what was done, paid, given and answered on lines that both
// documents have, and what was answered of an agreement as a whole.
func (g *giver) agreements() {
	for i := range g.to.Plan.Agreements {
		now := &g.to.Plan.Agreements[i]
		was, ok := g.from.Plan.Agreement(now.Key)
		if !ok {
			continue
		}
		before, after := g.from.spots(was), g.to.spots(now)
		for _, l := range slices.Concat(now.Lines(), postponed(now)) {
			if from, ok := before[l.Key]; ok {
				g.line(now.With, from, after[l.Key])
			}
		}
		path := "agreements/" + now.Key
		g.named(now.With, path, "answers", g.from.top("agreements", now.Key), g.to.top("agreements", now.Key), answered)
		if g.wins == storeWins {
			g.life(was, now, path)
		}
	}
}

func postponed(a *milestones.Agreement) []*milestones.Line {
	if a.Postpone == nil {
		return nil
	}
	l := a.Postpone.Line
	l.Key = milestones.Postponing
	return []*milestones.Line{&l}
}

// line gives what is known of one line.
func (g *giver) line(with string, from, to spot) {
	if from.node == nil || to.node == nil || from.node.Kind != yaml.MappingNode {
		return // its short form says nothing of the world
	}
	of := with + ", “" + to.Says + "”"
	did := "done on "
	if from.list == "pay" {
		did = "paid on "
	}
	days := from.DoneParts
	if len(days) == 0 {
		days = []milestones.Date{from.Done}
	}
	equal := to.pay != nil && to.pay.Form == milestones.Equal && len(from.DoneParts) <= to.pay.Times
	c := g.from.Plan.Wedding.Currency
	for _, one := range []struct {
		field, says string
		fits        bool
	}{
		{"done", did + dayWords(days), len(from.DoneParts) == 0 || equal},
		{"amount", "the amount " + c.Words(value(from.Amount)), to.list == "pay" && c == g.to.Plan.Wedding.Currency},
		{"back", "came back on " + from.CameBack.Words(), to.pay != nil && to.pay.Back != nil},
		{"given", fmt.Sprintf("given as %d", from.Given), to.list == "change"},
		{"answer", "the answer to what it leaves open", to.list == from.list},
	} {
		g.give(of, to.path, one.field, one.says, from.node, to.node, one.fits)
	}
}

// named gives what stands under a key by names, each by itself.
func (g *giver) named(of, path, under string, from, to *yaml.Node, says func(name string, n *yaml.Node) string) {
	known, into := child(from, under), child(to, under)
	if absent(known) || to == nil {
		return
	}
	fresh := absent(into)
	if fresh {
		into = &yaml.Node{Kind: yaml.MappingNode}
	}
	for i := 0; i+1 < len(known.Content); i += 2 {
		name := known.Content[i].Value
		if child(into, name) != nil && g.wins == fileWins {
			continue
		}
		g.give(of, path+"/"+under, name, says(name, known.Content[i+1]), known, into, true)
	}
	if fresh && len(into.Content) > 0 {
		setLast(to, under, into)
	}
}

func answered(name string, _ *yaml.Node) string { return "the answer about " + name }

// life gives how far an agreement is in its life: what was signed is not
// unsigned by going back to an older plan, nor is a vendor who left there
// again, nor a date that came unknown.
func (g *giver) life(was, now *milestones.Agreement, path string) {
	from, to := g.from.top("agreements", now.Key), g.to.top("agreements", now.Key)
	if slices.Index(milestones.Standings, was.Standing) > slices.Index(milestones.Standings, now.Standing) {
		g.give(now.With, path, "standing", "it is "+string(was.Standing), from, to, true)
		g.give(now.With, path, "signed", "the day of signing, "+was.Signed.Words(), from, to, true)
	}
	for _, d := range now.Dates {
		for _, known := range was.Dates {
			if known.Name == d.Name && d.Date.IsZero() && !known.Date.IsZero() {
				g.give(now.With, path+"/dates", d.Name, "the "+d.Name+" of "+known.Date.Words(), child(from, "dates"), child(to, "dates"), true)
			}
		}
	}
}

// meetings gives what was answered about appointments and occasions.
func (g *giver) meetings() {
	for _, kind := range []string{"appointments", "occasions"} {
		g.each(kind, func(key string, from, to *yaml.Node) {
			of, path := title(to, "what"), kind+"/"+key
			g.give(of, path, "answer", "the answer to what it leaves open", from, to, true)
			g.named(of, path, "answers", from, to, answered)
		})
	}
}

// countdown gives what was done and answered of milestones.
func (g *giver) countdown() {
	if g.from.top("countdown") == nil || g.to.top("countdown") == nil {
		return
	}
	g.named("Countdown", "countdown", "done", g.from.top("countdown"), g.to.top("countdown"), func(name string, n *yaml.Node) string {
		return strings.ReplaceAll(name, "-", " ") + " done on " + dayIn(n)
	})
	add := func(d *Document) *yaml.Node { return d.top("countdown", "add") }
	pairs(add(g.from), add(g.to), func(key string, from, to *yaml.Node) {
		of, path := title(to, "what"), "countdown/add/"+key
		if done := child(from, "done"); done != nil {
			g.give(of, path, "done", "done on "+dayIn(done), from, to, true)
		}
		g.give(of, path, "answer", "the answer to what it leaves open", from, to, true)
	})
}

// each visits what both documents have under a key of the file.
func (g *giver) each(under string, visit func(key string, from, to *yaml.Node)) {
	pairs(g.from.top(under), g.to.top(under), visit)
}

func pairs(from, to *yaml.Node, visit func(key string, from, to *yaml.Node)) {
	if from == nil || to == nil || to.Kind != yaml.MappingNode {
		return
	}
	for i := 0; i+1 < len(to.Content); i += 2 {
		if n := child(from, to.Content[i].Value); n != nil {
			visit(to.Content[i].Value, n, to.Content[i+1])
		}
	}
}

func title(n *yaml.Node, key string) string {
	if v := child(n, key); v != nil {
		return v.Value
	}
	return ""
}

func dayWords(days []milestones.Date) string {
	var all []string
	for _, d := range days {
		all = append(all, d.Words())
	}
	return strings.Join(all, ", ")
}

// dayIn is the day that a node has, in words.
func dayIn(n *yaml.Node) string {
	if d, err := milestones.ParseDate(n.Value); err == nil {
		return d.Words()
	}
	return n.Value
}

func value(m *milestones.Money) milestones.Money {
	if m == nil {
		return 0
	}
	return *m
}
