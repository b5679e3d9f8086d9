package store

import (
	"context"
	"crypto/hmac"
	"database/sql"
	"encoding/binary"
	"errors"
	"slices"
	"time"

	"banns/milestones"
)

// Print is one sheet as it was printed: which, as whose eyes see it, and of
// which version.
type Print struct {
	Wedding string    // its lasting id
	Person  string    // the lasting id of whoever sees it so; empty: nothing is hidden
	Month   string    // that it shows, as 2027-08; empty: it shows the people
	All     bool      // what is hidden from anybody is on it too
	Version int       // of the plan
	Saved   time.Time // when that version was: a store that is brought back counts anew
}

// What the token of a print holds: a mark of its wedding and one of its
// person, so that paper tells neither, and then three numbers.
const (
	weddingMark = 6
	personMark  = 4
	printSize   = weddingMark + personMark + 3*4
)

// PrintToken is the secret of the address that says whether a print still
// holds. Nothing is kept of it: a page that is looked at writes nothing.
func (s *Store) PrintToken(ctx context.Context, p Print) (string, error) {
	saved, _, err := s.printed(ctx, p)
	if err != nil {
		return "", err
	}
	month := 0
	if at, err := time.Parse("2006-01", p.Month); err == nil {
		month = at.Year()*12 + int(at.Month())
	}
	sheet := 2 * month
	if p.All {
		sheet++
	}
	raw := slices.Concat(s.weddingMark(p.Wedding), s.personMark(p.Wedding, p.Person))
	for _, n := range []int64{int64(p.Version), saved.Unix(), int64(sheet)} {
		raw = binary.BigEndian.AppendUint32(raw, uint32(n))
	}
	return tokenForm.EncodeToString(append(raw, s.printMac(raw)...)), nil
}

// Printed is what a token is of, and the plan as it was then: nil where that
// version is not there any more, or cannot be read. ErrUnknown where the token
// is not genuine, or its wedding is gone.
func (s *Store) Printed(ctx context.Context, token string) (Print, *Document, error) {
	raw, ok := s.openPrint(token)
	if !ok {
		return Print{}, nil, ErrUnknown
	}
	all, err := s.Weddings(ctx)
	if err != nil {
		return Print{}, nil, err
	}
	n := slices.IndexFunc(all, func(w Wedding) bool { return hmac.Equal(s.weddingMark(w.ID), raw[:weddingMark]) })
	if n < 0 {
		return Print{}, nil, ErrUnknown
	}
	number := func(n int) int { return int(binary.BigEndian.Uint32(raw[weddingMark+personMark+4*n:])) }
	p := Print{Wedding: all[n].ID, Version: number(0), Saved: time.Unix(int64(number(1)), 0), All: number(2)%2 == 1}
	if month := number(2) / 2; month > 0 {
		p.Month = time.Date(0, time.Month(month), 1, 0, 0, 0, 0, time.UTC).Format("2006-01")
	}
	saved, packed, err := s.printed(ctx, p)
	switch {
	case errors.Is(err, ErrUnknown), err == nil && saved.Unix() != p.Saved.Unix():
		return p, nil, nil
	case err != nil:
		return p, nil, err
	}
	was, err := unpacked(all[n], p.Version, packed)
	var faults Faults
	switch {
	case errors.As(err, &faults):
		return p, nil, nil
	case err != nil:
		return p, nil, err
	}
	if p.Person, ok = s.marked(was.Plan, p.Wedding, raw[weddingMark:][:personMark]); !ok {
		return p, nil, nil
	}
	return p, was, nil
}

// marked is the person of a plan that a mark stands for, or nobody.
func (s *Store) marked(in *milestones.Plan, wedding string, mark []byte) (id string, ok bool) {
	for _, who := range in.People {
		if hmac.Equal(s.personMark(wedding, who.ID()), mark) {
			return who.ID(), true
		}
	}
	return "", hmac.Equal(s.personMark(wedding, ""), mark)
}

// openPrint is what a token of a print holds, where it is genuine.
func (s *Store) openPrint(token string) (raw []byte, ok bool) {
	raw, err := tokenForm.DecodeString(token)
	if err != nil || len(raw) != printSize+macSize || tokenForm.EncodeToString(raw) != token {
		return nil, false
	}
	return raw[:printSize], hmac.Equal(raw[printSize:], s.printMac(raw[:printSize]))
}

func (s *Store) printMac(raw []byte) []byte { return s.mac(append([]byte(printKind), raw...)) }

// weddingMark and personMark stand for ids that only the key file tells.
func (s *Store) weddingMark(id string) []byte {
	return s.mac([]byte(string(printKind) + "wedding\x00" + id))[:weddingMark]
}

func (s *Store) personMark(wedding, id string) []byte {
	return s.mac([]byte(string(printKind) + "person\x00" + wedding + "\x00" + id))[:personMark]
}

// printed is when the version of a print was saved, and its document as it is
// kept.
func (s *Store) printed(ctx context.Context, p Print) (saved time.Time, packed []byte, err error) {
	var at string
	err = s.db.QueryRowContext(ctx, "select saved_at, document from version where wedding = ? and n = ?", p.Wedding, p.Version).Scan(&at, &packed)
	if errors.Is(err, sql.ErrNoRows) {
		return saved, nil, ErrUnknown
	} else if err != nil {
		return saved, nil, err
	}
	saved, err = unstamp(at)
	return saved, packed, err
}
