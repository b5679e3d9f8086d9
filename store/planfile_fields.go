package store

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"banns/milestones"
)

// filed reads YAML nodes into a plan and gathers the faults.
type filed struct {
	doc    *Document
	faults Faults
	unread map[string]bool // paths whose phrase is missing, which is said already
	torn   bool            // a whole section is: what names its members would seem wrong too
}

func (f *filed) sorted() Faults {
	slices.SortStableFunc(f.faults, func(a, b Fault) int { return a.Line - b.Line })
	return f.faults
}

func (f *filed) fault(n *yaml.Node, path, mend, format string, args ...any) {
	line := f.doc.line(path)
	if n != nil {
		line = n.Line
	}
	f.faults = append(f.faults, Fault{File: f.doc.File, Line: line, Fault: milestones.Fault{Path: path, Says: fmt.Sprintf(format, args...), Mend: mend}})
}

// table is one mapping of the file: its keys in order, and their values.
type table struct {
	f      *filed
	node   *yaml.Node
	path   string
	keys   []string
	values map[string]*yaml.Node
	meant  map[string]bool // keys that something misspelt seems to mean
	merges bool            // something else than a word stands for keys: any may be in it
}

// sub is the path of key inside t.
func (t table) sub(key string) string { return strings.TrimPrefix(t.path+"/"+key, "/") }

// table reads n as a mapping. With allowed keys named, others are faults.
func (f *filed) table(n *yaml.Node, path string, allowed ...string) table {
	t := table{f: f, node: n, path: path, values: map[string]*yaml.Node{}, meant: map[string]bool{}}
	if n.Kind == yaml.AliasNode {
		f.fault(n, path, "write it out", "a plan has no aliases (*%s)", n.Value)
		return t
	}
	if n.Kind != yaml.MappingNode {
		if !absent(n) {
			f.fault(n, path, "write it as key: value lines", "a set of key: value lines belongs here")
		}
		return t
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		key := k.Value
		switch _, twice := t.values[key]; {
		case k.Kind != yaml.ScalarNode || k.Tag == "!!merge":
			f.fault(k, path, "write the lines out", "only plain words can stand before a colon")
			t.merges = true
		case twice:
			f.fault(k, t.sub(key), "keep one of them", "%q stands here twice, first on line %d", key, f.doc.lines[t.sub(key)])
		case len(allowed) > 0 && !slices.Contains(allowed, key):
			mend := "known here are: " + strings.Join(allowed, ", ")
			if found := milestones.Nearest(key, allowed); found != "" {
				mend = found
				t.meant[strings.Split(found, `"`)[1]] = true
			}
			f.fault(k, t.sub(key), mend, "%q means nothing here", key)
		default:
			t.keys = append(t.keys, key)
			t.values[key] = v
			f.doc.lines[t.sub(key)] = k.Line
		}
	}
	return t
}

// absent reports whether a value is left empty.
func absent(n *yaml.Node) bool { return n == nil || n.Kind == yaml.ScalarNode && n.Tag == "!!null" }

// text reads a value as text, whatever YAML would make of it.
func (t table) text(key string) string {
	n := t.values[key]
	if absent(n) {
		return ""
	}
	return strings.TrimSpace(t.f.scalar(n, t.sub(key)))
}

func (f *filed) scalar(n *yaml.Node, path string) string {
	switch {
	case n.Kind == yaml.AliasNode:
		f.fault(n, path, "write it out", "a plan has no aliases (*%s)", n.Value)
		return ""
	case n.Kind != yaml.ScalarNode:
		f.fault(n, path, "phrases with commas stand in quotes", "one piece of text belongs here")
		return ""
	}
	return n.Value
}

// must is text that may not be left out.
func (t table) must(key, such string) string {
	s := t.text(key)
	if s == "" && !t.misread(key) {
		t.f.fault(t.values[key], t.sub(key), "write for instance "+such, "%s is missing", key)
	}
	return s
}

// misread reports whether something is said already that would make key seem
// to be missing: it is misspelt, or wrong in itself, or t is no table at all.
func (t table) misread(key string) bool {
	return t.meant[key] || t.merges || t.f.hasFault(t.sub(key)) || t.node.Kind != yaml.MappingNode && !absent(t.node)
}

func (f *filed) hasFault(path string) bool {
	return slices.ContainsFunc(f.faults, func(one Fault) bool { return one.Path == path })
}

// read gives the text of key to parse, and notes what parse says against it.
func read[T any](t table, key string, parse func(string) (T, error)) (v T) {
	s := t.text(key)
	if s == "" {
		return v
	}
	v, err := parse(s)
	if err != nil {
		t.f.refused(t.values[key], t.sub(key), err)
	}
	return v
}

// refused notes an error that gives the mend behind a semicolon.
func (f *filed) refused(n *yaml.Node, path string, err error) {
	says, mend, _ := strings.Cut(err.Error(), "; ")
	f.fault(n, path, mend, "%s", says)
}

// maybe is read, and nil where the key is left out.
func maybe[T any](t table, key string, parse func(string) (T, error)) *T {
	if t.text(key) == "" {
		return nil
	}
	v := read(t, key, parse)
	return &v
}

// words reads a list of names, or one name alone.
func (t table) words(key string) []string {
	n := t.values[key]
	if absent(n) {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		if name := t.text(key); name != "" {
			return []string{name}
		}
		return nil
	}
	var all []string
	for _, one := range t.list(key) {
		if absent(one.node) {
			t.f.fault(one.node, one.path, "write a name, or take it out", "a name is missing")
		} else if name := strings.TrimSpace(t.f.scalar(one.node, one.path)); name != "" {
			all = append(all, name)
		}
	}
	return all
}

type entry struct {
	node *yaml.Node
	path string
}

// list reads a sequence; its entries count from 1.
func (t table) list(key string) []entry {
	n := t.values[key]
	if absent(n) {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		t.f.fault(n, t.sub(key), "begin each line with a dash", "a list belongs here")
		return nil
	}
	var all []entry
	for i, one := range n.Content {
		path := fmt.Sprintf("%s[%d]", t.sub(key), i+1)
		t.f.doc.lines[path] = one.Line
		all = append(all, entry{one, path})
	}
	return all
}

// dates reads a list of days.
func (t table) dates(key string) []milestones.Date {
	var all []milestones.Date
	for _, one := range t.list(key) {
		s := strings.TrimSpace(t.f.scalar(one.node, one.path))
		if s == "" && t.f.hasFault(one.path) {
			continue
		}
		d, err := day(s)
		if err != nil {
			t.f.refused(one.node, one.path, err)
		}
		all = append(all, d)
	}
	return all
}

// each visits the members of the mapping under key, each by its own key.
func (t table) each(key string, visit func(key string, n *yaml.Node, path string)) {
	n := t.values[key]
	if absent(n) {
		return
	}
	t.f.torn = t.f.torn || t.path == "" && n.Kind != yaml.MappingNode
	members := t.f.table(n, t.sub(key))
	for _, k := range members.keys {
		visit(k, members.values[k], members.sub(k))
	}
}

// oneOf reads a word that must be one of the known ones.
func oneOf[T ~string](t table, key string, known []T) T {
	s := T(t.text(key))
	if s != "" && !slices.Contains(known, s) {
		var all []string
		for _, k := range known {
			all = append(all, string(k))
		}
		mend := milestones.Nearest(string(s), all)
		if mend == "" {
			mend = "write one of: " + strings.Join(all, ", ")
		}
		t.f.fault(t.values[key], t.sub(key), mend, "%q is not known as %s", s, key)
	}
	return s
}

// dated reads a mapping of names and days; open, or nothing, is a day that is
// not known yet.
func (t table) dated(key string) []milestones.NamedDate {
	n := t.values[key]
	if absent(n) {
		return nil
	}
	t.f.torn = t.f.torn || n.Kind != yaml.MappingNode
	var all []milestones.NamedDate
	members := t.f.table(n, t.sub(key))
	for _, name := range members.keys {
		all = append(all, milestones.NamedDate{Name: name, Date: read(members, name, openDay)})
	}
	return all
}

// openDay reads a day, or "open" as none yet.
func openDay(s string) (milestones.Date, error) {
	if s == "open" {
		return milestones.Date{}, nil
	}
	return day(s)
}

// day reads a day of the years that calendars are good for.
func day(s string) (milestones.Date, error) {
	d, err := milestones.ParseDate(s)
	if err == nil && (d.Year < 1900 || d.Year > 2200) {
		return d, fmt.Errorf("%s is not between 1900 and 2200; look at the year", d)
	}
	return d, err
}

func yes(s string) (bool, error) {
	switch strings.ToLower(s) {
	case "yes", "true":
		return true, nil
	case "no", "false":
		return false, nil
	}
	return false, fmt.Errorf("%q is neither yes nor no; write one of: yes, no", s)
}
