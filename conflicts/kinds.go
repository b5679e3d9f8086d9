package conflicts

import (
	"slices"
	"strings"
	"unicode"
)

// kindWords are the words by which an event's kind is guessed, where its
// source does not say. The first line with a word that is there wins. Words
// stand alone, or with an s.
var kindWords = []struct {
	kind  Kind
	words string // separated by commas
}{
	{Works, "road closure, street closure, closure, closed, roadworks, road works, works, construction, detour, resurfacing, bridge repair"},
	{Graduation, "graduation, commencement, convocation"},
	{Race, "marathon, half-marathon, ultramarathon, triathlon, duathlon, 5k, 10k, fun run, road race, bike race, criterium, race, regatta, cycling tour, bike tour"},
	{Parade, "parade, procession, cavalcade, march"},
	{Holiday, "public holiday, bank holiday, federal holiday"},
	{Congress, "congress, congresse, conference, convention, expo, exposition, trade fair, trade show, book fair, job fair, career fair, summit, symposium"},
	{Festival, "festival, fest, carnival, fair, fireworks, street party, block party, music week"},
	{Match, "match, matche, game, home game, vs, football, soccer, baseball, basketball, hockey, rugby, cricket, lacrosse, derby, playoff, tournament, championship"},
	{Concert, "concert, recital, symphony, orchestra, philharmonic, gig, open air, live in concert"},
}

// phrases are kindWords as wordsOf has them.
var phrases = func() (all []phrase) {
	for _, row := range kindWords {
		for words := range strings.SplitSeq(row.words, ", ") {
			one := wordsOf(words)
			all = append(all, phrase{row.kind, one, strings.TrimSuffix(one, " ") + "s "})
		}
	}
	return all
}()

type phrase struct {
	kind      Kind
	one, many string
}

var allKinds = []Kind{Holiday, Observance, Match, Festival, Race, Parade, Concert, Graduation, Congress, Works}

// kindOf is the kind that a source names, or else the one that the words of
// an event speak for.
func kindOf(named, what string) Kind {
	for _, text := range []string{named, what} {
		words := wordsOf(text)
		if k := Kind(strings.TrimSpace(words)); slices.Contains(allKinds, k) {
			return k
		}
		for _, p := range phrases {
			if strings.Contains(words, p.one) || strings.Contains(words, p.many) {
				return p.kind
			}
		}
	}
	return Other
}

// wordsOf is the words of s in lower case, each between blanks.
func wordsOf(s string) string {
	return " " + strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}), " ") + " "
}
