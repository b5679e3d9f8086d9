package main

import (
	"bufio"
	"fmt"
	"strings"

	"banns/conflicts"
	"banns/milestones"
)

// patternCmd finds the rule behind the past editions of a yearly event. Its
// JSON:
//
//	{says, fits, of, exceptions, dates, rivals: [{says, dates}], refused}
//
// says is the rule in words, and what else is to be known of it; fits of the
// editions are by it, and exceptions are the first days of the others. dates
// are all days of the edition of the year asked for; rivals are other rules
// that explain as many editions, and the days that they give. refused is null,
// or why nothing is expected: says is then empty, and so are the lists.
type patternCmd struct {
	File   string `arg:"" help:"Past editions, one date a line; days in a row, or FROM/TO, are one edition. - is standard input."`
	Year   int    `help:"Year to date the edition of." required:"" placeholder:"YEAR"`
	Region string `help:"Whose public holidays the event may be counted from, such as US-MI; none otherwise." placeholder:"REGION"`
	JSON   bool   `name:"json" help:"Write JSON."`
}

type patternJSON struct {
	Says       string            `json:"says"`
	Fits       int               `json:"fits"`
	Of         int               `json:"of"`
	Exceptions []milestones.Date `json:"exceptions"`
	Dates      []milestones.Date `json:"dates"`
	Rivals     []rivalJSON       `json:"rivals"`
	Refused    *string           `json:"refused"`
}

type rivalJSON struct {
	Says  string            `json:"says"`
	Dates []milestones.Date `json:"dates"`
}

// Validate refuses years that the calendar's form cannot write.
func (c *patternCmd) Validate() error {
	if c.Year < 1 || c.Year > 9999 {
		return wrongf("--year %d is no year from 1 to 9999", c.Year)
	}
	return nil
}

// Run says by what rule the event was held, and when that expects it.
func (c *patternCmd) Run(e *env) error {
	if c.Region != "" {
		if known, _ := conflicts.ClosuresFor(c.Region); known == (milestones.NoClosures{}) {
			return wrongf("no holidays are known for %q; write a region as US, US-MI or DE-BY, or leave --region out", c.Region)
		}
	}
	editions, err := e.editions(c.File)
	if err != nil {
		return err
	}
	p := conflicts.FindPattern(editions, c.Year, c.Region)
	if !c.JSON {
		newPrinter(e.out).pattern(p)
		return nil
	}
	return writeJSON(e.out, newPatternJSON(p))
}

func newPatternJSON(p conflicts.Pattern) patternJSON {
	says := strings.Join(append([]string{p.Words()}, p.Notes()...), "; ")
	out := patternJSON{Says: says, Fits: p.Fits, Of: p.Of, Exceptions: []milestones.Date{},
		Dates: []milestones.Date{}, Rivals: []rivalJSON{}, Refused: text(p.Refused)}
	if p.Refused != "" {
		return out
	}
	out.Exceptions = append(out.Exceptions, p.Exceptions...)
	out.Dates = append(out.Dates, p.Days()...)
	for _, r := range p.Rivals {
		out.Rivals = append(out.Rivals, rivalJSON{r.Rule.String(), r.Days()})
	}
	return out
}

// editionsMost is the size of the longest list of editions, in bytes.
const editionsMost = 1 << 20

// editions reads past editions from a file, or from standard input for "-".
func (e *env) editions(path string) ([]conflicts.Edition, error) {
	text, err := e.bytes(path, editionsMost, "write the dates of past editions into one, one a line as 2025-04-21")
	if err != nil {
		return nil, err
	}
	name := path
	if path == "-" {
		name = "standard input"
	}
	if len(text) > editionsMost {
		return nil, wrongf("%s is longer than 1 MiB; give one date a line, of one event", name)
	}
	return readEditions(name, string(text))
}

// readEditions reads one edition a line: a date, or the first and the last
// with a stroke between them (ISO 8601-1, 5.5.2). Blank lines, and what follows
// a #, say nothing. All faults come at once.
func readEditions(name, text string) ([]conflicts.Edition, error) {
	var editions []conflicts.Edition
	var faults []string
	lines := bufio.NewScanner(strings.NewReader(strings.TrimPrefix(text, "\ufeff")))
	lines.Buffer(nil, editionsMost+1)
	for n := 1; lines.Scan(); n++ {
		line, _, _ := strings.Cut(lines.Text(), "#")
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		edition, err := readEdition(line)
		if err != nil {
			faults = append(faults, fmt.Sprintf("%s:%d: %v", name, n, err))
			continue
		}
		editions = append(editions, edition)
	}
	if n := len(faults); n > faultsShown {
		faults = append(faults[:faultsShown], fmt.Sprintf("the first %d of %d faults", faultsShown, n))
	}
	if faults != nil {
		return nil, wrong{strings.Join(faults, "\n")}
	}
	return editions, nil
}

func readEdition(line string) (conflicts.Edition, error) {
	first, latest, several := strings.Cut(line, "/")
	if !several {
		latest = first
	}
	from, err := milestones.ParseDate(strings.TrimSpace(first))
	if err != nil {
		return conflicts.Edition{}, err
	}
	to, err := milestones.ParseDate(strings.TrimSpace(latest))
	if err != nil {
		return conflicts.Edition{}, err
	}
	if to.Before(from) {
		return conflicts.Edition{}, fmt.Errorf("%s is before %s; write the first day first", to.Words(), from.Words())
	}
	return conflicts.Edition{From: from, To: to}, nil
}

// pattern prints the rule, how well it held, and what it expects.
func (p printer) pattern(found conflicts.Pattern) {
	if found.Refused != "" {
		fmt.Fprintf(p.out, "Nothing can be expected for %d: %s.\n", found.Year, found.Refused)
		return
	}
	words := found.Words()
	fmt.Fprintf(p.out, "%s\n  %s\n", strings.ToUpper(words[:1])+words[1:], found.Held())
	for _, note := range found.Notes() {
		fmt.Fprintf(p.out, "  %s\n", note)
	}
	fmt.Fprintf(p.out, "\nExpected in %d: %s\n", found.Year, dayWords(found.Edition))
	if len(found.Rivals) > 0 {
		fmt.Fprintln(p.out, "\nThese explain as many of the editions:")
	}
	for _, r := range found.Rivals {
		fmt.Fprintf(p.out, "  %s: %s\n", r.Rule, dayWords(r.Edition))
	}
	fmt.Fprintln(p.out, "\nAn expected date is a guess until the organiser announces one.")
}

func dayWords(e conflicts.Edition) string {
	if e.From == e.To {
		return e.From.Words()
	}
	return e.From.Words() + " to " + e.To.Words()
}
