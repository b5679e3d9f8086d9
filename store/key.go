package store

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

const (
	keySize = 32
	idSize  = 9  // names an address in the database
	macSize = 16 // 128 bits that only the key file gives
)

// loadKey reads the key file, or makes it for a fresh store. A key that is
// missing beside an old database is never made anew: every address would
// change without a word.
func loadKey(path string, fresh bool) ([]byte, error) {
	key, err := os.ReadFile(path)
	switch {
	case err == nil && len(key) == keySize:
		return key, nil
	case err == nil:
		return nil, fmt.Errorf("%s is not a key file of this program: bring back the one from your backup", path)
	case !errors.Is(err, fs.ErrNotExist):
		return nil, err
	case !fresh:
		return nil, fmt.Errorf("%s is missing: it signs the addresses of the feeds; bring it back from your backup", path)
	}
	return newKey(path)
}

// newKey makes the key file, and has it on the disk before anything that it
// signs. It is written under another name first: whenever the program is
// killed, the key file is whole or not there.
func newKey(path string) ([]byte, error) {
	f, err := os.CreateTemp(filepath.Dir(path), "banns.key.*") // with rights 0600
	if err != nil {
		return nil, err
	}
	defer os.Remove(f.Name())
	key := newID(keySize)
	_, err = f.Write(key)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return nil, err
	}
	switch err := os.Link(f.Name(), path); {
	case errors.Is(err, fs.ErrExist): // another process was quicker
		return loadKey(path, false)
	case err != nil: // some file systems know no links
		return key, os.Rename(f.Name(), path)
	}
	return key, nil
}

// tokenForm is lower-case base32 (RFC 4648) without padding: it survives
// being read out, and no mail program breaks it.
var tokenForm = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// TokenSize is the length of a token in letters.
const TokenSize = (idSize + macSize) * 8 / 5

// kind is what an address opens: one that is signed for a kind is none of
// another.
type kind string

const (
	feedKind   kind = "" // a feed's own, whose ids are signed as they are
	sharedKind kind = "shared\x00"
	printKind  kind = "print\x00" // of prints, whose ids are longer
)

// token is the secret of a feed's address with that id.
func (s *Store) token(id []byte) string { return s.signed(feedKind, id) }

// signed is the secret of the address of a kind with that id: the id, and its
// HMAC under the key file (RFC 2104).
func (s *Store) signed(k kind, id []byte) string {
	return tokenForm.EncodeToString(append(append(make([]byte, 0, idSize+macSize), id...), s.mac(append([]byte(k), id...))...))
}

func (s *Store) mac(id []byte) []byte {
	h := hmac.New(sha256.New, s.key)
	h.Write([]byte("banns address 1\x00"))
	h.Write(id)
	return h.Sum(nil)[:macSize]
}

// open is the id that a token of a kind names, where the token is genuine. Its
// length is checked apart: the decoder lets a letter too many pass, and line
// ends.
func (s *Store) open(k kind, token string) (id []byte, ok bool) {
	raw, err := tokenForm.DecodeString(token)
	if err != nil || len(token) != TokenSize || len(raw) != idSize+macSize {
		return nil, false
	}
	return raw[:idSize], hmac.Equal(raw[idSize:], s.mac(append([]byte(k), raw[:idSize]...)))
}

// newID is a random id of size bytes.
func newID(size int) []byte {
	id := make([]byte, size)
	rand.Read(id) // never fails
	return id
}

// Genuine reports whether the key file of s signed token, whatever it opens.
func (s *Store) Genuine(token string) bool {
	_, ok := s.open(feedKind, token)
	return ok
}
