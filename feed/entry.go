package feed

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"

	"banns/milestones"
)

// Of tells which of an item's entries an Entry is.
type Of string

// The entries of an item.
const (
	Itself Of = ""       // the thing itself
	Notice Of = "notice" // an early notice of it, some days before
)

// Entry is what one person sees of an Item. What they may not see is not in
// it, so nothing made of entries can give it away.
type Entry struct {
	UID       string          `json:"uid"`
	Of        Of              `json:"of,omitempty"`
	Wedding   string          `json:"wedding"` // its title
	HomeZone  string          `json:"home_zone"`
	ID        string          `json:"id"`
	Kind      milestones.Kind `json:"kind"`
	Agreement string          `json:"agreement,omitempty"`
	Term      string          `json:"term,omitempty"`
	Title     string          `json:"title"`
	// Among marks an entry that stands among those of other weddings: it says
	// which wedding it is of, and its hours say whose they are.
	Among  bool   `json:"among,omitempty"`
	With   string `json:"with,omitempty"`   // the vendor; for the vendor, the wedding
	Vendor bool   `json:"vendor,omitempty"` // worded for the vendor's side

	Date  milestones.Date   `json:"date"` // the contract's day; zero while undated
	Clock *milestones.Clock `json:"clock,omitempty"`
	Until *milestones.Clock `json:"until,omitempty"`
	Zone  string            `json:"zone,omitempty"` // of Clock
	ActBy milestones.Date   `json:"act_by"`
	Shut  string            `json:"shut,omitempty"`
	// Again marks a Clock in the second pass of an hour that is repeated. It
	// stands here and not in Clock, which is written as HH:MM.
	Again bool `json:"again,omitempty"`

	Place    milestones.Place    `json:"place"`
	For      string              `json:"for,omitempty"` // who is asked, where the reader is not
	Standing milestones.Standing `json:"standing,omitempty"`
	Owed     bool                `json:"owed,omitempty"`
	Done     milestones.Date     `json:"done"`
	WaitsFor string              `json:"waits_for,omitempty"`

	// What follows is empty for those who may not see the agreement's money.
	Currency  milestones.Currency `json:"currency,omitempty"`
	Amount    milestones.Amount   `json:"amount"`
	Later     milestones.Amount   `json:"later"`          // of a cancel-by: what leaving costs from the next day
	Saves     milestones.Amount   `json:"saves,omitzero"` // of a cancel-by: Later less Amount
	Rule      string              `json:"rule,omitempty"`
	Wording   string              `json:"wording,omitempty"`
	Note      string              `json:"note,omitempty"` // of an appointment or occasion: for all who see it
	Questions []string            `json:"questions,omitempty"`
	Payer     string              `json:"payer,omitempty"`   // who pays, by name
	Yours     bool                `json:"yours,omitempty"`   // it is the reader who pays
	Contact   string              `json:"contact,omitempty"` // whom to ask at the vendor

	// Of a milestone, for the couple and their planner alone: it names what
	// agreements say.
	LateBy *int            `json:"late_by,omitempty"`
	Slack  *int            `json:"slack,omitempty"` // days it can slip; nil where nothing says so
	Aim    *milestones.Aim `json:"aim,omitempty"`
}

// UID is the name of an entry for good: an opaque hash of the wedding, the
// item, the person and which of the item's entries it is, and of nothing
// that changes (RFC 5545 3.8.4.7; RFC 7986 5.3 wants no host in it).
func UID(wedding, item, person string, of Of) string {
	sum := sha256.Sum256([]byte(strings.Join([]string{"banns", wedding, item, person, string(of)}, "\x00")))
	return hex.EncodeToString(sum[:16])
}

// Day is the day on which the entry stands in a calendar: the last day to
// act, or the day itself.
func (e *Entry) Day() milestones.Date {
	day := e.Date
	if !e.ActBy.IsZero() {
		day = e.ActBy
	}
	if e.Of == Notice {
		day = day.AddDays(-noticeDays)
	}
	return day
}

// noticeDays is how many days before its day an early notice stands.
const noticeDays = 7

// SoonDays is how many days before its day what is to be done is due soon.
const SoonDays = 14

// Deadline reports whether the entry is something to be done by its day.
func (e *Entry) Deadline() bool {
	i := milestones.Item{Kind: e.Kind}
	return i.Deadline()
}

// Option reports whether the entry is the last day of something that nobody
// has to do: to cancel, or to ask for another date.
func (e *Entry) Option() bool {
	return e.Kind == milestones.KindCancelBy || e.Term == milestones.Postponing
}

// StateOn is how the entry stands on today.
func (e *Entry) StateOn(today milestones.Date) milestones.State {
	i := milestones.Item{Kind: e.Kind, Term: e.Term, Moment: milestones.Moment{Date: e.Date}, Done: e.Done, Standing: e.Standing, Owed: e.Owed}
	return milestones.StateOn(&i, today)
}

// notices are the early notices of those entries that are to be done.
func notices(entries []Entry, wedding, person string) []Entry {
	var all []Entry
	for _, e := range entries {
		if e.Deadline() && e.Done.IsZero() && !e.Date.IsZero() {
			e.Of, e.UID = Notice, UID(wedding, e.ID, person, Notice)
			all = append(all, e)
		}
	}
	return all
}
