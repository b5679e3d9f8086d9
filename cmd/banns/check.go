package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

type checkCmd struct {
	Plan string `arg:"" help:"Plan file, or name of a stored wedding."`
	JSON bool   `name:"json" help:"Write JSON."`
}

// finding is one thing that check says.
type finding struct {
	Where string `json:"where"`
	Says  string `json:"says"`
}

// findings are all that check says. Errors alone make a plan wrong.
type findings struct {
	Errors    []finding `json:"errors"`
	Questions []finding `json:"questions"`
	Notes     []finding `json:"notes"`
}

// Run says what is wrong with the plan, what it leaves open, and what is
// worth a look.
func (c *checkCmd) Run(e *env) error {
	doc, _, err := e.load(c.Plan)
	var faults store.Faults
	if err != nil && !errors.As(err, &faults) {
		return err
	}
	f := findings{Errors: []finding{}, Questions: []finding{}, Notes: []finding{}}
	for _, one := range faults {
		says := one.Says
		if one.Mend != "" {
			says += "; " + one.Mend
		}
		f.Errors = append(f.Errors, finding{one.Where(), says})
	}
	if doc != nil {
		f.look(doc)
	}
	if c.JSON {
		if err := writeJSON(e.out, f); err != nil {
			return err
		}
	} else {
		f.print(e.out)
	}
	if n := len(f.Errors); n > 0 {
		return wrongf("%s in %s", plural(n, "fault"), c.Plan)
	}
	return nil
}

// look gathers the questions and notes of a sound plan.
func (f *findings) look(doc *store.Document) {
	p := doc.Plan
	open, _ := asked(doc)
	for _, q := range open {
		f.Questions = append(f.Questions, finding{doc.Where(q.Path), q.Says})
	}
	note := func(path, says string) { f.Notes = append(f.Notes, finding{doc.Where(path), says}) }
	for _, n := range slices.Concat(doc.Notes, milestones.Unasked(p, closures(p))) {
		note(n.Path, n.Says)
	}
	if _, caution := conflicts.ClosuresFor(p.Wedding.Region); caution != "" {
		note("wedding/region", caution)
	}
	countdown := 0
	for _, i := range milestones.Schedule(p, closures(p)) {
		switch {
		case i.LateBy != nil:
			note(i.ID, fmt.Sprintf("%s by %s comes %s too late; \"banns countdown\" says what would give", i.Title, i.Date.Words(), plural(*i.LateBy, "day")))
		case !i.Undated():
		case i.Kind == milestones.KindMilestone && p.Wedding.Date.IsZero():
			countdown++
		default:
			note(i.ID, fmt.Sprintf("%s has no date yet: it waits for %s", i.Title, i.WaitsFor))
		}
	}
	if countdown > 0 {
		note("countdown", fmt.Sprintf("%s of the countdown have no date yet: they wait for the wedding date", plural(countdown, "milestone")))
	}
}

func (f *findings) print(out io.Writer) {
	section := func(title string, all []finding) {
		if len(all) == 0 {
			return
		}
		fmt.Fprintf(out, "%s\n", title)
		for _, one := range all {
			fmt.Fprintf(out, "  %s\n      %s\n", one.Where, one.Says)
		}
	}
	section("To mend:", f.Errors)
	section("Questions, to settle with the vendor:", f.Questions)
	section("Worth a look:", f.Notes)
	if len(f.Errors) == 0 {
		fmt.Fprintf(out, "The plan reads well: %s, %s.\n", plural(len(f.Questions), "question"), plural(len(f.Notes), "note"))
	}
}

func writeJSON(out io.Writer, v any) error {
	enc := json.NewEncoder(out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
