package milestones

import (
	"slices"
	"strings"
)

// Question is what a contract or a plan leaves open. It is shown with its
// readings and never guessed away: until somebody answers it, a date follows
// the cautious reading, and a sum lies between the low and the high one.
type Question struct {
	ID        string // what it is about, and which doubt: shuttle/change-1#side
	Doubt     Doubt
	Path      string // the item's id, or a place in the plan
	Agreement string // key of the agreement, or empty
	Words     string // the phrase that leaves it open, or empty
	Wording   string // the contract's own sentence, or empty
	Says      string // one sentence, without a full stop
	Readings  []Reading
	Line      string  // the phrase of the agreement's line on which its answer stands, or empty
	Under     string  // the key under "answers" where its answer stands, or empty
	Mend      string  // what to write in the plan instead of an answer, or empty
	Answer    *Answer // nil while it is open
}

// Reading is one thing that the words may mean, and what would follow.
type Reading struct {
	Key    string // what an answer calls it
	Says   string
	Moment        // the day it gives; zero where it gives none
	Amount Amount // the sum it gives; not known where it gives none
	Taken  bool   // what the plan follows today; none of them while a sum lies between
}

// Answer is what somebody wrote to settle a question.
type Answer struct {
	Reads string // the Key of the Reading it chooses
	Who   string // whose answer it is
	On    Date   // the day they gave it
	Says  string // what they wrote
}

// NamedAnswer is an answer about more than one line: about a whole agreement,
// by the doubt it settles, or about somebody who is away, by their key.
type NamedAnswer struct {
	Name string
	Answer
}

// Note is something in a plan that is no fault but worth a look.
type Note struct {
	Path string
	Says string
}

// Open reports whether nobody has answered q.
func (q *Question) Open() bool { return q.Answer == nil }

// Settles reports whether one of q's readings can answer it. Where none can,
// the plan itself has to say more.
func (q *Question) Settles() bool { return len(q.Doubt.readings()) > 0 }

// Alike reports whether q and o ask the same about two lines of one agreement,
// or of the plan, so that one answer may settle both.
func (q *Question) Alike(o *Question) bool {
	if q.Path == o.Path || q.Agreement != o.Agreement || q.Doubt != o.Doubt || q.Under+o.Under != "" || !q.Settles() {
		return false
	}
	return slices.EqualFunc(q.Readings, o.Readings, func(a, b Reading) bool { return plainKey(a.Key) == plainKey(b.Key) })
}

// Like is a reading of a question alike as an answer to q calls it.
func (q *Question) Like(reads string) string {
	for _, one := range q.Readings {
		if plainKey(one.Key) == plainKey(reads) {
			return one.Key
		}
	}
	return reads
}

// Doubt is what a question is about.
type Doubt string

// The doubts. Those about a line are answered on the line.
const (
	DoubtSide     Doubt = "side"          // "within 21 days of the wedding"
	DoubtMidnight Doubt = "midnight"      // which end of the day
	DoubtDays     Doubt = "business days" // banks and government offices count differently
	DoubtSigning  Doubt = "signing"       // the day comes before signing
	DoubtGap      Doubt = "gap"           // no step holds, and then this one
	DoubtOverlap  Doubt = "overlap"       // this step and others hold at once

	DoubtFirst   Doubt = "before the first step"
	DoubtLast    Doubt = "after the last step"
	DoubtLeaving Doubt = "leaving"  // the agreement says nothing of it
	DoubtPaid    Doubt = "payments" // they do not make the price
	DoubtPrice   Doubt = "price"    // nobody knows it yet

	DoubtAway    Doubt = "away"    // somebody who is asked is away
	DoubtThere   Doubt = "there"   // somebody who is to do it is away
	DoubtLicence Doubt = "licence" // the office's rule leaves something open
)

// The readings. Those of a line's doubts are all different, so that an answer
// on the line tells by its reading which of them it settles.
const (
	readsBefore     = "before"
	readsAfter      = "after"
	readsDuring     = "during"
	readsStart      = "start of day"
	readsEnd        = "end of day"
	readsOnSigning  = "on signing"
	readsAsWritten  = "as written"
	readsStepBefore = "step before"
	readsStepAfter  = "step after"
	readsLower      = "lower"
	readsHigher     = "higher"
	readsNothing    = "nothing"
	readsFirstStep  = "first step"
	readsLastStep   = "last step"
	readsWholePrice = "whole price"
	readsComes      = "comes"
	readsMissesIt   = "misses it"
)

var (
	lineDoubts = []Doubt{DoubtSide, DoubtMidnight, DoubtDays, DoubtSigning, DoubtGap, DoubtOverlap}
	// A contract may say once for all what it means by midnight and by
	// business days, so these can be answered for the whole agreement too.
	agreementDoubts = []Doubt{DoubtLeaving, DoubtFirst, DoubtLast, DoubtMidnight, DoubtDays}
)

// readings are the keys of what d can be answered with; none where no reading
// settles it.
func (d Doubt) readings() []string {
	switch d {
	case DoubtSide:
		return []string{readsBefore, readsAfter, readsDuring}
	case DoubtMidnight:
		return []string{readsStart, readsEnd}
	case DoubtDays:
		return []string{string(Banks), string(Federal)}
	case DoubtSigning:
		return []string{readsOnSigning, readsAsWritten}
	case DoubtGap:
		return []string{readsStepBefore, readsStepAfter}
	case DoubtOverlap:
		return []string{readsLower, readsHigher}
	case DoubtFirst:
		return []string{readsNothing, readsFirstStep}
	case DoubtLast:
		return []string{readsLastStep, readsWholePrice}
	case DoubtLeaving:
		return []string{readsNothing, readsWholePrice}
	case DoubtAway:
		return []string{readsComes, readsMissesIt}
	}
	return nil
}

// backWord stands before a reading of when a security deposit comes back,
// since the day it is paid stands on the same line.
const backWord = "back "

// plainKey is a reading without what it is the reading of.
func plainKey(reads string) string { return strings.TrimPrefix(reads, backWord) }

// answerTo is the answer to d among those of a line, or nil.
func answerTo(all []Answer, d Doubt, isBack bool) *Answer {
	for i := range all {
		reads, of := strings.CutPrefix(all[i].Reads, backWord)
		if of == isBack && slices.Contains(d.readings(), reads) {
			return &all[i]
		}
	}
	return nil
}

// Doubt is what an answer on a line settles, and whether that is about a
// security deposit's coming back; no doubt where it chooses no known reading.
func (a Answer) Doubt() (d Doubt, back bool) {
	reads, back := strings.CutPrefix(a.Reads, backWord)
	for _, one := range lineDoubts {
		if slices.Contains(one.readings(), reads) {
			return one, back
		}
	}
	return "", back
}

// named is the answer of that name, or nil.
func named(all []NamedAnswer, name string) *Answer {
	for i := range all {
		if all[i].Name == name {
			return &all[i].Answer
		}
	}
	return nil
}

// answer is the answer that a as a whole gives to d, or nil.
func (a *Agreement) answer(d Doubt) *Answer {
	if a == nil {
		return nil
	}
	return named(a.Answers, string(d))
}
