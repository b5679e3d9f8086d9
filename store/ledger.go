package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"

	"banns/feed"
)

// ledger is what the ledger has of one part of a feed.
type ledger struct {
	part
	rows    []feed.Row
	entries []string // the published entries of rows as they are kept, JSON
	changed bool     // since it was read
}

func ledgerOf(ctx context.Context, q querier, at part) (ledger, error) {
	l := ledger{part: at}
	rows, err := q.QueryContext(ctx, `select hash, went, gone, entry from ledger
		where feed = ? and wedding = ? and person = ? order by place`, at.feed, at.Wedding, at.Person)
	if err != nil {
		return l, err
	}
	defer rows.Close()
	for rows.Next() {
		var row feed.Row
		var went, entry string
		if err := rows.Scan(&row.Hash, &went, &row.Gone, &entry); err != nil {
			return l, err
		}
		since, err := unstamp(went)
		if err := errors.Join(err, json.Unmarshal([]byte(entry), &row.Published)); err != nil {
			return l, err
		}
		row.Went = since
		l.rows, l.entries = append(l.rows, row), append(l.entries, entry)
	}
	return l, rows.Err()
}

// turn is l turned into rows. Only what differs is written.
func (l ledger) turn(ctx context.Context, tx *sql.Tx, rows []feed.Row) (ledger, error) {
	had := make(map[string]int, len(l.rows))
	for place, row := range l.rows {
		had[row.UID] = place
	}
	next := ledger{part: l.part, rows: rows, changed: len(rows) != len(l.rows)}
	for place, row := range rows {
		entry, err := json.Marshal(row.Published)
		if err != nil {
			return next, err
		}
		next.entries = append(next.entries, string(entry))
		if was, ok := had[row.UID]; ok && was == place && l.entries[was] == string(entry) && sameState(l.rows[was], row) {
			continue
		}
		next.changed = true
		if _, err := tx.ExecContext(ctx, "insert or replace into ledger values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
			l.feed, row.UID, l.Wedding, l.Person, row.Sequence, stamp(row.Changed),
			row.Hash, stamp(row.Went), row.Gone, place, string(entry)); err != nil {
			return next, err
		}
	}
	return next, nil
}

// sameState compares what the ledger keeps of two rows beside the entry.
func sameState(a, b feed.Row) bool {
	return a.Hash == b.Hash && a.Went.Equal(b.Went) && a.Gone == b.Gone
}
