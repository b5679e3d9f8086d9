package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"banns/milestones"
	"banns/store"
)

// questionsCmd is banns questions. With --json it writes an array, open ones
// first, of
//
//	{id, where, agreement, words, wording, says,
//	 readings: [{reads, says, date, time, low, high, taken}],
//	 answer: {reads, who, on, says} | null}
//
// id lasts as long as the line's key; where is the file, the line and the
// path. reads is what an answer in the plan file calls the reading; date and
// time are the day it gives, low and high the sum, as text. taken marks what
// the plan follows today: where a sum lies between low and high until it is
// settled, nothing is taken. What does not apply is null.
type questionsCmd struct {
	Plan string `arg:"" help:"Plan file, or name of a stored wedding."`
	JSON bool   `name:"json" help:"Write JSON."`
}

type questionJSON struct {
	ID        string        `json:"id"`
	Where     string        `json:"where"`
	Agreement *string       `json:"agreement"`
	Words     *string       `json:"words"`
	Wording   *string       `json:"wording"`
	Says      string        `json:"says"`
	Readings  []readingJSON `json:"readings"`
	Answer    *answerJSON   `json:"answer"`
}

type readingJSON struct {
	Reads string  `json:"reads"`
	Says  string  `json:"says"`
	Date  *string `json:"date"`
	Time  *string `json:"time"`
	span
	Taken bool `json:"taken"`
}

type answerJSON struct {
	Reads string          `json:"reads"`
	Who   string          `json:"who"`
	On    milestones.Date `json:"on"`
	Says  *string         `json:"says"`
}

// Run lists what the plan leaves open, and then what was settled.
func (c *questionsCmd) Run(e *env) error {
	doc, _, err := e.load(c.Plan)
	if err != nil {
		return err
	}
	open, settled := asked(doc)
	if c.JSON {
		all := []questionJSON{}
		for _, q := range slices.Concat(open, settled) {
			all = append(all, newQuestion(doc, q))
		}
		return writeJSON(e.out, all)
	}
	return newPrinter(e.out).questions(doc, open, settled, e.day(doc.Plan.Wedding.Zone))
}

// asked are the questions of a plan: the open ones, and the settled ones.
func asked(doc *store.Document) (open, settled []milestones.Question) {
	for _, q := range milestones.Questions(doc.Plan, closures(doc.Plan)) {
		if q.Open() {
			open = append(open, q)
		} else {
			settled = append(settled, q)
		}
	}
	return open, settled
}

func newQuestion(doc *store.Document, q milestones.Question) questionJSON {
	out := questionJSON{ID: q.ID, Where: doc.Where(q.Path), Agreement: text(q.Agreement), Words: text(q.Words),
		Wording: text(q.Wording), Says: q.Says, Readings: []readingJSON{}}
	for _, r := range q.Readings {
		one := readingJSON{Reads: r.Key, Says: r.Says, Date: text(r.Date.String()), Taken: r.Taken,
			span: spanOf(doc.Plan.Wedding.Currency, r.Amount)}
		if r.Clock != nil {
			one.Time = text(r.Clock.String())
		}
		out.Readings = append(out.Readings, one)
	}
	if a := q.Answer; a != nil {
		out.Answer = &answerJSON{a.Reads, a.Who, a.On, text(a.Says)}
	}
	return out
}

// questions prints what is open, how each is settled, and what was settled.
func (p printer) questions(doc *store.Document, open, settled []milestones.Question, today milestones.Date) error {
	fmt.Fprintln(p.out, heading(doc.Plan))
	if len(open) == 0 {
		fmt.Fprintln(p.out, "\nNothing is open.")
	} else {
		fmt.Fprintf(p.out, "\nOpen (%d)\n", len(open))
	}
	onLine := map[string]int{}
	for _, q := range slices.Concat(open, settled) {
		if q.Line != "" {
			onLine[q.Agreement+q.Line]++
		}
	}
	for _, q := range open {
		p.question(doc, q)
		if err := p.howToSettle(doc.Plan, q, today, onLine[q.Agreement+q.Line] > 1); err != nil {
			return err
		}
	}
	if len(settled) > 0 {
		fmt.Fprintf(p.out, "\nSettled (%d)\n", len(settled))
	}
	for _, q := range settled {
		p.question(doc, q)
		p.answered(doc.Plan, q.Answer)
	}
	return nil
}

// question prints one: where it is, the contract's words, and what they may
// mean in days and in money.
func (p printer) question(doc *store.Document, q milestones.Question) {
	fmt.Fprintf(p.out, "\n  %s\n", doc.Where(q.Path))
	words := q.Words
	if a, ok := doc.Plan.Agreement(q.Agreement); ok {
		words = strings.TrimSuffix(a.With+": "+words, ": ")
	}
	if words != "" {
		fmt.Fprintf(p.out, "    %s\n", words)
	}
	if q.Wording != "" {
		fmt.Fprintf(p.out, "    The contract’s own words: “%s”\n", q.Wording)
	}
	says := q.Says
	if !strings.HasSuffix(says, "?") {
		says += "."
	}
	fmt.Fprintf(p.out, "    %s\n", says)
	keys, means := 0, 0
	for _, r := range q.Readings {
		keys = max(keys, utf8.RuneCountInString(r.Key))
		means = max(means, utf8.RuneCountInString(meaning(doc.Plan, r)))
	}
	for _, r := range q.Readings {
		line := "      " + pad(r.Key, keys) + "  "
		if means > 0 {
			line += pad(meaning(doc.Plan, r), means) + "  "
		}
		if line += r.Says; r.Taken && q.Open() {
			line += " (taken meanwhile)"
		}
		fmt.Fprintln(p.out, line)
	}
}

// meaning is the day and the sum that a reading gives.
func meaning(plan *milestones.Plan, r milestones.Reading) string {
	var parts []string
	if day := r.Date.Words(); day != "" {
		parts = append(parts, day)
	}
	if r.Clock != nil {
		parts = append(parts, r.Clock.String())
	}
	if r.Amount.Known {
		parts = append(parts, plan.Wedding.Currency.Range(r.Amount))
	}
	return strings.Join(parts, ", ")
}

// howToSettle prints the very lines to write in the plan. Where a line is
// asked about more than once, its answers make a list.
func (p printer) howToSettle(plan *milestones.Plan, q milestones.Question, today milestones.Date, more bool) error {
	if !q.Settles() {
		fmt.Fprintf(p.out, "    To settle it, %s.\n", q.Mend)
		return nil
	}
	sample := milestones.Answer{Reads: q.Readings[0].Key, Who: "whoever answered", On: today, Says: "what they wrote"}
	if a, ok := plan.Agreement(q.Agreement); ok && a.Contact != "" {
		sample.Who = a.Contact
	}
	lines, err := store.Settling(q, sample)
	if err != nil {
		return err
	}
	where := "write there"
	switch {
	case q.Line != "":
		where = "give the line its answer"
	case q.Agreement != "":
		where = "write under agreements/" + q.Agreement
	}
	fmt.Fprintf(p.out, "    To settle it, %s, naming the reading that holds:\n      %s\n", where, strings.ReplaceAll(lines, "\n", "\n      "))
	if more {
		fmt.Fprintln(p.out, "    The line leaves more than one thing open; several answers stand as a list: answer: [{…}, {…}]")
	}
	if q.Mend != "" {
		fmt.Fprintf(p.out, "    %s.\n", q.Mend)
	}
	return nil
}

// answered prints who settled a question, when, and in what words.
func (p printer) answered(plan *milestones.Plan, a *milestones.Answer) {
	who := a.Who
	if known, ok := plan.Person(who); ok {
		who = known.Name
	}
	fmt.Fprintf(p.out, "    %s settled it on %s: %s", who, a.On.Words(), a.Reads)
	if a.Says != "" {
		fmt.Fprintf(p.out, ", in these words: “%s”", a.Says)
	}
	fmt.Fprintln(p.out)
}
