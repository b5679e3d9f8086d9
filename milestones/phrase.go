package milestones

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// word is one word of a phrase: folded for reading, and as it was written.
type word struct {
	text string // lower case, without commas and brackets around it
	as   string
	from int // where it starts in the phrase, in bytes
}

// phraseMost is the longest phrase that is read, in bytes.
const phraseMost = 500

var straight = strings.NewReplacer("’", "'", "‘", "'")

// split takes a phrase apart. A bracket that repeats a number, as in "thirty
// (30) days", and quotation marks are dropped.
func split(says string) []word {
	var words []word
	start := 0
	for as := range strings.FieldsSeq(says) {
		start += strings.Index(says[start:], as)
		text := strings.ToLower(strings.Trim(as, `,;."“”`))
		if text = straight.Replace(text); text != "" {
			words = append(words, word{text, as, start})
		}
		start += len(as)
	}
	return withoutEchoes(words)
}

// misread is where a phrase stopped making sense, and what could have stood
// there.
type misread struct {
	at   int // index of the word; past the last where something is missing
	want []string
	says string // a plainer reason, where there is one
	name string // one that is not known here; a try that begins with a count outranks it
	in   []scope
}

// cursor walks over words and remembers the furthest point at which a
// reading failed, which is where an error points.
type cursor struct {
	words []word
	at    int
	base  int // index of words[0] in the whole phrase
	far   *misread
}

func newCursor(says string) *cursor { return &cursor{words: split(says), far: &misread{at: -1}} }

// part is a cursor over words[from:to] that shares the furthest failure.
func (c *cursor) part(from, to int) *cursor {
	return &cursor{words: c.words[from:to], base: c.base + from, far: c.far}
}

func (c *cursor) done() bool { return c.at >= len(c.words) }

func (c *cursor) peek() string {
	if c.done() {
		return ""
	}
	return c.words[c.at].text
}

// fail notes that one of want should have stood at the cursor.
func (c *cursor) fail(want ...string) bool {
	switch at := c.base + c.at; {
	case at > c.far.at:
		*c.far = misread{at: at, want: want}
	case at == c.far.at && c.far.says == "":
		c.far.want = append(c.far.want, want...)
	}
	return false
}

// refuse notes a plain reason at the cursor; it outranks a mere list.
func (c *cursor) refuse(format string, args ...any) bool {
	if at := c.base + c.at; at >= c.far.at {
		*c.far = misread{at: at, says: fmt.Sprintf(format, args...)}
	}
	return false
}

// refused reports whether what stands at the cursor was refused for a plain
// reason, so that it makes no sense in any other reading.
func (c *cursor) refused() bool { return c.far.at == c.base+c.at && c.far.says != "" }

// take steps over the words of one of the options, each a run of words, and
// returns it; options are tried in order, so the longer stands first.
func (c *cursor) take(options ...string) string {
	for _, option := range options {
		if n, all := c.shared(option); all {
			c.at += n
			return option
		}
	}
	return ""
}

// shared is how many words of a run stand at the cursor, and whether all do.
func (c *cursor) shared(run string) (n int, all bool) {
	for more := true; more; n++ {
		var word string
		word, run, more = strings.Cut(run, " ")
		if c.at+n >= len(c.words) || c.words[c.at+n].text != word {
			return n, false
		}
	}
	return n, true
}

// need is take, and a failure where none of the options stands, at the first
// word that the nearest of them does not share.
func (c *cursor) need(options ...string) string {
	if found := c.take(options...); found != "" {
		return found
	}
	shared, want := 0, []string(nil)
	for _, option := range options {
		n, _ := c.shared(option)
		if n > shared {
			shared, want = n, nil
		}
		if n == shared {
			want = append(want, strings.Join(strings.Fields(option)[n:], " "))
		}
	}
	c.at += shared
	c.fail(want...)
	c.at -= shared
	return ""
}

// idle are words that carry nothing at the beginning of a name or a sum.
var idle = []string{"the", "a", "an", "of", "and"}

// noise steps over words that carry nothing.
func (c *cursor) noise() {
	for c.take(idle...) != "" {
	}
}

// end reports whether all is read, and notes a failure where it is not.
func (c *cursor) end() bool {
	if c.done() {
		return true
	}
	return c.fail()
}

// text is the phrase from word i on, as written.
func (c *cursor) text(says string, from, to int) string {
	if from >= to {
		return ""
	}
	last := c.words[to-1]
	return strings.TrimRight(says[c.words[from].from:last.from+len(last.as)], " ,;")
}

// fault puts the furthest failure into words that point at the word.
func (c *cursor) fault(path, says string) Fault {
	reason, mend := c.reason(says)
	switch word, ok := c.pointed(says); {
	case strings.TrimSpace(says) == "":
	case !ok:
		reason = fmt.Sprintf("%q %s", says, reason)
	case c.far.says != "":
		reason = fmt.Sprintf("%q: at %q, %s", says, word.as, reason)
	default:
		reason = fmt.Sprintf("%q: %s", says, reason)
	}
	return Fault{path, reason, mend}
}

// pointed is the word at which the reading failed; there is none where the
// phrase stops too early.
func (c *cursor) pointed(says string) (word, bool) {
	words := split(says)
	if c.far.at < 0 || c.far.at >= len(words) {
		return word{}, false
	}
	return words[c.far.at], true
}

// reason is why the reading failed, and how to mend it, beside the phrase.
func (c *cursor) reason(says string) (reason, mend string) {
	word, ok := c.pointed(says)
	switch {
	case strings.TrimSpace(says) == "":
		reason = "there is nothing here"
	case !ok:
		reason = "stops too early"
	case c.far.says != "":
		reason, mend = c.far.says, c.far.nearestName()
	default:
		reason = fmt.Sprintf("%q is not understood here", word.as)
		mend = Nearest(word.text, without(word.text, withFirstWords(c.far.want)))
		if len(c.far.want) == 0 {
			mend = "all before it was understood; leave it out, or keep it as a note"
		}
	}
	if mend == "" {
		mend = expected(c.far.want)
	}
	return reason, mend
}

// without is want without the word itself, which is no hint.
func without(word string, want []string) []string {
	return slices.DeleteFunc(slices.Clone(want), func(w string) bool { return w == word })
}

// nearestName is a hint at what could have been meant by a name.
func (m misread) nearestName() string {
	if m.name == "" {
		return ""
	}
	var known []string
	for _, s := range m.in {
		known = append(known, slices.Sorted(maps.Keys(s))...)
	}
	return Nearest(name(m.name), known)
}

// withFirstWords adds "business" to "business days", and "deposit" to "the
// deposit".
func withFirstWords(want []string) []string {
	all := want
	for _, w := range want {
		if first, _, cut := strings.Cut(w, " "); cut {
			all = append(all[:len(all):len(all)], first, name(w))
		}
	}
	return all
}

func expected(want []string) string {
	var quoted []string
	seen := map[string]bool{}
	for _, w := range want {
		if !seen[w] && len(quoted) < 6 {
			seen[w] = true
			quoted = append(quoted, `"`+w+`"`)
		}
	}
	if len(quoted) == 0 {
		return ""
	}
	return "expected " + strings.Join(quoted, " or ")
}
