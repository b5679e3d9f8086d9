package desk

import (
	"fmt"
	"net/url"
	"strings"

	"banns/store"
)

// measureRows is how many measures can be added at a time.
const measureRows = 2

// measuresIn are the measures that a form adds, as typed.
func measuresIn(sent url.Values) []pair {
	var all []pair
	for n := 1; n <= measureRows; n++ {
		all = append(all, pair{strings.TrimSpace(sent.Get(fmt.Sprintf("measure-%d", n))), strings.TrimSpace(sent.Get(fmt.Sprintf("size-%d", n)))})
	}
	return all
}

// measureRow is where a measure is typed into.
type measureRow struct {
	N int // from 1
	pair
}

// blanks are rows for measures, with what was typed already.
func blanks(typed []pair) []measureRow {
	rows := make([]measureRow, measureRows)
	for n := range rows {
		rows[n].N = n + 1
		if n < len(typed) {
			rows[n].pair = typed[n]
		}
	}
	return rows
}

// measureSets gives somebody the measures, or says what is wrong with them.
func measureSets(key string, measures []pair) (sets []store.Set, wrong []fault) {
	for n, m := range measures {
		id := fmt.Sprintf("measure-%d", n+1)
		switch {
		case m == pair{}:
		case m.Name == "":
			wrong = append(wrong, fault{id, "Say what " + m.Value + " is a measure of, such as dress or collar."})
		case m.Value == "":
			wrong = append(wrong, fault{fmt.Sprintf("size-%d", n+1), "Say how large " + m.Name + " is, such as US 8."})
		case strings.Contains(m.Name, "/"):
			wrong = append(wrong, fault{id, "Write " + m.Name + " without the slash."})
		default:
			sets = append(sets, store.Set{Path: "people/" + key + "/measures/" + m.Name, Value: []string{m.Value}})
		}
	}
	return sets, wrong
}
