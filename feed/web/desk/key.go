package desk

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// plainKey is a name as a key: small letters without their accents, digits,
// and hyphens between. It is empty where nothing of the name is left.
func plainKey(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(norm.NFD.String(name)) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case unicode.Is(unicode.Mn, r): // an accent
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-")
}
