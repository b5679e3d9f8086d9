package store

import (
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"banns/feed"
	"banns/milestones"
)

// writer is whoever makes an edit: their key in the plan, or empty where they
// see all of it. What they keep has to be read by everybody as they meant it.
type writer struct {
	key   string
	keeps bool
}

// veil is the phrases of an edit whose writer may not see all of the plan. It
// is none where they do.
type veil struct {
	*milestones.Veil
	wrote map[string]string // by path as faults have it: the path of the set
}

func newVeil(as string, changed []Set, root *yaml.Node, fresh map[string]*yaml.Node) veil {
	if as == "" {
		return veil{}
	}
	v := veil{wrote: map[string]string{}}
	for _, set := range changed {
		at := counted(root, strings.Split(set.Path, "/"), fresh)
		for _, part := range []string{"/says", "/when"} {
			at = strings.TrimSuffix(at, part)
		}
		v.wrote[at] = set.Path
	}
	v.Veil = &milestones.Veil{
		Seen:  func(p *milestones.Plan) *milestones.Plan { return feed.Seen(p, as) },
		Wrote: func(path string) bool { return v.wrote[path] != "" },
	}
	return v
}

// pinned are sets in which names stand for what their writer meant, and
// whether any had to be written otherwise.
func (v veil) pinned(sets []Set) (pinned []Set, some bool) {
	if v.Veil == nil {
		return sets, false
	}
	pinned = slices.Clone(sets)
	for n, set := range pinned {
		for _, pin := range v.Pins {
			if v.wrote[pin.Path] != set.Path || len(set.Value) != 1 {
				continue
			}
			if at := strings.LastIndex(pinned[n].Value[0], pin.Says); at >= 0 {
				says := pinned[n].Value[0]
				pinned[n].Value, some = []string{says[:at] + pin.Be + says[at+len(pin.Says):]}, true
			}
		}
	}
	return pinned, some
}
