package feed_test

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"banns/feed"
	"banns/milestones"
)

// phone is what a phone has seen of one entry, at the newest.
type phone struct {
	sequence int
	changed  time.Time
	hash     string
}

// history is a ledger with all that befalls it, and the phones that see it.
type history struct {
	t        *rapid.T
	now      time.Time
	ledger   []feed.Row
	restored time.Time
	titles   map[string]string
	phones   map[string]phone
}

func (h history) copy() history {
	c := h
	c.ledger = append([]feed.Row(nil), h.ledger...)
	c.titles = map[string]string{}
	for uid, title := range h.titles {
		c.titles[uid] = title
	}
	return c
}

func (h *history) publish(at time.Time) {
	var wanted []feed.Published
	for _, uid := range []string{"a", "b", "c"} {
		if title := h.titles[uid]; title != "" {
			wanted = append(wanted, due(uid, title, d(2030, 8, 19)))
		}
	}
	h.ledger = feed.Revise(h.ledger, wanted, at, milestones.DateOf(at), h.restored)
}

// look has every phone see what is published: what is other than before must
// be newer by both stamps.
func (h *history) look() {
	for _, r := range h.ledger {
		if r.Gone {
			continue
		}
		seen, ok := h.phones[r.UID]
		if ok && seen.hash != r.Hash && (r.Sequence <= seen.sequence || !r.Changed.After(seen.changed)) {
			h.t.Fatalf("%s: a phone has %d of %s, and is sent other words as %d of %s",
				r.UID, seen.sequence, seen.changed, r.Sequence, r.Changed)
		}
		if ok && (r.Sequence < seen.sequence || r.Changed.Before(seen.changed)) {
			h.t.Fatalf("%s went back from %d of %s to %d of %s", r.UID, seen.sequence, seen.changed, r.Sequence, r.Changed)
		}
		if r.Sequence > feed.Bound(r.Changed)+1 {
			h.t.Fatalf("%s: sequence %d has overtaken its stamp %s", r.UID, r.Sequence, r.Changed)
		}
		h.phones[r.UID] = phone{r.Sequence, r.Changed, r.Hash}
	}
}

// TestNoPhoneIsAhead plays edits, backups and restores in any order: with the
// store that was there at hand or without it, of the newest backup or of an
// old one, again and again.
func TestNoPhoneIsAhead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := &history{t: t, now: stamp, titles: map[string]string{"a": "one"}, phones: map[string]phone{}}
		backups := []history{}
		h.publish(h.now)
		for n := range rapid.IntRange(1, 40).Draw(t, "steps") {
			h.now = h.now.Add(time.Duration(rapid.IntRange(1, 5).Draw(t, "seconds")) * time.Second)
			switch what := rapid.SampledFrom([]string{"edit", "edit", "edit", "withdraw", "wait", "back up", "restore", "restore blindly"}).Draw(t, "what"); what {
			case "edit":
				h.titles[rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "uid")] = fmt.Sprint("words ", n)
				h.publish(h.now)
			case "withdraw":
				delete(h.titles, rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "uid"))
				h.publish(h.now)
			case "wait":
				h.now = h.now.AddDate(0, 0, 61)
				h.publish(h.now)
			case "back up":
				backups = append(backups, h.copy())
			default:
				if len(backups) == 0 {
					continue
				}
				b := rapid.SampledFrom(backups).Draw(t, "backup").copy()
				h.now = h.now.Add(3 * time.Second) // a restore restamps twice
				at := h.now.Add(time.Second)
				var seen []feed.Row
				if what == "restore" {
					seen = h.ledger
				}
				h.ledger, h.titles, h.restored = feed.Raise(b.ledger, seen, at), b.titles, at
				h.publish(at)
			}
			h.look()
		}
	})
}

// TestRaise: what was published last stands, and what only the other ledger
// has is kept, to be withdrawn.
func TestRaise(t *testing.T) {
	backup := revise(nil, stamp, due("a", "Floor plan", d(2027, 8, 19)), due("b", "Menu", d(2027, 8, 20)))
	seen := revise(backup, stamp.Add(time.Hour), due("a", "Floor plan", d(2027, 8, 19)), due("b", "Other menu", d(2027, 8, 20)), due("c", "Music", d(2027, 8, 21)))
	at := stamp.Add(48 * time.Hour)
	rows := feed.Raise(backup, seen, at)
	for uid, title := range map[string]string{"a": "Floor plan", "b": "Other menu", "c": "Music"} {
		if r := rowOf(t, rows, uid); r.Title != title || r.Sequence != feed.Bound(at) || !r.Changed.Equal(at) {
			t.Errorf("%s is %q, %d of %s", uid, r.Title, r.Sequence, r.Changed)
		}
	}
	next := feed.Revise(rows, []feed.Published{backup[0].Published, backup[1].Published}, at, milestones.DateOf(at), at)
	if a, b, c := rowOf(t, next, "a"), rowOf(t, next, "b"), rowOf(t, next, "c"); a.Sequence != feed.Bound(at) || b.Sequence != a.Sequence+1 || !c.Withdrawn {
		t.Errorf("then a is %d, b %d, and c withdrawn: %v", a.Sequence, b.Sequence, c.Withdrawn)
	}
}
