package feed

import (
	"crypto/sha256"
	"encoding/hex"
	"time"

	ics "github.com/arran4/golang-ical"

	"banns/milestones"
)

// WithdrawnFor is how long an entry that went is shown as withdrawn: some
// clients look again only after weeks.
const WithdrawnFor = 60 * 24 * time.Hour

// Row is what the ledger keeps of one entry: as it was last published, for
// good. Rows are never deleted, so what comes back goes on from where it was.
type Row struct {
	Published
	Hash string    // of what is rendered, but for the stamps
	Went time.Time // when it went, by its stamp, or zero while it is there
	Gone bool      // it went, and is no longer shown
}

// Revise brings the ledger of one person in one feed up to what should be
// published of them there now. It returns every row, in the order of wanted,
// withdrawn ones last. A row whose hash is the same keeps its stamps; one that
// changed has the next sequence and a later stamp than before, even where the
// clock was set back. What is new begins past whatever was published of it
// before restored, when a backup last took the ledger's place; zero: never.
func Revise(ledger []Row, wanted []Published, now time.Time, today milestones.Date, restored time.Time) []Row {
	now = now.UTC().Truncate(time.Second)
	old := make(map[string]*Row, len(ledger))
	for i := range ledger {
		old[ledger[i].UID] = &ledger[i]
	}
	rows := make([]Row, 0, len(ledger))
	for _, p := range wanted {
		if p.Date.IsZero() {
			continue // what has no day is on no feed
		}
		row := Row{Published: p, Hash: p.hash()}
		if was, ok := old[p.UID]; ok {
			row.Sequence, row.Changed = was.Sequence, was.Changed
			if was.Hash != row.Hash {
				row.bump(now)
			}
			delete(old, p.UID)
		} else {
			row.Sequence, row.Changed = Bound(restored), latest(now, restored)
		}
		rows = append(rows, row)
	}
	for i := range ledger {
		if was := &ledger[i]; old[was.UID] != nil {
			rows = append(rows, was.withdraw(now, today))
		}
	}
	return rows
}

func (r *Row) bump(now time.Time) {
	r.Sequence++
	r.Changed = latest(now, r.Changed.Add(time.Second))
}

func latest(a, b time.Time) time.Time {
	if a.Before(b) {
		return b
	}
	return a
}

// withdraw is the row of an entry that is no longer wanted. What was still
// to come is shown as withdrawn for a while; what was over goes without a
// word.
func (r Row) withdraw(now time.Time, today milestones.Date) Row {
	switch {
	case r.Gone:
		return r
	case !r.Went.IsZero() && now.Sub(r.Went) >= WithdrawnFor:
		r.Gone = true
		return r
	case r.Went.IsZero() && r.Day().Before(today):
		r.Went, r.Gone = now, true
		return r
	}
	r.Withdrawn = true
	if hash := r.hash(); hash != r.Hash {
		r.Hash = hash
		r.bump(now)
	}
	if r.Went.IsZero() {
		r.Went = r.Changed // not now: by a clock set back, it would be over too soon
	}
	return r
}

// hash tells whether what clients see of p has changed: it covers all that
// is rendered but SEQUENCE, DTSTAMP and LAST-MODIFIED.
func (p Published) hash() string {
	p.Sequence, p.Changed = 0, time.Time{}
	event := p.event(zoneSpans{})
	sum := sha256.Sum256([]byte(event.Serialize(&ics.SerializationConfiguration{
		MaxLength: 75, PropertyMaxLength: 75, NewLine: string(ics.WithNewLineWindows)})))
	return hex.EncodeToString(sum[:16])
}

// Shown are the entries of rows that a feed carries: all that are there, and
// for a while what went.
func Shown(rows []Row) []Published {
	var all []Published
	for _, r := range rows {
		if !r.Gone {
			all = append(all, r.Published)
		}
	}
	return all
}

// Publishable are the entries of one person as they should be published:
// with the link to their page, and reminders as they chose.
func Publishable(entries []Entry, wedding, person, link string, r Reminders) []Published {
	if r.Notices() {
		entries = append(entries, notices(entries, wedding, person)...)
	}
	var all []Published
	for _, e := range entries {
		all = append(all, Published{Entry: e, Link: link, Alarm: r.Alarms()})
	}
	return all
}
