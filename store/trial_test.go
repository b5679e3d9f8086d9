package store_test

import (
	"bytes"
	"errors"
	"maps"
	"os"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"banns/conflicts"
	"banns/feed"
	"banns/feed/check"
	"banns/milestones"
	"banns/store"
)

// TestFeedsStayTrue edits a wedding at random, and after every step holds
// every feed to what a phone that had read it until then has to be shown.
func TestFeedsStayTrue(t *testing.T) {
	t.Parallel()
	least, most := 4, 16
	if raced() {
		least, most = 1, 4
	}
	rapid.Check(t, func(t *rapid.T) {
		tr := newTrial(t)
		defer tr.close()
		for range rapid.IntRange(least, most).Draw(t, "steps") {
			tr.step()
		}
	})
}

// raced reports whether the race detector is built in, which makes a step ten
// times as slow and finds nothing in it: one goroutine does all.
func raced() bool {
	info, ok := debug.ReadBuildInfo()
	return ok && slices.Contains(info.Settings, debug.BuildSetting{Key: "-race", Value: "true"})
}

// trial is a wedding in a store of its own, and all that is known of it from
// outside.
type trial struct {
	*rapid.T
	dir      string
	store    *store.Store
	book     *book
	plan     *milestones.Plan // as it is stored
	versions []version
	now      time.Time
	base     string
	choices  map[string]feed.Reminders // by first key
	fresh    map[string][]display      // what is wanted, until something is edited or chosen
	phones   map[string]*phone
	feeds    map[string]store.Calendar
	at       map[string]int64  // the number of everybody's feed
	names    map[string]string // that everybody had last
	owners   map[string]string // of every UID
	spent    map[string]string // the tag of every key that a line has had
	tags     int
}

// version is a stored plan, and the book that it was written from.
type version struct {
	number int
	text   string
	book   *book
}

func newTrial(t *rapid.T) *trial {
	dir, err := os.MkdirTemp("", "banns-trial-")
	if err != nil {
		t.Fatal(err)
	}
	tr := &trial{T: t, dir: dir, book: newBook(), now: start, tags: 9, choices: map[string]feed.Reminders{},
		phones: map[string]*phone{}, feeds: map[string]store.Calendar{}, at: map[string]int64{}, names: map[string]string{}, owners: map[string]string{}, spent: map[string]string{}}
	tr.open()
	tr.save(tr.book, tr.book.text(false, 0))
	tr.published(nil)
	return tr
}

func (tr *trial) open() {
	s, err := store.Open(tr.Context(), tr.dir)
	if err != nil {
		tr.Fatal(err)
	}
	tr.store = s
}

func (tr *trial) close() {
	if err := errors.Join(tr.store.Close(), os.RemoveAll(tr.dir)); err != nil {
		tr.Fatal(err)
	}
}

// save imports text, which was written from b.
func (tr *trial) save(b *book, text string) {
	doc, err := store.ReadPlan("plan", []byte(text))
	if err != nil {
		tr.Fatalf("%v\n%s", err, text)
	}
	done, err := tr.store.Import(tr.Context(), store.Import{Document: doc, Name: "theirs", Over: true}, tr.now)
	if err != nil {
		tr.Fatalf("%v\n%s", err, text)
	}
	tr.saved(b, done)
}

// saved takes from the version that was stored what is not in b.
func (tr *trial) saved(b *book, done store.Imported) {
	tr.welcome(b, done.Newcomers)
	stored, err := tr.store.Load(tr.Context(), done.ID)
	if err != nil {
		tr.Fatal(err)
	}
	out, err := stored.Text()
	if err != nil {
		tr.Fatal(err)
	}
	tr.book, tr.plan, tr.fresh = b, stored.Plan, nil
	tr.learn()
	for i := range b.People {
		b.People[i].Was = stored.Plan.People[i].Was
		if id := stored.Plan.People[i].ID(); id != b.People[i].ID {
			tr.Fatalf("%s goes by %s in\n%s", b.People[i].ID, id, out)
		}
	}
	tr.versions = append(tr.versions, version{done.Version, string(out), b.copied()})
}

// welcome has people begin with nothing who come under the key of somebody of
// another name who had left.
func (tr *trial) welcome(b *book, newcomers []store.Newcomer) {
	said := map[string]bool{}
	for _, n := range newcomers {
		said[n.Key] = true
	}
	for _, p := range b.People {
		was, known := tr.names[p.ID]
		if fresh := known && was != p.Name && tr.book.person(p.ID) == nil; fresh != said[p.Key] {
			tr.Fatalf("%s, called %s and before that %s, is a newcomer: %v", p.ID, p.Name, was, said[p.Key])
		} else if fresh {
			delete(tr.phones, p.ID)
			delete(tr.feeds, p.ID)
			delete(tr.at, p.ID)
			delete(tr.choices, p.ID)
		}
		tr.names[p.ID] = p.Name
	}
}

// learn takes from the stored plan the keys of lines, and what has happened.
func (tr *trial) learn() {
	for i := range tr.book.Pacts {
		p := &tr.book.Pacts[i]
		a, _ := tr.plan.Agreement(p.Key)
		p.Standing = string(a.Standing)
		for _, stored := range a.Lines() {
			named := tag.FindString(stored.Says + " " + stored.What)
			n := slices.IndexFunc(p.Lines, func(l clause) bool { return l.Tag == named })
			id := p.Key + "/" + stored.Key
			switch l := &p.Lines[n]; {
			case l.Key != "" && l.Key != stored.Key:
				tr.Fatalf("the key of %s was %s and is %s", l.Tag, l.Key, stored.Key)
			case tr.spent[id] != "" && tr.spent[id] != l.Tag:
				tr.Fatalf("%s has the key %s of %s", l.Tag, id, tr.spent[id])
			default:
				l.Key, tr.spent[id] = stored.Key, l.Tag
				l.Done = !stored.Done.IsZero()
			}
		}
	}
}

// published holds the feeds to what they have to be once all was published.
// may is who can have noticed the step; nil: anybody.
func (tr *trial) published(may map[string]bool) {
	if tr.fresh == nil {
		tr.fresh = tr.wanted()
	}
	for _, id := range tr.everybody() {
		if tr.phones[id] == nil {
			tr.phones[id] = newPhone()
		}
		now := tr.now.UTC().Truncate(time.Second)
		want := tr.phones[id].turn(tr.fresh[id], now, now.In(detroit).Format("20060102"))
		was, is := tr.feeds[id], tr.calendar(id)
		got := tr.sound(id, is.Body)
		if fault := tr.phones[id].unlike(got, want); fault != "" {
			tr.Fatalf("on %s, for %s: %s", now, id, fault)
		}
		if !bytes.Contains(is.Body, []byte("\r\nX-WR-CALNAME:"+tr.book.Title+"\r\n")) {
			tr.Fatalf("the calendar of %s is not called %s:\n%s", id, tr.book.Title, is.Body)
		}
		if may != nil && !may[id] && !bytes.Equal(was.Body, is.Body) {
			tr.Fatalf("%s can tell:\n%s\nand then\n%s", id, was.Body, is.Body)
		}
		tr.revision(id, was, is, now)
		tr.feeds[id] = is
	}
	tr.ledger()
}

var detroit = func() *time.Location {
	loc, err := time.LoadLocation("America/Detroit")
	if err != nil {
		panic(err)
	}
	return loc
}()

// everybody is everybody who has ever been in the plan.
func (tr *trial) everybody() []string {
	all := map[string]bool{}
	for id := range tr.phones {
		all[id] = true
	}
	for _, p := range tr.book.People {
		all[p.ID] = true
	}
	return slices.Sorted(maps.Keys(all))
}

// wanted are the entries that everybody would have in a feed that begins now.
func (tr *trial) wanted() map[string][]display {
	closures, _ := conflicts.ClosuresFor(tr.plan.Wedding.Region)
	items := milestones.Schedule(tr.plan, closures)
	tokens, all := tr.tokens(), map[string][]display{}
	for i := range tr.book.People {
		who, link := &tr.book.People[i], ""
		if tr.base != "" {
			link = tr.base + "/p/" + tokens[who.Key]
		}
		choice := tr.choices[who.ID]
		if choice == "" {
			choice = feed.ByAlarm
		}
		entries := feed.Publishable(feed.View(tr.plan, items, who.Key), tr.plan.ID, who.ID, link, choice)
		wanted, err := eventsIn(feed.Encode(feed.Calendar{Published: entries}))
		if err != nil {
			tr.Fatal(err)
		}
		tr.audience(who, wanted)
		all[who.ID] = wanted
	}
	return all
}

// audience compares what who is to have with the table of who sees what.
func (tr *trial) audience(who *guest, wanted []display) {
	has, may := map[string]bool{}, map[string]bool{}
	for i := range wanted {
		has[tag.FindString(line(wanted[i].content, "SUMMARY"))] = true
	}
	for i := range tr.book.Pacts {
		p := &tr.book.Pacts[i]
		for n := range p.Lines {
			l := &p.Lines[n]
			dated := (tr.book.Date != "" || !strings.Contains(l.When, "wedding")) && (p.Standing != "quoted" || !strings.Contains(l.When, "signing"))
			may[l.Tag] = dated && tr.book.sees(who, p, l)
		}
	}
	for i := range tr.book.Meetings {
		m := &tr.book.Meetings[i]
		may[m.Tag] = (tr.book.Date != "" || !strings.Contains(m.When, "wedding")) && tr.book.meets(who, m)
	}
	for tag := range may {
		if may[tag] != has[tag] {
			tr.Fatalf("%s sees %s: %v, want %v", who.ID, tag, has[tag], may[tag])
		}
	}
	for tag := range has {
		if tag != "" && !may[tag] {
			tr.Fatalf("%s sees %s, which is not in the plan", who.ID, tag)
		}
	}
}

// sound are the entries of a calendar that has no fault.
func (tr *trial) sound(id string, body []byte) []display {
	if bytes.Equal(body, tr.feeds[id].Body) {
		all, _ := eventsIn(body) // it was sound a step ago
		return all
	}
	if faults := check.Calendar(body); len(faults) > 0 {
		tr.Fatalf("the feed of %s: %v\n%s", id, faults, body)
	}
	all, err := eventsIn(body)
	if err != nil {
		tr.Fatalf("the feed of %s: %v", id, err)
	}
	return all
}

// revision demands that a feed's revision tells of another calendar, and of
// nothing else.
func (tr *trial) revision(id string, was, is store.Calendar, now time.Time) {
	next := was
	if !bytes.Equal(was.Body, is.Body) {
		next.Revision, next.Changed = was.Revision+1, now
		if after := was.Changed.Add(time.Second); !was.Changed.IsZero() && now.Before(after) {
			next.Changed = after
		}
	}
	if is.Revision != next.Revision || !is.Changed.Equal(next.Changed) {
		tr.Fatalf("the feed of %s is at revision %d of %s, want %d of %s", id, is.Revision, is.Changed, next.Revision, next.Changed)
	}
}

// ledger demands a row for every entry that was ever shown, and that each
// belongs to one person.
func (tr *trial) ledger() {
	for id, p := range tr.phones {
		for uid := range p.known {
			if owner, ok := tr.owners[uid]; ok && owner != id {
				tr.Fatalf("%s and %s have the UID %s", owner, id, uid)
			}
			tr.owners[uid] = id
		}
	}
	rows, err := tr.store.DB().QueryContext(tr.Context(), "select uid from ledger")
	if err != nil {
		tr.Fatal(err)
	}
	defer rows.Close()
	kept := map[string]bool{}
	for rows.Next() {
		var uid string
		if err := rows.Scan(&uid); err != nil {
			tr.Fatal(err)
		}
		kept[uid] = true
	}
	for uid, id := range tr.owners {
		if !kept[uid] {
			tr.Fatalf("the ledger has lost %s of %s", uid, id)
		}
	}
}

// calendar is the feed of whoever had that key first.
func (tr *trial) calendar(id string) store.Calendar {
	if tr.at[id] == 0 {
		var n int64
		if err := tr.store.DB().QueryRowContext(tr.Context(), "select feed from carries where person = ?", id).Scan(&n); err != nil {
			tr.Fatalf("the feed of %s: %v", id, err)
		}
		tr.at[id] = n
	}
	c, err := tr.store.Calendar(tr.Context(), tr.at[id])
	if err != nil {
		tr.Fatal(err)
	}
	return c
}

// tokens are the addresses of everybody in the plan by key.
func (tr *trial) tokens() map[string]string {
	all, err := tr.store.Addresses(tr.Context(), tr.plan.ID)
	if err != nil {
		tr.Fatal(err)
	}
	found := map[string]string{}
	for _, a := range all {
		if !a.Left {
			found[a.Person] = a.Token
		}
	}
	return found
}
