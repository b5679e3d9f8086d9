package desk

import "banns/feed"

// A print hangs where everybody reads it. So it leaves out whatever is hidden
// from anybody, unless whoever prints it asks for all of it. Nothing on it tells
// that something was left out.

// secret reports whether an entry is hidden from anybody.
func (s *sight) secret(e *feed.Entry) bool { return len(s.item(e.ID).Hide) > 0 }

// leftOut are entries without those that are hidden from anybody, how many
// those are, and from whom.
func (s *sight) leftOut(entries []feed.Entry) (shown []feed.Entry, n int, from string) {
	var names []string
	for i := range entries {
		if s.secret(&entries[i]) {
			n++
			names = append(names, s.item(entries[i].ID).Hide...)
		} else {
			shown = append(shown, entries[i])
		}
	}
	return shown, n, s.hiddenWords(names)
}
