package store

import (
	"fmt"
	"net/mail"
	"strings"
	"unicode/utf8"

	"banns/milestones"
)

// How many letters an edit may put in a place of a plan. A file is not held
// to it, and what is stored already stays.
const (
	nameMost   = 100
	phoneMost  = 60
	emailMost  = 254 // RFC 5321 4.5.3.1.3, less the angle brackets
	noteMost   = 5000
	othersMost = 1000
)

// most are the bounds of places by the last word of their path.
var most = map[string]int{
	"name": nameMost, "with": nameMost, "what": nameMost, "service": nameMost, "title": nameMost, "city": nameMost, "place": nameMost,
	"groups": nameMost, "for": nameMost, "hide from": nameMost, "phone": phoneMost, "email": emailMost,
	"note": noteMost, "wording": noteMost,
	"says": noteMost, "when": noteMost, // phrases have a bound of their own, where they are read
}

// outOfBounds are the faults of sets in themselves: too long for their place,
// or no mail address where one belongs. What they tell is what was sent.
func outOfBounds(sets []Set) Faults {
	var all Faults
	for _, set := range sets {
		if says, mend := set.outOfBounds(); says != "" {
			all = append(all, Fault{Fault: milestones.Fault{Path: set.Path, Says: says, Mend: mend}, Discreet: true})
		}
	}
	return all
}

func (s Set) outOfBounds() (says, mend string) {
	path := strings.Split(s.Path, "/")
	for _, part := range path {
		if n := utf8.RuneCountInString(part); n > nameMost {
			return tooLong(n, nameMost)
		}
	}
	place := path[len(path)-1]
	bound := most[place]
	switch {
	case bound == 0 && len(path) > 1 && path[len(path)-2] == "measures":
		bound = nameMost
	case bound == 0:
		bound = othersMost
	}
	for _, text := range s.Value {
		if n := utf8.RuneCountInString(text); n > bound {
			return tooLong(n, bound)
		}
		if place != "email" {
			continue
		}
		if at, err := mail.ParseAddress(text); err != nil || at.Address != text {
			return "this is no mail address", "write it as priya@example.org, or leave it empty"
		}
	}
	return "", ""
}

func tooLong(n, bound int) (says, mend string) {
	return fmt.Sprintf("it has %d letters, and %d is the most", n, bound), "say it shorter"
}
