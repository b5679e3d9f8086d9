package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"

	"banns/feed"
	"banns/milestones"
)

// Turned is an entry that its reader came to see otherwise.
type Turned struct {
	Wedding string          // its title
	Day     milestones.Date // at the wedding
	feed.Turn
}

// note keeps what the reader of a feed sees otherwise than before, of each entry one
// turn a day: what changed and changed back is nothing to tell, unless a
// calendar asked for the feed in between. Of what they may no longer see,
// nothing earlier is told either.
func note(ctx context.Context, tx *sql.Tx, at part, turns []feed.Turn, when string, day milestones.Date) error {
	for _, t := range turns {
		if t.Less {
			if _, err := tx.ExecContext(ctx, "delete from change where feed = ? and wedding = ? and person = ? and uid = ?", at.feed, at.Wedding, at.Person, t.UID); err != nil {
				return err
			}
		} else {
			had, err := turnsOf(ctx, tx, at, "and day = ? and uid = ? and at >= coalesce((select a.at from asked a where a.feed = change.feed), '')", day.String(), t.UID)
			if err != nil {
				return err
			}
			for _, earlier := range had {
				t = earlier.Then(t)
			}
		}
		if err := noteOne(ctx, tx, at, t, when, day); err != nil {
			return err
		}
	}
	// Their pages tell of so many days and no more, which bounds the table:
	// a row an entry and day.
	_, err := tx.ExecContext(ctx, "delete from change where feed = ? and wedding = ? and person = ? and day < ?",
		at.feed, at.Wedding, at.Person, day.AddDays(-feed.LatelyDays).String())
	return err
}

func noteOne(ctx context.Context, tx *sql.Tx, at part, t feed.Turn, when string, day milestones.Date) error {
	if len(t.Changes()) == 0 {
		_, err := tx.ExecContext(ctx, "delete from change where feed = ? and wedding = ? and person = ? and day = ? and uid = ?",
			at.feed, at.Wedding, at.Person, day.String(), t.UID)
		return err
	}
	before, err := asText(t.Before)
	if err != nil {
		return err
	}
	after, err := asText(t.After)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "insert or replace into change values (?, ?, ?, ?, ?, ?, ?, ?)",
		at.feed, at.Wedding, at.Person, day.String(), t.UID, when, before, after)
	return err
}

func asText(p *feed.Published) (string, error) {
	if p == nil {
		return "", nil
	}
	bare := *p
	bare.Link = "" // it opens the page, and nobody asks for it here
	text, err := json.Marshal(bare)
	return string(text), err
}

func asPublished(text string) (*feed.Published, error) {
	if text == "" {
		return nil, nil
	}
	p := &feed.Published{}
	return p, json.Unmarshal([]byte(text), p)
}

// turnsOf are what is kept of one part of a feed, the newest day first, narrowed by
// more conditions.
func turnsOf(ctx context.Context, q querier, at part, more string, args ...any) ([]Turned, error) {
	rows, err := q.QueryContext(ctx, "select day, uid, before, after from change where feed = ? and wedding = ? and person = ? "+more+
		" order by day desc, at, uid", append([]any{at.feed, at.Wedding, at.Person}, args...)...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Turned
	for rows.Next() {
		var t Turned
		var day, before, after string
		if err := rows.Scan(&day, &t.UID, &before, &after); err != nil {
			return nil, err
		}
		var err1, err2, err3 error
		t.Day, err1 = milestones.ParseDate(day)
		t.Before, err2 = asPublished(before)
		t.After, err3 = asPublished(after)
		if err := errors.Join(err1, err2, err3); err != nil {
			return nil, err
		}
		all = append(all, t)
	}
	return all, rows.Err()
}
