package store

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"banns/milestones"
)

// PlanMost is the largest plan file that is read, in bytes.
const PlanMost = 1 << 20

// depthMost is how deep a plan file may nest; the deepest that means
// anything is 7.
const depthMost = 24

// Fault is a fault of a plan file with the line it stands on; 0 where there
// is no one line.
type Fault struct {
	File string
	Line int
	milestones.Fault
	// Discreet: it tells of nothing that is hidden from the Edit's As.
	Discreet bool
}

// Where is the file, the line and the path in one.
func (f Fault) Where() string {
	where := f.File
	if f.Line > 0 {
		where += ":" + strconv.Itoa(f.Line)
	}
	return strings.TrimSpace(where + " " + f.Path)
}

// Error is the fault in one line, with where it stands and how to mend it.
func (f Fault) Error() string {
	text := f.Where() + ": " + f.Says
	if f.Mend != "" {
		text += "; " + f.Mend
	}
	return text
}

// Faults are all faults of one plan file, in the order of its lines.
type Faults []Fault

// Error is a line for each fault.
func (fs Faults) Error() string {
	var lines []string
	for _, f := range fs {
		lines = append(lines, f.Error())
	}
	return strings.Join(lines, "\n")
}

// Document is a plan file: the text as it was written, comments and all, and
// the plan that it says.
type Document struct {
	File  string
	Plan  *milestones.Plan
	Notes []milestones.Note
	root  *yaml.Node
	lines map[string]int    // by path
	ids   map[string]string // path by item id
}

// line is the line of the plan file that path stands on, or of the nearest
// thing around it.
func (d *Document) line(path string) int {
	for path != "" {
		if n, ok := d.lines[path]; ok {
			return n
		}
		path = path[:max(strings.LastIndexAny(path, "/["), 0)]
	}
	return 0
}

// Where is the file, the line and the path of something in the plan; path may
// be the id of an item, such as catering/pay-2.
func (d *Document) Where(path string) string {
	at := path
	for id := path; id != ""; id = id[:max(strings.LastIndex(id, "/"), 0)] {
		if under, ok := d.ids[id]; ok {
			at = under
			break
		}
	}
	return Fault{File: d.File, Line: d.line(at), Fault: milestones.Fault{Path: path}}.Where()
}

// index notes where the items of the plan are written.
func (d *Document) index() {
	d.ids = map[string]string{}
	for i := range d.Plan.Agreements {
		a := &d.Plan.Agreements[i]
		for n, l := range a.Lines() {
			d.ids[a.Key+"/"+l.Key] = a.Paths()[n]
		}
		d.ids[a.Key+"/postpone"] = "agreements/" + a.Key + "/postpone"
	}
	for _, m := range d.Plan.Countdown.Add {
		d.ids["countdown/"+m.Key] = "countdown/add/" + m.Key
	}
	for _, m := range d.Plan.Countdown.Move {
		d.ids["countdown/"+m.Key] = "countdown/move/" + m.Key
	}
	if d.Plan.Licence != nil {
		d.ids["countdown/licence"] = "licence"
	}
}

// ReadPlan reads a plan file. The error is Faults where the file is wrong:
// all faults at once.
func ReadPlan(file string, text []byte) (*Document, error) { return readPlan(file, text, nil) }

// readPlan reads a plan file, of which whoever wrote something of it may not
// see all.
func readPlan(file string, text []byte, veil *milestones.Veil) (*Document, error) {
	d := &Document{File: file, lines: map[string]int{}}
	root, fault := parse(text)
	if fault != nil {
		fault.File = file
		return nil, Faults{*fault}
	}
	d.root = root
	f := &filed{doc: d, unread: map[string]bool{}}
	top := root.Content[0]
	if top.Kind != yaml.MappingNode {
		f.fault(top, "", `"banns new" writes one to start from`, "this is no plan: it does not begin with key: value lines")
		return nil, f.faults
	}
	d.Plan = f.plan(top)
	var faults []milestones.Fault
	var notes []milestones.Note
	if veil == nil {
		faults, notes = d.Plan.Read()
	} else {
		faults, notes = d.Plan.ReadVeiled(veil)
	}
	for _, one := range faults {
		if !f.torn && !f.unread[one.Path] {
			discreet := veil != nil && slices.Contains(veil.Faults, one)
			f.faults = append(f.faults, Fault{File: file, Line: d.line(one.Path), Fault: one, Discreet: discreet})
		}
	}
	if len(f.faults) > 0 {
		return nil, f.sorted()
	}
	d.Notes = notes
	d.index()
	return d, nil
}

// parse turns text into nodes, and refuses what no plan needs before the
// YAML reader can stall on it.
func parse(text []byte) (*yaml.Node, *Fault) {
	refuse := func(line int, mend, format string, args ...any) (*yaml.Node, *Fault) {
		return nil, &Fault{Line: line, Fault: milestones.Fault{Says: fmt.Sprintf(format, args...), Mend: mend}}
	}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	switch {
	case len(text) > PlanMost:
		return refuse(0, "keep one wedding in a file", "the file has %d bytes, more than the %d that are read", len(text), PlanMost)
	case bytes.HasPrefix(text, []byte("\xff\xfe")), bytes.HasPrefix(text, []byte("\xfe\xff")), bytes.IndexByte(text, 0) >= 0:
		return refuse(0, "save it as UTF-8 text", "the file is not UTF-8 text")
	case !utf8.Valid(text):
		return refuse(badLine(text), "save it as UTF-8", "this line is not UTF-8 text")
	case len(bytes.TrimSpace(text)) == 0:
		return refuse(0, `"banns new" writes one to start from`, "the file is empty")
	}
	if line := tooDeep(text); line > 0 {
		return refuse(line, "close the brackets", "brackets nest deeper than a plan ever does")
	}
	var root, second yaml.Node
	// The YAML reader keeps a CR at the end of a comment, and writes it.
	all := yaml.NewDecoder(bytes.NewReader(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))))
	err := all.Decode(&root)
	if err == nil {
		if err = all.Decode(&second); err == nil {
			return refuse(second.Line, "keep one wedding in a file", "a second document begins here")
		}
	}
	if !errors.Is(err, io.EOF) {
		line, says := yamlSays(err)
		return refuse(line, "phrases with commas or colons stand in quotes", "this is not YAML: %s", says)
	}
	if len(root.Content) == 0 {
		return refuse(0, `"banns new" writes one to start from`, "the file holds no plan")
	}
	return &root, nil
}

var (
	yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)
	// The reader's grammar counts lines from 0, its scanner from 1.
	yamlFromZero = regexp.MustCompile(`^did not find expected (?:node content|'-' indicator|key|',' or|<document start>)`)
)

// yamlSays is what the reader of YAML has against a text, and on which line;
// 0 where it does not say.
func yamlSays(err error) (line int, says string) {
	m := yamlLine.FindStringSubmatch(err.Error())
	if m == nil {
		return 0, err.Error()
	}
	says = err.Error()[len(m[0]):]
	line, _ = strconv.Atoi(m[1])
	if yamlFromZero.MatchString(says) {
		line++
	}
	return line, says
}

func badLine(text []byte) int {
	line := 1
	for len(text) > 0 {
		r, size := utf8.DecodeRune(text)
		if r == utf8.RuneError && size == 1 {
			return line
		}
		if r == '\n' {
			line++
		}
		text = text[size:]
	}
	return line
}

// tooDeep is the line on which brackets nest deeper than depthMost, or 0.
// It counts brackets inside quotes too: a plan has no need for that many.
func tooDeep(text []byte) int {
	depth, line := 0, 1
	for _, b := range text {
		switch b {
		case '[', '{':
			if depth++; depth > depthMost {
				return line
			}
		case ']', '}':
			depth = max(0, depth-1)
		case '\n':
			line++
		}
	}
	return 0
}
