package milestones

import "strings"

// Fault is one thing wrong with a plan: where it stands, what is wrong, and
// how to mend it. A plan with faults is never saved.
type Fault struct {
	Path string // agreements/catering/pay[2]: lines of a list count from 1
	Says string // one sentence in lower case, without a full stop
	Mend string // what to write instead; may be empty
}

// Error is the fault in one line.
func (f Fault) Error() string {
	text := f.Path + ": " + f.Says
	if f.Mend != "" {
		text += "; " + f.Mend
	}
	return text
}

// nearest is the option closest to word by edit distance, or empty where
// nothing comes close.
func nearest(word string, options []string) string {
	best, found := len(word)/2+1, ""
	for _, option := range options {
		if d := distance(strings.ToLower(word), strings.ToLower(option)); d < best {
			best, found = d, option
		}
	}
	return found
}

// Nearest is a hint such as `did you mean "catering"?`, or empty.
func Nearest(word string, options []string) string {
	if found := nearest(word, options); found != "" {
		return `did you mean "` + found + `"?`
	}
	return ""
}

// distance counts single-letter changes between a and b (Levenshtein).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > 64 || len(y) > 64 {
		return 64
	}
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j := range y {
			change := diagonal
			if x[i] != y[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(y)]
}
