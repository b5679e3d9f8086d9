package store

import (
	"context"
	"database/sql"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Back is what was taken out of a plan, and the last version that held it: a
// place such as appointments/tasting, or a milestone as countdown/rings, which
// the plan may have added itself or only leave out.
type Back struct {
	Path    string
	Version int
}

// broughtBack is the newest version of a wedding with what an edit brings
// back, as it was last.
func broughtBack(ctx context.Context, tx *sql.Tx, last *Document, e Edit) (*Document, error) {
	if e.Back.Path == "" {
		return last, nil
	}
	old, err := load(ctx, tx, Wedding{ID: last.Plan.ID, Name: e.Wedding}, e.Back.Version)
	if err != nil {
		return nil, err
	}
	return last.WithBack(old, e.Back.Path)
}

// WithBack is d with what stands at a path as it was in an older version,
// unsaved; what stands there now is left as it is. The error is Faults where
// the plan would be wrong, and ErrUnknown where the older version does not
// have it either.
func (d *Document) WithBack(old *Document, path string) (*Document, error) {
	root, keys := clone(d.root), strings.Split(path, "/")
	if key, ok := strings.CutPrefix(path, "countdown/"); ok {
		keys = []string{"countdown", "add", key}
		left := at(root.Content[0], []string{"countdown", "drop"})
		if undropped(left, key) && absent(at(old.root.Content[0], keys)) {
			keys = nil
		}
	}
	if keys != nil && absent(at(root.Content[0], keys)) {
		if err := bring(root.Content[0], old.root.Content[0], keys); err != nil {
			return nil, err
		}
	}
	back, err := (&Document{root: root}).Text()
	if err != nil {
		return nil, err
	}
	return ReadPlan(d.File, back)
}

// undropped takes a milestone from the list of those that the plan leaves
// out, and reports whether it stood there.
func undropped(left *yaml.Node, key string) bool {
	if left == nil {
		return false
	}
	before := len(left.Content)
	left.Content = slices.DeleteFunc(left.Content, func(one *yaml.Node) bool { return one.Value == key })
	return len(left.Content) < before
}

// bring puts what was at a path into n.
func bring(n, was *yaml.Node, keys []string) error {
	last := len(keys) - 1
	for _, key := range keys[:last] {
		if was = step(was, key); absent(was) {
			return ErrUnknown
		}
		n = made(n, key, was.Kind)
	}
	gone := step(was, keys[last])
	switch {
	case absent(gone) || n.Kind != was.Kind:
		return ErrUnknown
	case n.Kind == yaml.MappingNode:
		n.Content = append(n.Content, text(keys[last]))
	}
	n.Content = append(n.Content, clone(gone))
	return nil
}

// made is what stands under key in a mapping, made where it is missing.
func made(n *yaml.Node, key string, kind yaml.Kind) *yaml.Node {
	under := child(n, key)
	switch {
	case under == nil:
		under = &yaml.Node{Kind: kind}
		n.Content = append(n.Content, text(key), under)
	case absent(under):
		*under = yaml.Node{Kind: kind}
	}
	return under
}
