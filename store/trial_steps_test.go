package store_test

import (
	"fmt"
	"slices"
	"time"

	"pgregory.net/rapid"

	"banns/feed"
)

// draw is one of all, of the first ones more often.
func draw[T any](tr *trial, label string, all ...T) T {
	return rapid.SampledFrom(all).Draw(tr.T, label)
}

// step is one thing that happens to a store, and what the feeds have to be
// after it.
func (tr *trial) step() {
	steps := map[string]func(){"edit": tr.edit, "again": tr.again, "go back": tr.goBack, "remind": tr.remind,
		"move house": tr.moveHouse, "reissue": tr.reissue, "tick": tr.tick, "restart": tr.restart, "wait": tr.wait}
	steps[draw(tr, "step", "edit", "edit", "edit", "edit", "edit", "edit", "again", "go back", "remind", "move house", "reissue", "tick", "restart", "wait", "wait")]()
}

// edit makes one edit, or, in a file that has its keys, a few, and imports
// the plan.
func (tr *trial) edit() {
	tr.tick()
	keyed, edits := draw(tr, "keyed", true, false), 1
	if keyed {
		edits = draw(tr, "edits", 3, 2, 1, 4)
	}
	b, may := tr.book.copied(), map[string]bool{}
	for range edits {
		tr.one(b, keyed && edits > 1, may)
	}
	tr.save(b, b.text(keyed, tr.plan.Version))
	tr.published(may)
}

// one edits b, and adds to may who can tell. Several lines of one file that
// are new or gone at once are told apart by naming the keys of new ones.
func (tr *trial) one(b *book, name bool, may map[string]bool) {
	p := &b.Pacts[rapid.IntRange(0, len(b.Pacts)-1).Draw(tr.T, "agreement")]
	all := func(who map[string]bool) {
		for id, sees := range who {
			may[id] = may[id] || sees
		}
	}
	everyone := func() {
		for i := range b.People {
			may[b.People[i].ID] = true
		}
	}
	switch do := draw(tr, "edit", "come or go", "standing", "hide", "rename", "open the day", "move the day", "done", "meet", "retitle",
		"add", "show", "owed", "resum", "meet otherwise", "reorder", "reword", "retime", "do not meet", "remove"); do {
	case "add":
		l := tr.clause(b, p, name)
		p.Lines = slices.Insert(p.Lines, rapid.IntRange(0, len(p.Lines)).Draw(tr.T, "place"), l)
		all(b.whoSees(p, &l))
	case "reorder":
		p.Lines = rapid.Permutation(p.Lines).Draw(tr.T, "order")
	case "standing":
		for i := range p.Lines {
			all(b.whoSees(p, &p.Lines[i]))
		}
		p.Standing = map[string]string{"quoted": "signed", "signed": "replaced", "replaced": "signed"}[p.Standing]
		for i := range p.Lines {
			all(b.whoSees(p, &p.Lines[i]))
		}
	case "move the day":
		b.Date = draw(tr, "date", "2027-09-18", "2027-10-02", "2027-06-12")
		everyone()
	case "open the day":
		b.Date = ""
		everyone()
	case "retitle":
		b.Title = draw(tr, "title", "Ann and Bo", "Bo and Ann")
		for id := range tr.phones { // whoever left keeps a calendar of that name
			may[id] = true
		}
	case "rename":
		tr.rename(b)
	case "come or go":
		id := draw(tr, "person", "rue", "kit")
		if b.person(id) != nil {
			b.People = slices.DeleteFunc(b.People, func(g guest) bool { return g.ID == id })
		} else if !slices.ContainsFunc(b.People, func(p guest) bool { return p.Key == id }) {
			b.People = append(b.People, guest{ID: id, Key: id, Name: draw(tr, "name", "The "+id, "Another"), Part: "attendant"})
		}
		may[id] = true
		for n := range b.Meetings { // whoever sees a meeting sees who is asked to it
			if m := &b.Meetings[n]; slices.Contains(m.For, id) {
				for who, meets := range b.whoMeets(m) {
					may[who] = may[who] || meets
				}
			}
		}
	case "meet", "meet otherwise", "do not meet":
		tr.meeting(b, do, all)
	default:
		if len(p.Lines) > 0 {
			tr.line(b, p, do, all)
		}
	}
}

// rename gives somebody another key, or has two people exchange theirs, where
// that was not done in this version yet. Nobody can tell.
func (tr *trial) rename(b *book) {
	g := &b.People[rapid.IntRange(0, len(b.People)-1).Draw(tr.T, "person")]
	other := &b.People[rapid.IntRange(0, len(b.People)-1).Draw(tr.T, "other")]
	tr.tags++
	switch {
	case g.Key != tr.book.key(g.ID) || other.Key != tr.book.key(other.ID):
	case b.person(g.Key) != nil && g.Key != g.ID: // they have exchanged theirs, and a file cannot say that they do once more
	case draw(tr, "exchange", false, true) && g != other && g.Key == g.ID && other.Key == other.ID:
		g.Was, other.Was = g.Key, other.Key
		g.Key, other.Key = other.Key, g.Key
	case draw(tr, "back", false, true) && !slices.ContainsFunc(b.People, func(p guest) bool { return p.Key == g.ID }):
		g.Key, g.Was = g.ID, g.Key
	default:
		g.Key, g.Was = fmt.Sprintf("p%d", tr.tags), g.Key
	}
}

// line edits one line of p.
func (tr *trial) line(b *book, p *pact, do string, all func(map[string]bool)) {
	n := rapid.IntRange(0, len(p.Lines)-1).Draw(tr.T, "line")
	l := &p.Lines[n]
	all(b.whoSees(p, l))
	switch do {
	case "remove":
		p.Lines = slices.Delete(p.Lines, n, n+1)
		return
	case "reword":
		l.Words = draw(tr, "words", "lamps", "benches", "blue plates")
	case "retime":
		l.When = tr.when()
	case "resum":
		l.Sum = draw(tr, "sum", 40, 60, 80)
	case "hide":
		l.Hide = tr.some(b)
	case "show":
		l.For = tr.some(b)
	case "done":
		l.Done = !l.Done && l.List != "cancel"
	case "owed":
		l.Owed = !l.Owed && l.List != "cancel"
	}
	all(b.whoSees(p, l))
}

func (tr *trial) meeting(b *book, do string, all func(map[string]bool)) {
	when := draw(tr, "when", `on: 2027-02-10, at: "11:00"`, `on: 2027-03-14, at: "09:30"`, `when: 2 days before the wedding`)
	if do == "meet" {
		tr.tags++
		m := meeting{Tag: fmt.Sprintf("tag%d", tr.tags), Words: "fitting", When: when, For: tr.some(b), Hide: tr.some(b)}
		b.Meetings = append(b.Meetings, m)
		all(b.whoMeets(&m))
		return
	}
	if len(b.Meetings) < 2 {
		return
	}
	n := rapid.IntRange(0, len(b.Meetings)-1).Draw(tr.T, "meeting")
	all(b.whoMeets(&b.Meetings[n]))
	if do == "do not meet" {
		b.Meetings = slices.Delete(b.Meetings, n, n+1)
		return
	}
	m := &b.Meetings[n]
	m.When, m.For, m.Hide = when, tr.some(b), tr.some(b)
	all(b.whoMeets(m))
}

func (tr *trial) some(b *book) []string {
	var ids []string
	for i := range b.People {
		if rapid.IntRange(0, 3).Draw(tr.T, "named") == 0 {
			ids = append(ids, b.People[i].ID)
		}
	}
	return ids
}

func (tr *trial) when() string {
	return draw(tr, "when", "20 days before the wedding", "100 days before the wedding", "7 days before the wedding by 17:00",
		"10 business days before the wedding", "on 2027-01-15", "by 2027-04-15", "5 days after signing")
}

// clause is a line that was never there before.
func (tr *trial) clause(b *book, p *pact, name bool) clause {
	tr.tags++
	lists := []string{"pay", "change", "papers", "cancel"}
	if slices.ContainsFunc(p.Lines, func(l clause) bool { return l.List == "cancel" }) {
		lists = lists[:3]
	}
	l := clause{List: draw(tr, "list", lists...), Tag: fmt.Sprintf("tag%d", tr.tags), Sum: 10, Words: "lamps",
		When: tr.when(), For: tr.some(b), Hide: tr.some(b)}
	if name {
		l.Key = "own-" + l.Tag
	}
	return l
}

func (b *book) key(id string) string {
	if p := b.person(id); p != nil {
		return p.Key
	}
	return ""
}

// again imports what is stored, with its keys or without; nobody can tell.
func (tr *trial) again() {
	tr.tick()
	text := tr.versions[len(tr.versions)-1].text
	if !draw(tr, "keyed", true, false) {
		text = tr.book.text(false, tr.plan.Version)
	}
	tr.save(tr.book.copied(), text)
	tr.published(map[string]bool{})
}

// goBack brings an older version back.
func (tr *trial) goBack() {
	v := draw(tr, "version", tr.versions...)
	done, err := tr.store.Revert(tr.Context(), tr.plan.ID, v.number, "back", tr.now)
	if err != nil {
		tr.Fatal(err)
	}
	tr.saved(v.book.copied(), done)
	tr.published(nil)
}

// remind has somebody choose what to be reminded by.
func (tr *trial) remind() {
	tr.tick()
	id := draw(tr, "person", tr.book.People...).ID
	tr.choices[id] = draw(tr, "choice", feed.AllReminders...)
	if err := tr.store.SetReminders(tr.Context(), tr.tokens()[tr.book.key(id)], tr.choices[id], tr.now); err != nil {
		tr.Fatal(err)
	}
	tr.fresh = nil
	tr.published(map[string]bool{id: true})
}

// moveHouse changes the public address.
func (tr *trial) moveHouse() {
	tr.base = draw(tr, "address", "https://a.example.org", "https://b.example.org")
	if err := tr.store.SetPublic(tr.Context(), tr.base, tr.now); err != nil {
		tr.Fatal(err)
	}
	tr.fresh = nil
	tr.published(nil)
}

// reissue gives somebody another address.
func (tr *trial) reissue() {
	tr.tick()
	p := draw(tr, "person", tr.book.People...)
	if err := tr.store.Revoke(tr.Context(), tr.plan.ID, p.Key, true, tr.now); err != nil {
		tr.Fatal(err)
	}
	tr.fresh = nil
	tr.published(map[string]bool{p.ID: true})
}

// tick is the minute's work; what changes after it is due to the step.
func (tr *trial) tick() {
	if err := tr.store.Tick(tr.Context(), tr.now); err != nil {
		tr.Fatal(err)
	}
	tr.published(nil)
}

// restart ends the program and starts it again.
func (tr *trial) restart() {
	tr.tick()
	if err := tr.store.Close(); err != nil {
		tr.Fatal(err)
	}
	tr.open()
	if err := tr.store.PublishAll(tr.Context(), tr.now); err != nil {
		tr.Fatal(err)
	}
	tr.published(map[string]bool{})
}

// wait moves the clock: on, past what is withdrawn, to the day of something,
// or back. By itself that changes nothing.
func (tr *trial) wait() {
	tr.now = tr.now.AddDate(0, 0, draw(tr, "days", 0, 0, 1, 7, 59, 60, 61, -1, -30)).Add(time.Duration(rapid.IntRange(-1500, 100_000_000).Draw(tr.T, "ms")) * time.Millisecond)
	if draw(tr, "to a day", false, false, true) {
		tr.now = tr.dayOf(draw(tr, "person", tr.book.People...).ID)
	}
	for id, was := range tr.feeds {
		if is := tr.calendar(id); is.Revision != was.Revision || string(is.Body) != string(was.Body) {
			tr.Fatalf("the feed of %s changed by itself", id)
		}
	}
}

// dayOf is some minute of a day on which somebody has something, or now.
func (tr *trial) dayOf(id string) time.Time {
	all, err := eventsIn(tr.feeds[id].Body)
	if err != nil || len(all) == 0 {
		return tr.now
	}
	e := draw(tr, "entry", all...)
	day, err := time.ParseInLocation("20060102", e.day(), detroit)
	if err != nil {
		tr.Fatal(err)
	}
	return day.Add(time.Duration(rapid.IntRange(0, 24*60-1).Draw(tr.T, "minute")) * time.Minute).UTC()
}
