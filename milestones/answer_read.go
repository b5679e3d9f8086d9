package milestones

import (
	"fmt"
	"slices"
	"strings"
)

// place is where an answer stands.
type place struct {
	owner *Agreement // nil outside agreements
	of    string     // the path of the line or agreement that has it
	name  string     // under "answers": the doubt, or the person; empty: on the line itself
	path  string
}

// eachAnswer visits every answer of p.
func (p *Plan) eachAnswer(visit func(a *Answer, at place)) {
	line := func(all []Answer, owner *Agreement, of string) {
		for i := range all {
			at := place{owner: owner, of: of, path: of + "/answer"}
			if len(all) > 1 {
				at.path += fmt.Sprintf("[%d]", i+1)
			}
			visit(&all[i], at)
		}
	}
	several := func(all []NamedAnswer, owner *Agreement, of string) {
		for i := range all {
			visit(&all[i].Answer, place{owner, of, all[i].Name, of + "/answers/" + all[i].Name})
		}
	}
	for i := range p.Agreements {
		a := &p.Agreements[i]
		a.lines(func(l *Line, list string, n int) { line(l.Answers, a, linePath(a, list, n)) })
		if a.Postpone != nil {
			line(a.Postpone.Answers, a, "agreements/"+a.Key+"/postpone")
		}
		several(a.Answers, a, "agreements/"+a.Key)
	}
	for _, m := range p.meetings() {
		line(m.Answers, nil, m.path())
		several(m.Away, nil, m.path())
	}
	for _, m := range p.Countdown.Add {
		line(m.Answers, nil, "countdown/add/"+m.Key)
	}
}

// reading is a key as answers give it: of any case, with spaces or hyphens.
func reading(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(s), "-", " ")), " ")
}

// answerReader refuses answers that choose no reading, and two answers to one
// question. Whether what is chosen is asked at all may depend on the day, so
// that is no fault; Unasked tells.
type answerReader struct {
	roll
	timings map[string][]node // by path
	given   map[string]bool
}

func (rd *planReader) answers() {
	r := answerReader{rd.roll(), map[string][]node{}, map[string]bool{}}
	rd.plan.eachNode(func(_ ref, n node) {
		if n.shift == 0 {
			r.timings[n.path] = append(r.timings[n.path], n)
		}
	})
	rd.plan.eachAnswer(func(a *Answer, at place) {
		if a.Reads != "" { // or it is said already that this is missing
			r.answer(a, at)
		}
	})
}

func (r answerReader) answer(a *Answer, at place) {
	var doubt Doubt
	var readings []string
	switch {
	case at.name == "":
		doubt, readings = r.onLine(a.Reads, at.of)
	case at.owner == nil:
		r.one(at.name, at.path)
		doubt, readings = DoubtAway, DoubtAway.readings()
	case slices.Contains(agreementDoubts, Doubt(at.name)):
		doubt, readings = Doubt(at.name), Doubt(at.name).readings()
	default:
		r.noSuchDoubt(at)
		return
	}
	if !slices.Contains(readings, a.Reads) {
		mend := "the readings are: " + strings.Join(readings, ", ")
		if hint := Nearest(a.Reads, readings); hint != "" {
			mend = hint + " " + mend
		}
		r.fault(at.path+"/reads", mend, "%q is no reading of what is asked here", a.Reads)
		return
	}
	once := fmt.Sprint(at.of, at.name, doubt, strings.HasPrefix(a.Reads, backWord))
	if r.given[once] {
		r.fault(at.path, "keep the one that holds", "two answers settle one question, that of %s", doubt)
	}
	r.given[once] = true
}

func (r answerReader) noSuchDoubt(at place) {
	var all []string
	for _, d := range agreementDoubts {
		all = append(all, string(d))
	}
	mend := Nearest(at.name, all)
	if mend == "" {
		mend = "known here are: " + strings.Join(all, ", ")
	}
	r.fault(at.path, mend, "%q is nothing that is asked about an agreement", at.name)
}

// onLine is the doubt of a line that a reading settles, and the readings that
// the line can be asked for. Any of a doubt that its words do not raise will
// do: what they say may have changed since the answer.
func (r answerReader) onLine(reads, path string) (doubt Doubt, readings []string) {
	for _, n := range r.timings[path] {
		for _, one := range n.when.readings() {
			readings = append(readings, n.key(one))
		}
	}
	if strings.HasPrefix(path, "agreements/") {
		readings = append(readings, DoubtSigning.readings()...)
	}
	if strings.Contains(path, "/cancel[") {
		readings = slices.Concat(readings, DoubtGap.readings(), DoubtOverlap.readings())
	}
	plain := strings.TrimPrefix(reads, backWord)
	for _, d := range lineDoubts {
		if slices.Contains(d.readings(), plain) {
			doubt = d
		}
	}
	raised := slices.ContainsFunc(r.timings[path], func(n node) bool {
		return n.back == (plain != reads) && slices.ContainsFunc(n.when.readings(), func(one string) bool { return slices.Contains(doubt.readings(), one) })
	})
	if doubt != "" && !raised {
		readings = append(readings, reads)
	}
	return doubt, readings
}

// readings are those that t's words leave open.
func (t Timing) readings() (all []string) {
	if t.sideless() && t.Sided {
		all = append(all, readsBefore, readsDuring)
	} else if t.sideless() {
		all = append(all, readsBefore, readsAfter)
	}
	if t.Midnight {
		all = append(all, DoubtMidnight.readings()...)
	}
	if t.Unit == BusinessDay {
		all = append(all, DoubtDays.readings()...)
	}
	return all
}
