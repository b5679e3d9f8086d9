package conflicts

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Series is the editions of one event that public calendars of several years
// hold, in order of their days.
type Series struct {
	Name     string // the latest edition's, without its year or number
	Editions []Event
}

// SeriesOf groups events by their names, whatever year or number these hold,
// in order of those names. The order of the events does not matter.
func SeriesOf(events []Event) []Series {
	all, _ := seriesOf(events)
	return all
}

// seriesOf is SeriesOf, with the events whose names tell nothing.
func seriesOf(events []Event) (all []Series, nameless []Event) {
	byKey := map[string][]Event{}
	var keys []string
	for _, e := range events {
		key := seriesKey(e.What)
		if key == "" {
			nameless = append(nameless, e)
			continue
		}
		if byKey[key] == nil {
			keys = append(keys, key)
		}
		byKey[key] = append(byKey[key], e)
	}
	slices.Sort(keys)
	all = make([]Series, 0, len(keys))
	for _, key := range keys {
		editions := byKey[key]
		slices.SortFunc(editions, compareEditions)
		all = append(all, Series{seriesName(editions[len(editions)-1].What), editions})
	}
	return all, nameless
}

func compareEditions(a, b Event) int {
	if order := a.From.Compare(b.From); order != 0 {
		return order
	}
	if order := a.To.Compare(b.To); order != 0 {
		return order
	}
	if order := strings.Compare(a.What, b.What); order != 0 {
		return order
	}
	if order := strings.Compare(a.Source.Name, b.Source.Name); order != 0 {
		return order
	}
	return a.Source.Line - b.Source.Line
}

// seriesKey is what the names of one event's editions have in common.
func seriesKey(what string) string {
	words := strings.FieldsFunc(strings.ToLower(seriesName(what)), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r)
	})
	if len(words) > 1 && words[0] == "the" {
		words = words[1:]
	}
	return strings.Join(words, " ")
}

// seriesName is an edition's name without its year, its number and "annual":
// "12th Annual Harbor Run 2026" is the Harbor Run. A name of nothing else stays
// as it is.
func seriesName(what string) string {
	words := strings.Fields(what)
	var kept []string
	for i, w := range words {
		next := ""
		if i+1 < len(words) {
			next = bare(words[i+1])
		}
		switch {
		case isYear(bare(w)), bare(w) == "annual", numbers(w, next):
		case len(kept) == 0 && bare(w) == "": // a dash that stood after a year
		default:
			kept = append(kept, w)
		}
	}
	name := strings.TrimRightFunc(strings.Join(kept, " "), func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune(",;:-–—/|(", r)
	})
	if bare(name) == "" {
		return strings.Join(words, " ")
	}
	return name
}

// bare is a word in lower case, without the marks around it.
func bare(w string) string {
	return strings.ToLower(strings.TrimFunc(w, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }))
}

// isYear reports whether w is a year, or a season such as 2026/27.
func isYear(w string) bool {
	first, second, season := w, "", false
	for _, mark := range []string{"/", "-", "–"} {
		if a, b, ok := strings.Cut(w, mark); ok {
			first, second, season = a, b, true
		}
	}
	n, err := strconv.Atoi(first)
	if err != nil || len(first) != 4 || n < 1800 || n > 2199 {
		return false
	}
	_, err = strconv.Atoi(second)
	return !season || err == nil && (len(second) == 2 || len(second) == 4)
}

// ordinals are the first twelve in words, which number an edition only before
// "annual".
var ordinals = []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth"}

// numbered are words whose ordinal is their own: 5th Avenue, 3rd Friday, 4th of
// July.
var numbered = map[string]bool{
	"of": true, "street": true, "st": true, "avenue": true, "ave": true, "ward": true, "grade": true, "district": true, "day": true,
	"sunday": true, "monday": true, "tuesday": true, "wednesday": true, "thursday": true, "friday": true, "saturday": true, "weekend": true,
}

// numbers reports whether w numbers an edition: 12th, 12., #12, '26, XII.
func numbers(w, next string) bool {
	b := bare(w)
	if slices.Contains(ordinals, b) {
		return next == "annual"
	}
	if digits := strings.TrimRight(b, "sthndr"); isNumber(digits) {
		ending := b[len(digits):]
		switch {
		case ending == "st", ending == "nd", ending == "rd", ending == "th":
			return !numbered[next]
		case ending == "":
			german := strings.HasSuffix(w, ".") && next != ""
			return german || strings.HasPrefix(w, "#") || len(digits) == 2 && strings.ContainsAny(w[:utf8First(w)], "'’")
		}
	}
	return isRoman(strings.TrimFunc(w, unicode.IsPunct))
}

func isNumber(s string) bool {
	n, err := strconv.Atoi(s)
	return err == nil && n >= 0 && len(s) <= 3
}

// utf8First is the length of the first letter of w.
func utf8First(w string) int {
	_, n := utf8.DecodeRuneInString(w)
	return n
}

// isRoman reports whether w is a number from 2 to 150 in Roman capitals. A
// single letter is none: it is as often the name of a thing.
func isRoman(w string) bool { return len(w) > 1 && romans[w] }

var romans = func() map[string]bool {
	all := map[string]bool{}
	for n := 2; n <= 150; n++ {
		all[roman(n)] = true
	}
	return all
}()

func roman(n int) string {
	var s strings.Builder
	for _, part := range []struct {
		value int
		sign  string
	}{{100, "C"}, {90, "XC"}, {50, "L"}, {40, "XL"}, {10, "X"}, {9, "IX"}, {5, "V"}, {4, "IV"}, {1, "I"}} {
		for ; n >= part.value; n -= part.value {
			s.WriteString(part.sign)
		}
	}
	return s.String()
}
