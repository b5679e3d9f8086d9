package desk

import (
	"strings"

	"banns/milestones"
	"banns/store"
)

// stepPlaces are the fields of a step, by where in the plan they are kept.
var stepPlaces = map[string]struct{ part, label string }{
	"done":   {"on", "The day"},
	"back":   {"on", "The day"},
	"amount": {"sum", "The sum"},
	"given":  {"given", "The number of guests"},
}

// inStep puts a fault into the step that was pressed, where it is about what
// that step sets.
func (f *agreementForm) inStep(path string, one store.Fault) bool {
	_, at, ok := strings.Cut(f.sent.Get("do"), " ")
	rest, under := strings.CutPrefix(path, f.base+"/"+at+"/")
	place, known := stepPlaces[rest]
	if !ok || !under || !known {
		return false
	}
	if rest == "back" {
		at += "/back"
	}
	field := stepAt(at, place.part)
	if f.sentTo(field, "") == "" { // the page has another field for it
		return false
	}
	says := one.Says
	if one.Mend != "" {
		says += "; " + one.Mend
	}
	f.stepFault(field, place.label, says)
	return true
}

// stillToCome has no step be taken on a day that is not there yet: what counts
// as done is on nobody's list any more. An agreement may be signed ahead.
func (f *agreementForm) stillToCome() {
	verb, at, _ := strings.Cut(f.sent.Get("do"), " ")
	switch verb {
	case "came":
		at += "/back"
	case "paid", "done":
	default:
		return
	}
	on, err := milestones.ParseDate(f.sentTo(stepAt(at, "on"), ""))
	if err == nil && f.s.today.Before(on) {
		f.stepFault(stepAt(at, "on"), "The day", on.Words()+" is still to come, and what is done falls off everybody’s list; write it down on the day it is done. If it is arranged already, say so in a note")
	}
}

func (f *agreementForm) stepFault(at stepField, label, says string) {
	if f.amiss == nil {
		f.amiss = map[stepField]string{}
	}
	f.amiss[at] = label + ": " + says + "."
	f.Faults = append(f.Faults, fault{at.ID(), label + ": " + says})
}
