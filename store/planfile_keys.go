package store

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"banns/milestones"
)

// Text is the plan file as it is written: what a person wrote, with its
// comments, and every key.
func (d *Document) Text() ([]byte, error) {
	var buf bytes.Buffer
	enc := yaml.NewEncoder(&buf)
	enc.SetIndent(2)
	if err := enc.Encode(d.root); err != nil {
		return nil, err
	}
	return buf.Bytes(), enc.Close()
}

// lists are the lists of an agreement whose lines have keys.
var lists = []string{"pay", "cancel", "change", "papers"}

// keyed is d with the wedding's id and version, and a key on every line: the
// one that it had in old, or one that was never used. People keep the ids
// that they had. Without an older version, old is an empty plan.
func (d *Document) keyed(old *milestones.Plan, used map[string]bool, id string, version int) (*Document, error) {
	next := &Document{File: d.File, root: clone(d.root)}
	root := next.root.Content[0]
	wedding := child(root, "wedding")
	setChild(wedding, "version", strconv.Itoa(version))
	setChild(wedding, "id", id)
	people := child(root, "people")
	for _, p := range d.Plan.People {
		if id := lasting(old, p); id != p.ID() {
			setChild(child(people, p.Key), "was", id)
		}
	}
	agreements := child(root, "agreements")
	for i := range d.Plan.Agreements {
		a := &d.Plan.Agreements[i]
		was, _ := old.Agreement(a.Key)
		m := matcher{agreement: a.Key, used: used, now: a, was: was}
		for _, list := range lists {
			if n := child(child(agreements, a.Key), list); n != nil {
				m.list(list, n)
			}
		}
	}
	text, err := next.Text()
	if err != nil {
		return nil, err
	}
	return ReadPlan(d.File, text)
}

// lasting is the id of p, who may have been renamed more than once: maren,
// then mara, then mari is maren for good, and so is a mara whose "was" was
// left out of a later file.
func lasting(old *milestones.Plan, p milestones.Person) string {
	same, known := old.Person(p.Key)
	before, renamed := old.Person(p.Was)
	switch {
	case known && (p.Was == "" || p.Was == same.Was || !renamed && same.Was != ""):
		return same.ID()
	case renamed:
		return before.ID()
	}
	return p.ID()
}

// matcher gives the lines of one agreement their keys.
type matcher struct {
	agreement string
	used      map[string]bool
	now, was  *milestones.Agreement // was may be nil
}

// subject is what a line is about: its words, and its words without the
// timing.
type subject struct {
	key, whole, label string
}

// list matches lines without a key: by their whole words, those of one label
// before others; then by what they say without the timing, then as the one
// line left over on each side. Whatever is left is new.
func (m matcher) list(list string, n *yaml.Node) {
	now := subjects(m.now, list)
	var was []subject
	if m.was != nil {
		was = subjects(m.was, list)
	}
	for _, l := range m.now.Lines() {
		if l.Keyed { // in whichever list it stands now
			was = without(was, l.Key)
		}
	}
	free := map[int]bool{}
	for i, line := range n.Content {
		if absent(child(line, "key")) {
			free[i] = true
		}
	}
	for _, same := range []func(a, b subject) bool{
		func(a, b subject) bool { return a.whole == b.whole && a.label == b.label },
		func(a, b subject) bool { return a.whole == b.whole },
		func(a, b subject) bool { return a.label == b.label },
		func(subject, subject) bool { return len(free) == 1 && len(was) == 1 },
	} {
		for i := range n.Content {
			if !free[i] {
				continue
			}
			for _, w := range was {
				if same(now[i], w) {
					setKey(n.Content[i], w.key)
					was = without(was, w.key)
					delete(free, i)
					break
				}
			}
		}
	}
	for i := range n.Content {
		if free[i] {
			setKey(n.Content[i], m.fresh(list, i+1))
		}
	}
}

// fresh is a key that no line of the agreement ever had: by the line's place
// in the list, or the next that is free.
func (m matcher) fresh(list string, place int) string {
	stem := strings.TrimSuffix(list, "s")
	for n := place; ; n++ {
		key := fmt.Sprintf("%s-%d", stem, n)
		if id := m.agreement + "/" + key; !m.used[id] && !m.taken(key) {
			m.used[id] = true
			return key
		}
	}
}

// taken reports whether a line of the file names the key itself.
func (m matcher) taken(key string) bool {
	for _, l := range m.now.Lines() {
		if l.Key == key && l.Keyed {
			return true
		}
	}
	return false
}

func without(all []subject, key string) []subject {
	var rest []subject
	for _, s := range all {
		if s.key != key {
			rest = append(rest, s)
		}
	}
	return rest
}

func subjects(a *milestones.Agreement, list string) []subject {
	var all []subject
	add := func(l milestones.Line, timings ...*milestones.Timing) {
		label := fold(l.Says)
		for _, t := range timings {
			if t != nil {
				label = strings.Replace(label, fold(t.Says), "", 1)
			}
		}
		if l.What != "" {
			label = fold(l.What)
		}
		all = append(all, subject{l.Key, fold(l.Says), strings.TrimSpace(label)})
	}
	switch list {
	case "pay":
		for _, t := range a.Pay {
			add(t.Line, &t.When, t.Back)
		}
	case "cancel":
		for _, t := range a.Cancel {
			add(t.Line, t.From, t.Until)
		}
	case "change":
		for _, t := range a.Change {
			add(t.Line, &t.When)
		}
	case "papers":
		for _, t := range a.Papers {
			add(t.Line, &t.When)
		}
	}
	return all
}

func fold(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }

// child is the value of key in a mapping node, or nil.
func child(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// clone is n and all that is in it; a plan has no aliases.
func clone(n *yaml.Node) *yaml.Node {
	c := *n
	c.Content = nil
	for _, one := range n.Content {
		c.Content = append(c.Content, clone(one))
	}
	return &c
}

// setChild sets a text of a mapping node; a new one stands first.
func setChild(n *yaml.Node, key, value string) {
	if v := child(n, key); v != nil {
		*v = yaml.Node{Kind: yaml.ScalarNode, Value: value, LineComment: v.LineComment}
		return
	}
	n.Content = append([]*yaml.Node{{Kind: yaml.ScalarNode, Value: key}, {Kind: yaml.ScalarNode, Value: value}}, n.Content...)
}

// setKey gives a line its key; a short line takes its longer form.
func setKey(n *yaml.Node, key string) {
	if n.Kind == yaml.ScalarNode {
		long(n, "says")
	}
	setChild(n, "key", key)
}

// long turns what is written as one text into its longer form, in which that
// text stands under key.
func long(n *yaml.Node, key string) {
	short := &yaml.Node{Kind: yaml.ScalarNode, Value: n.Value, Style: n.Style}
	*n = yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle, HeadComment: n.HeadComment,
		LineComment: n.LineComment, FootComment: n.FootComment,
		Content: []*yaml.Node{{Kind: yaml.ScalarNode, Value: key}, short}}
}

// slug is a title as a name for commands: "Maren and Theo" is
// maren-and-theo.
func slug(title string) string { return Slug(title, "wedding") }

// Slug is a title as a key, or otherwise where it has nothing that a key can
// hold.
func Slug(title, otherwise string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(title) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	if s := strings.Trim(b.String(), "-"); s != "" {
		return s
	}
	return otherwise
}
