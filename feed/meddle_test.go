package feed

import (
	"slices"
	"strings"

	"pgregory.net/rapid"

	"banns/milestones"
)

// meddler changes a plan where who must not notice.
type meddler struct {
	*rapid.T
	p   *milestones.Plan
	who string
}

// meddle is a copy of plan in which whatever who may not know is another.
func meddle(t *rapid.T, plan *milestones.Plan, who string) *milestones.Plan {
	m := meddler{t, clone(plan), who}
	seen := map[string]bool{} // whose names and numbers who has
	for n := range m.p.Agreements {
		a := &m.p.Agreements[n]
		if _, money := m.knows(a, milestones.Line{}, milestones.KindPayment); money {
			seen[a.Payer], seen[a.Contact] = true, true
			m.lines(a)
		} else {
			m.lines(a)
			m.money(a)
		}
	}
	m.p.Agreements = without(t, m.p.Agreements, m.knowsAny)
	named := m.meetings()
	for n := range m.p.People {
		if p := &m.p.People[n]; p.Key != who && !seen[p.Key] {
			if !named[p.Key] {
				p.Name = "Another"
			}
			p.Email, p.Phone, p.Diet = "b@example.org", "555 0199", "halal"
			p.Measures = []milestones.Measure{{Name: "shoe", Size: "9"}}
		}
	}
	m.add()
	return m.p
}

func (m meddler) knows(a *milestones.Agreement, l milestones.Line, k milestones.Kind) (line, money bool) {
	return known(m.p, a, l, k, m.who)
}

// knowsAny reports whether who knows any line of a, or could.
func (m meddler) knowsAny(a milestones.Agreement) bool {
	any := false
	see := func(l milestones.Line, k milestones.Kind) {
		line, _ := m.knows(&a, l, k)
		any = any || line
	}
	for _, l := range a.Pay {
		see(l.Line, milestones.KindPayment)
		see(l.Line, milestones.KindRefund)
	}
	for _, l := range a.Cancel {
		see(l.Line, milestones.KindCancelBy)
	}
	for _, l := range a.Change {
		see(l.Line, milestones.KindChangeBy)
	}
	for _, l := range a.Papers {
		see(l.Line, milestones.KindPaper)
	}
	return any
}

// lines rewords the lines of a that who does not know, and moves or drops
// those that move no sum. Payments stay: who may know the balance.
func (m meddler) lines(a *milestones.Agreement) {
	secret := func(l *milestones.Line, kinds ...milestones.Kind) bool {
		for _, k := range kinds {
			if line, _ := m.knows(a, *l, k); line {
				return false
			}
		}
		reword(l)
		return true
	}
	for n := range a.Pay {
		secret(&a.Pay[n].Line, milestones.KindPayment, milestones.KindRefund)
	}
	for n := range a.Cancel {
		secret(&a.Cancel[n].Line, milestones.KindCancelBy)
	}
	for n := range a.Change {
		if l := &a.Change[n].Line; secret(l, milestones.KindChangeBy) {
			l.Says = "another thing by 2027-07-01"
		}
	}
	a.Papers = without(m.T, a.Papers, func(t milestones.Paper) bool {
		line, _ := m.knows(a, t.Line, milestones.KindPaper)
		return line
	})
}

// money changes every sum of a, every phrase but for its day and its label,
// and every free text.
func (m meddler) money(a *milestones.Agreement) {
	*a.Price.Sum += 1_000_00
	a.Note = "another note"
	for n := range a.Pay {
		l := &a.Pay[n].Line
		reword(l)
		swap(l, "700", "950")
		swap(l, "300", "450")
		sameDay(l)
	}
	for n := range a.Cancel {
		reword(&a.Cancel[n].Line)
		swap(&a.Cancel[n].Line, "20%", "65%")
	}
	for n := range a.Change {
		reword(&a.Change[n].Line)
		sameDay(&a.Change[n].Line)
	}
	for n := range a.Papers {
		reword(&a.Papers[n].Line)
		sameDay(&a.Papers[n].Line)
	}
}

// meetings changes or drops what who is not asked to. It tells whose names who
// knows: those of the people who are asked to what the couple see.
func (m meddler) meetings() map[string]bool {
	who, _ := m.p.Person(m.who)
	asked := func(whose, hide []string) bool {
		boss := who.Part == milestones.Couple || who.Part == milestones.Planner
		return (boss || who.Named(whose)) && !who.Named(hide)
	}
	m.p.Appointments = without(m.T, m.p.Appointments, func(a milestones.Appointment) bool { return asked(a.For, a.Hide) })
	m.p.Countdown.Add = without(m.T, m.p.Countdown.Add, func(x milestones.Milestone) bool { return asked(x.For, x.Hide) })
	for n := range m.p.Occasions {
		if o := &m.p.Occasions[n]; !asked(o.For, o.Hide) {
			o.What, o.Note, o.When.Says = "Another thing", "another note", "on 2027-06-06"
		}
	}
	known := map[string]bool{}
	tells := func(whose, hide []string) {
		if asked(whose, hide) && !who.Named(whose) {
			for _, key := range whose {
				known[key] = true
			}
		}
	}
	for _, a := range m.p.Appointments {
		tells(a.For, a.Hide)
	}
	for _, o := range m.p.Occasions {
		tells(o.For, o.Hide)
	}
	return known
}

// add adds what is hidden from who: an agreement, something to attend, and
// somebody who is asked to it.
func (m meddler) add() {
	a := drawAgreement(m.T, "new")
	a.Hide = append(a.Hide, m.who)
	m.p.Agreements = slices.Insert(m.p.Agreements, 0, a)
	addMeeting(m.T, m.p, "new", names, []string{m.who})
	m.p.People = append(m.p.People, milestones.Person{Key: "new", Name: "Somebody new", Part: milestones.Helper})
}

// reword changes every free text of a line, what somebody answered included.
func reword(l *milestones.Line) {
	l.Note, l.Wording = "another note", "other words"
	l.Answers = []milestones.Answer{{Reads: "before", Who: "somebody", On: milestones.Date{Year: 2026, Month: 11, Day: 20}, Says: "another answer"}}
}

func swap(l *milestones.Line, old, new string) { l.Says = strings.Replace(l.Says, old, new, 1) }

// sameDay says the day of a line in other words.
func sameDay(l *milestones.Line) {
	for _, pair := range sameDays {
		swap(l, pair[0], pair[1])
	}
}
