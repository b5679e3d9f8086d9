package feed

import "time"

// era is earlier than the first calendar that this program published.
var era = time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC)

// Bound is above the sequence of every entry whose stamp is before t: the
// seconds from era to t. An entry begins at 0, or after a restore at the
// Bound of its own stamp, and each change takes its sequence up by one and
// its stamp on by a second or more, so no sequence overtakes its stamp. It
// stays below what clients can count to (RFC 5545 3.3.8: 31 bits) until 2094.
func Bound(t time.Time) int {
	return max(0, int(t.Sub(era)/time.Second))
}

// Raise is a ledger that came out of a backup, as it has to go on: every row
// counts as newer than whatever a phone holds of it, published before or
// after the backup was made. seen is the ledger that it takes the place of,
// where there is one: what was published last stands, and what only seen has
// is kept, so that Revise withdraws it.
//
// at must be later than every stamp that phones may have seen. It then is the
// stamp of every row, and its Bound the sequence.
func Raise(ledger, seen []Row, at time.Time) []Row {
	at = at.UTC().Truncate(time.Second)
	rows := append([]Row(nil), ledger...)
	place := make(map[string]int, len(rows))
	for i := range rows {
		place[rows[i].UID] = i
	}
	for _, s := range seen {
		i, ok := place[s.UID]
		if !ok {
			rows = append(rows, s)
			continue
		}
		sequence := max(rows[i].Sequence, s.Sequence)
		if s.Changed.After(rows[i].Changed) {
			rows[i] = s
		}
		rows[i].Sequence = sequence
	}
	for i := range rows {
		rows[i].bump(at)
		rows[i].Sequence = max(rows[i].Sequence, Bound(at))
	}
	return rows
}
