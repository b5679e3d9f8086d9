package store

import (
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"
	"golang.org/x/text/unicode/norm"
)

// How much work a passphrase takes to try: argon2id with the second
// recommended choice of RFC 9106 section 4.
const (
	argonPasses = 3
	argonKiB    = 64 << 10
	argonLanes  = 4
	argonSalt   = 16
	argonKey    = 32
)

// The length of a passphrase in characters. Twelve is common practice; the
// most only keeps somebody from having a book hashed.
const (
	PassphraseLeast = 12
	PassphraseMost  = 256
)

// ErrPassphrase is a passphrase that is too short or too long to keep.
var ErrPassphrase = fmt.Errorf("a passphrase has from %d to %d characters", PassphraseLeast, PassphraseMost)

// hashing bounds how many passphrases are tried at once, and with them the
// memory that this takes.
var hashing = make(chan struct{}, 2)

func argon(passphrase string, salt []byte) []byte {
	hashing <- struct{}{}
	defer func() { <-hashing }()
	// The same characters may be typed as different bytes on two machines
	// (RFC 8265 4.2.1).
	text := norm.NFC.String(passphrase)
	return argon2.IDKey([]byte(text), salt, argonPasses, argonKiB, argonLanes, argonKey)
}

var phc = base64.RawStdEncoding

// seal is a passphrase as it is kept: a PHC string.
func seal(passphrase string) (string, error) {
	if n := utf8.RuneCountInString(passphrase); n < PassphraseLeast || n > PassphraseMost {
		return "", ErrPassphrase
	}
	salt := newID(argonSalt)
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, argonKiB, argonPasses, argonLanes,
		phc.EncodeToString(salt), phc.EncodeToString(argon(passphrase, salt))), nil
}

// sealed reports whether passphrase is the one that was kept. It takes as
// long for one that is not, and for none at all.
func sealed(kept, passphrase string) (bool, error) {
	if utf8.RuneCountInString(passphrase) > PassphraseMost {
		return false, nil
	}
	if kept == "" {
		argon(passphrase, make([]byte, argonSalt))
		return false, nil
	}
	var version, kib, passes, lanes int
	var rest string
	if _, err := fmt.Sscanf(kept, "$argon2id$v=%d$m=%d,t=%d,p=%d$%s", &version, &kib, &passes, &lanes, &rest); err != nil {
		return false, fmt.Errorf("read the kept passphrase: %w", err)
	}
	if version != argon2.Version || kib != argonKiB || passes != argonPasses || lanes != argonLanes {
		return false, errors.New("read the kept passphrase: it was made in a way that this program does not know")
	}
	salt, key, err := cutPHC(rest)
	if err != nil {
		return false, fmt.Errorf("read the kept passphrase: %w", err)
	}
	return subtle.ConstantTimeCompare(argon(passphrase, salt), key) == 1, nil
}

// cutPHC is the salt and the key at the end of a PHC string.
func cutPHC(s string) (salt, key []byte, err error) {
	before, after, _ := strings.Cut(s, "$")
	salt, err1 := phc.DecodeString(before)
	key, err2 := phc.DecodeString(after)
	return salt, key, errors.Join(err1, err2)
}
