package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"go.yaml.in/yaml/v3"
)

// Edit is a change to a stored plan by somebody who saw one version of it.
type Edit struct {
	Wedding string // name or id
	Seen    int    // the version that was seen
	Sets    []Set
	Back    Back   // what is brought back first; none where its path is empty
	By      string // who saves it, in words
	As      string // key of whoever saves it; what is hidden from them is not meant by what they write. Empty: they see all
}

// Set gives one place of a plan a value.
//
// Path names the place by keys: wedding/date, people/priya/phone,
// agreements/catering/pay/pay-1/done. What is missing on the way is made. A
// line that is new goes by a plus sign, alone (agreements/catering/pay/+) or
// with a number that ties several Sets to one line
// (agreements/catering/pay/+1/says). What a plan may write as one text, such as
// a place that is a name alone, is written out where more is set of it.
//
// Value is one text, or the texts of a list such as "for". None takes the
// place away: a field, a line, a person, an agreement.
type Set struct {
	Path  string
	Value []string
	List  bool // written as a list, though of one text or none
}

// Overlap is a place that somebody else has changed since, to something else.
type Overlap struct {
	Path   string
	Seen   string // as it was when the edit began
	Theirs string // as it is now
	Yours  string
}

// Overlaps are all places in which an edit meets another; nothing was saved.
type Overlaps []Overlap

// Error is a line for each place.
func (all Overlaps) Error() string {
	var lines []string
	for _, o := range all {
		lines = append(lines, fmt.Sprintf("%s was %q, is now %q, and was to be %q", o.Path, o.Seen, o.Theirs, o.Yours))
	}
	return "somebody else has changed the same: " + strings.Join(lines, "; ")
}

// Update saves an edit as the next version of its wedding, and publishes it,
// in one transaction. What others changed since the version that was seen
// stays; where they changed the very same places the error is Overlaps. It is
// Faults where the plan would be wrong. An edit that changes nothing makes no
// version.
func (s *Store) Update(ctx context.Context, e Edit, now time.Time) (done Imported, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		last, err := newest(ctx, tx, e.Wedding)
		if err != nil {
			return err
		}
		seen := last
		if e.Seen != last.Plan.Version {
			w := Wedding{ID: last.Plan.ID, Name: e.Wedding}
			if seen, err = load(ctx, tx, w, e.Seen); err != nil {
				return err
			}
		}
		base, err := broughtBack(ctx, tx, last, e)
		if err != nil {
			return err
		}
		next, err := base.edited(seen, e.Sets, writer{e.As, true})
		if err != nil {
			return err
		}
		if written(next.root.Content[0]) == written(last.root.Content[0]) {
			w := Wedding{ID: last.Plan.ID, Name: e.Wedding, Title: last.Plan.Wedding.Title, Version: last.Plan.Version}
			done = Imported{Wedding: w, Was: last.Plan, Is: last.Plan}
			return nil
		}
		done, err = s.save(ctx, tx, Import{Document: next, By: e.By}, now)
		return err
	})
	return done, err
}

// With is d as it would be with some places set, unsaved: to show what an
// edit would come to. The error is Faults where it would be wrong.
func (d *Document) With(sets ...Set) (*Document, error) { return d.edited(d, sets, writer{}) }

// WithAs is With for whoever has that key; see Edit.
func (d *Document) WithAs(key string, sets ...Set) (*Document, error) {
	return d.edited(d, sets, writer{key: key})
}

// edited is d with the changes of an edit that began from seen, by a writer.
// Faults name the places as the edit does.
func (d *Document) edited(seen *Document, sets []Set, by writer) (*Document, error) {
	root, overlaps := clone(d.root), Overlaps(nil)
	fresh := map[string]*yaml.Node{} // new lines by path
	var changed []Set
	for _, set := range sets {
		path := strings.Split(set.Path, "/")
		was, is, wanted := written(at(seen.root.Content[0], path)), written(at(d.root.Content[0], path)), written(set.node())
		switch {
		case was == wanted: // not changed by this edit
			continue
		case is != was && is != wanted:
			overlaps = append(overlaps, Overlap{set.Path, was, is, wanted})
			continue
		}
		if err := set.put(root.Content[0], fresh); err != nil {
			return nil, err
		}
		changed = append(changed, set)
	}
	if overlaps != nil {
		return nil, overlaps
	}
	text, err := (&Document{root: root}).Text()
	if err != nil {
		return nil, err
	}
	v := newVeil(by.key, changed, root.Content[0], fresh)
	next, err := readPlan(d.File, text, v.Veil)
	var faults Faults
	if errors.As(err, &faults) {
		faults.named(sets, root.Content[0], fresh)
	} else if err != nil {
		return nil, err
	}
	if faults = append(outOfBounds(changed), faults...); len(faults) > 0 {
		return nil, faults
	}
	if pinned, some := v.pinned(sets); some && by.keeps {
		return d.edited(seen, pinned, writer{})
	}
	return next, nil
}

// named has the faults tell their places as the sets of an edit do: by the
// keys of lines, where a plan file's own faults count them.
func (fs Faults) named(sets []Set, root *yaml.Node, fresh map[string]*yaml.Node) {
	for _, set := range sets {
		counted := counted(root, strings.Split(set.Path, "/"), fresh)
		for n, f := range fs {
			rest, ok := strings.CutPrefix(f.Path, counted)
			switch {
			case f.Path+"/says" == counted: // of the phrase itself
				fs[n].Path = set.Path
			case ok && (rest == "" || rest[0] == '/'):
				fs[n].Path = set.Path + rest
			}
		}
	}
}

// counted is a path as faults have it: agreements/catering/pay[2].
func counted(n *yaml.Node, path []string, fresh map[string]*yaml.Node) string {
	var out strings.Builder
	for i, key := range path {
		if n == nil {
			return out.String() + "/" + strings.Join(path[i:], "/")
		}
		under := step(n, key)
		if n.Kind != yaml.SequenceNode {
			out.WriteString("/" + key)
			n = under
			continue
		}
		if isNew(key) {
			if under = fresh[strings.Join(path[:i+1], "/")]; under == nil {
				under = n.Content[len(n.Content)-1]
			}
		}
		fmt.Fprintf(&out, "[%d]", slices.Index(n.Content, under)+1)
		n = under
	}
	return strings.TrimPrefix(out.String(), "/")
}

func isNew(key string) bool { return strings.HasPrefix(key, "+") }

// inShort is what a plan may write as one text, by key, and what that text
// says of it.
var inShort = map[string]string{"place": "name", "postpone": "says"}

// at is the node at a path, or nil. One text is also what it says in short:
// wedding/place/name is that of a place which is a name alone.
func at(n *yaml.Node, path []string) *yaml.Node {
	for i, key := range path {
		if i > 0 && n.Kind == yaml.ScalarNode && !absent(n) && inShort[path[i-1]] == key {
			continue
		}
		if n = step(n, key); n == nil {
			return nil
		}
	}
	return n
}

// step is what stands under key in a mapping, or the line of that key in a
// list, or nil. A list whose lines have no keys is gone through by number,
// from 1.
func step(n *yaml.Node, key string) *yaml.Node {
	if n.Kind != yaml.SequenceNode {
		return child(n, key)
	}
	for _, line := range n.Content {
		if k := child(line, "key"); k != nil && k.Value == key {
			return line
		}
	}
	if place, err := strconv.ParseUint(key, 10, 16); err == nil && place > 0 && int(place) <= len(n.Content) {
		return n.Content[place-1]
	}
	return nil
}

// written is a node as text without comments or style, so that two compare.
func written(n *yaml.Node) string {
	switch {
	case n == nil || absent(n):
		return ""
	case n.Kind == yaml.ScalarNode:
		return n.Value
	}
	var parts []string
	for _, c := range n.Content {
		parts = append(parts, strconv.Quote(written(c)))
	}
	if n.Kind == yaml.SequenceNode {
		return "[" + strings.Join(parts, ", ") + "]"
	}
	for i := 0; i+1 < len(n.Content); i += 2 { // the order of keys says nothing
		parts[i/2] = n.Content[i].Value + ": " + parts[i+1]
	}
	parts = parts[:len(n.Content)/2]
	slices.Sort(parts)
	return "{" + strings.Join(parts, ", ") + "}"
}

// node is the value as it is written in a plan, or nil for none.
func (set Set) node() *yaml.Node {
	if len(set.Value) == 0 {
		return nil
	}
	if len(set.Value) == 1 && !set.List {
		return text(set.Value[0])
	}
	n := &yaml.Node{Kind: yaml.SequenceNode, Style: yaml.FlowStyle}
	for _, v := range set.Value {
		n.Content = append(n.Content, text(v))
	}
	return n
}

// text is a scalar that reads back as the same text.
func text(s string) *yaml.Node {
	n := &yaml.Node{}
	n.SetString(s)
	return n
}

// put gives the place its value, making what is missing on the way.
func (set Set) put(n *yaml.Node, fresh map[string]*yaml.Node) error {
	path, value := strings.Split(set.Path, "/"), set.node()
	if value == nil {
		remove(n, path)
		return nil
	}
	last := len(path) - 1
	for i := range last {
		if n = enter(n, path[:i+2], fresh); n == nil {
			return fmt.Errorf("%s: there is no %s: %w", set.Path, strings.Join(path[:i+1], "/"), ErrUnknown)
		}
	}
	switch under := step(n, path[last]); {
	case isNew(path[last]) && n.Kind == yaml.SequenceNode:
		n.Content = append(n.Content, value)
		fresh[set.Path] = value
	case under != nil:
		value.HeadComment, value.LineComment, value.FootComment = under.HeadComment, under.LineComment, under.FootComment
		*under = *value
	case n.Kind == yaml.MappingNode:
		n.Content = append(n.Content, text(path[last]), value)
	default:
		return fmt.Errorf("%s: there is no such line: %w", set.Path, ErrUnknown)
	}
	return nil
}

// enter is what stands in n under the last key of path but one, made where
// it is missing; nil where it cannot be. The last key tells what is to be
// made: a list where it is of a new line.
func enter(n *yaml.Node, path []string, fresh map[string]*yaml.Node) *yaml.Node {
	key, next := path[len(path)-2], path[len(path)-1]
	kind := yaml.MappingNode
	if isNew(next) {
		kind = yaml.SequenceNode
	}
	under := step(n, key)
	switch {
	case under != nil && !absent(under):
		if under.Kind == yaml.ScalarNode {
			if inShort[key] == "" {
				return nil
			}
			long(under, inShort[key])
		}
	case under != nil:
		*under = yaml.Node{Kind: kind}
	case isNew(key) && n.Kind == yaml.SequenceNode:
		at := strings.Join(path[:len(path)-1], "/")
		if under = fresh[at]; under == nil {
			under = &yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle}
			fresh[at] = under
			n.Content = append(n.Content, under)
		}
	case n.Kind == yaml.MappingNode:
		under = &yaml.Node{Kind: kind}
		n.Content = append(n.Content, text(key), under)
	}
	return under
}

// remove takes away what stands at a path, and says nothing where nothing
// does.
func remove(n *yaml.Node, path []string) {
	whole := path[:len(path)-1]
	last, root := path[len(path)-1], n
	if n = at(root, whole); n == nil {
		return
	}
	if n.Kind == yaml.ScalarNode && n == at(root, path) { // all that it says
		remove(root, whole)
		return
	}
	if n.Kind == yaml.SequenceNode {
		gone := step(n, last)
		n.Content = slices.DeleteFunc(n.Content, func(line *yaml.Node) bool { return line == gone })
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == last {
			n.Content = slices.Delete(n.Content, i, i+2)
			return
		}
	}
}

// At is what stands at a path of the plan as it is written: one text, the
// texts of a list, or nothing. See Set for paths.
func (d *Document) At(path string) []string {
	n := at(d.root.Content[0], strings.Split(path, "/"))
	switch {
	case absent(n):
		return nil
	case n.Kind == yaml.ScalarNode:
		return []string{n.Value}
	case n.Kind != yaml.SequenceNode:
		return nil
	}
	var all []string
	for _, one := range n.Content {
		all = append(all, one.Value)
	}
	return all
}
