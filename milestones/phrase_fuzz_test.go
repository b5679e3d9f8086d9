package milestones

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
)

var demoLine = regexp.MustCompile(`(?m)^ +- (?:\{?says: )?"?([^"{},\n][^"{}\n]*?)"?(?:, [a-z ]+: .*\})?\}?$|^ +postpone: (.*)$`)

// demoPhrases are the phrases of the demo plan, found without reading YAML.
func demoPhrases(t interface{ Fatal(...any) }) []string {
	text, err := os.ReadFile("../testdata/plans/maren-and-theo.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, m := range demoLine.FindAllStringSubmatch(string(text), -1) {
		all = append(all, m[1]+m[2])
	}
	if len(all) < 80 {
		t.Fatal("fewer phrases than the demo plan has")
	}
	return all
}

// FuzzPhrase reads one phrase in every place that a phrase can stand in. A
// reader answers or refuses, at once, and never panics; what it understood is
// a part of what was written.
func FuzzPhrase(f *testing.F) {
	for _, says := range demoPhrases(f) {
		f.Add(says)
	}
	f.Fuzz(func(t *testing.T, says string) {
		defer time.AfterFunc(2*time.Second, func() { panic("reading stalls: " + says) }).Stop()
		for _, a := range []Agreement{
			{Pay: pay(says)}, {Cancel: cancel(says)}, {Change: change(says)}, {Papers: papers(says)}, {Postpone: &Postpone{Line: said(says)}},
		} {
			a.Signed, a.Price, a.Dates = d(2026, 10, 2), costs(1000_00), []NamedDate{{"invoice", d(2027, 8, 1)}}
			p := wedding(a)
			faults, _ := p.Read()
			for _, fault := range faults {
				if fault.Says == "" {
					t.Errorf("%q: a fault that says nothing: %+v", says, fault)
				}
			}
			if len(faults) > 0 {
				continue
			}
			Schedule(p, NoClosures{})
			for _, part := range understood(&p.Agreements[0]) {
				if !strings.Contains(says, part) {
					t.Errorf("%q was read as %q", says, part)
				}
			}
		}
	})
}

// understood are the parts of its phrases that a quotes.
func understood(a *Agreement) (parts []string) {
	for _, p := range a.Pay {
		parts = append(parts, p.When.Says)
		if p.Back != nil {
			parts = append(parts, p.Back.Says)
		}
	}
	for _, s := range a.Cancel {
		for _, t := range []*Timing{s.From, s.Until} {
			if t != nil {
				parts = append(parts, t.Says)
			}
		}
	}
	for _, c := range a.Change {
		parts = append(parts, c.Label, c.When.Says)
	}
	for _, p := range a.Papers {
		parts = append(parts, p.Label, p.When.Says)
	}
	if a.Postpone != nil {
		parts = append(parts, a.Postpone.Notice.Says)
	}
	return parts
}
