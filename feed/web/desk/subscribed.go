package desk

import (
	"net/http"
	"slices"
	"time"

	"banns/milestones"
)

// quietDays is after how many days without a word from a subscribed calendar
// somebody should be asked whether it is still there. Phones ask at least once
// a day; one that is off for a holiday is none to worry about.
const quietDays = 14

// linkState is how somebody's link is doing.
type linkState struct {
	Open bool            // it opens their page
	Last milestones.Date // when a calendar last asked for their dates; zero where none ever did
	Mark string
	Word string // in a list
	Says string // in a sentence; empty where the link is closed
}

// linkStates are those of everybody of the wedding, by lasting ids.
func (d *Desk) linkStates(r *http.Request) (map[string]linkState, error) {
	s := sightOf(r)
	tokens, err := d.Store.Tokens(r.Context(), s.ID)
	if err != nil {
		return nil, err
	}
	asked, err := d.Store.Asked(r.Context(), s.ID)
	if err != nil {
		return nil, err
	}
	all := map[string]linkState{}
	for id := range tokens {
		all[id] = s.linkState(asked[id])
	}
	return all, nil
}

func (s *sight) linkState(asked time.Time) linkState {
	state := linkState{Open: true, Mark: "todo", Word: "no calendar yet", Says: "No calendar has asked for these dates yet."}
	if asked.IsZero() {
		return state
	}
	state.Last = milestones.DateOf(asked.In(s.plan.Wedding.Location()))
	state.Mark, state.Word = "settled", "subscribed"
	state.Says = "A calendar last asked for these dates on " + state.Last.Words() + "."
	if s.today.DaysSince(state.Last) > quietDays {
		state.Mark, state.Word = "question", "not heard of since "+state.Last.Words()
		state.Says += " Ask whether it is still on their phone."
	}
	return state
}

// closedLink is the state of a link that was closed.
var closedLink = linkState{Mark: "withdrawn", Word: "link closed"}

// stateOf is how the link of somebody with a lasting id is doing.
func stateOf(all map[string]linkState, id string) linkState {
	if state, open := all[id]; open {
		return state
	}
	return closedLink
}

// phone reports whether a calendar has asked for the dates of anybody whom the
// visitor sees.
func (d *Desk) phone(r *http.Request) (bool, error) {
	s := sightOf(r)
	asked, err := d.Store.Asked(r.Context(), s.ID)
	return slices.ContainsFunc(s.plan.People, func(who milestones.Person) bool { return !asked[who.ID()].IsZero() }), err
}
