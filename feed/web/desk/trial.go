package desk

import (
	"errors"
	"slices"
	"strings"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
	"banns/store"
)

// trial is what an agreement would come to as it was typed, unsaved: read,
// linked and dated by what reads, links and dates every plan. Lines that are
// not understood are left out, so that the others are still shown.
type trial struct {
	plan     *milestones.Plan // nil where nothing can be read at all
	closures milestones.Closures
	entries  []feed.Entry // of the agreement, that the visitor sees
	asked    []milestones.Question
	keys     map[string]string      // the line of a path such as agreements/catering/pay/+1, by its key in plan
	faults   map[string]store.Fault // by the path of the field
	others   []store.Fault          // of no field of the form
}

// stored is a trial of the plan as it stands.
func (s *sight) stored(key string) trial {
	t := trial{plan: s.doc.Plan, keys: map[string]string{}, faults: map[string]store.Fault{}}
	t.date(s, key)
	return t
}

// try is a trial of sets on the agreement called key.
func (s *sight) try(key string, sets []store.Set) trial {
	t := trial{keys: map[string]string{}, faults: map[string]store.Fault{}}
	const most = 2 * linesMost // more than a form has lines
	for range most {
		doc, err := s.doc.WithAs(s.key, sets...)
		var faults store.Faults
		if err == nil {
			t.plan = doc.Plan
			t.match(key, sets)
			t.date(s, key)
			break
		}
		if !errors.As(err, &faults) {
			break
		}
		left := t.leave(s, key, sets, faults)
		if len(left) == len(sets) {
			if left = t.culprit(s, sets); len(left) == len(sets) {
				break
			}
		}
		sets = left
	}
	return t
}

// culprit finds the line without which all the others stand: it is what
// something elsewhere in the plan has a fault with. Another "final headcount"
// may leave in doubt what a third agreement counts from.
func (t *trial) culprit(s *sight, sets []store.Set) []store.Set {
	const most = 40 // readings of a plan
	tried := map[string]bool{}
	for _, set := range slices.Backward(sets) {
		line := lineOf(set.Path)
		if tried[line] || line == set.Path || len(tried) == most {
			continue
		}
		tried[line] = true
		left := slices.DeleteFunc(slices.Clone(sets), func(one store.Set) bool { return within(one.Path, line) })
		if _, err := s.doc.WithAs(s.key, left...); err == nil {
			one := t.others[0]
			one.Says, one.Mend = "with this line, "+s.elsewhere(one)+one.Says, "call it something else here"
			t.faults[line+"/says"] = one
			t.others = nil
			return left
		}
	}
	return sets
}

// elsewhere names what of the plan a fault is in, where the visitor sees it.
func (s *sight) elsewhere(f store.Fault) string {
	parts := strings.Split(f.Path, "/")
	if len(parts) > 1 && parts[0] == "agreements" {
		if a, ok := s.plan.Agreement(parts[1]); ok {
			return "in the agreement with " + a.With + " "
		}
		return ""
	}
	for _, e := range s.entries {
		if within(f.Path, planPath(e.ID)) {
			return "of “" + e.Title + "”: "
		}
	}
	return ""
}

// leave is sets without those that faults are about, which are noted.
func (t *trial) leave(s *sight, key string, sets []store.Set, faults store.Faults) []store.Set {
	left := slices.Clone(sets)
	t.others = nil
	for _, one := range faults {
		one = s.discreet(one)
		under := lineOf(one.Path)
		if one.Path == "agreements/"+key+"/pay" { // of all payments: without a price they have no sum
			under = "agreements/" + key + "/price"
			if !slices.ContainsFunc(sets, func(set store.Set) bool { return within(set.Path, under) }) {
				under = lastLine(sets, one.Path)
			}
		}
		about := func(set store.Set) bool { return within(set.Path, under) }
		if !slices.ContainsFunc(sets, about) {
			t.others = append(t.others, one)
			continue
		}
		if _, known := t.faults[one.Path]; !known {
			t.faults[one.Path] = one
		}
		left = slices.DeleteFunc(left, about)
	}
	return left
}

// within reports whether path is under, or stands below it.
func within(path, under string) bool { return path == under || strings.HasPrefix(path, under+"/") }

// lineOf is the line that a path is in, or else the path itself.
func lineOf(path string) string {
	parts := strings.Split(path, "/")
	if len(parts) > 3 && slices.Contains(termLists, milestones.List(parts[2])) {
		return strings.Join(parts[:4], "/")
	}
	if len(parts) > 3 { // a price, a day with a name, what is said of moving
		return strings.Join(parts[:3], "/")
	}
	return path
}

// lastLine is the last line of a list that is set, or empty.
func lastLine(sets []store.Set, list string) string {
	for _, set := range slices.Backward(sets) {
		if within(set.Path, list) {
			return lineOf(set.Path)
		}
	}
	return ""
}

// match finds out by which keys the new lines go: they stand behind the
// others, in the order in which they are set.
func (t *trial) match(key string, sets []store.Set) {
	a, ok := t.plan.Agreement(key)
	if !ok {
		return
	}
	for _, list := range termLists {
		var fresh []string
		for _, set := range sets {
			base := lineOf(set.Path)
			if strings.HasPrefix(base, "agreements/"+key+"/"+string(list)+"/+") && !slices.Contains(fresh, base) {
				fresh = append(fresh, base)
			}
		}
		lines := linesOf(a, list)
		for n, base := range fresh {
			t.keys[base] = lines[len(lines)-len(fresh)+n].Key
		}
	}
}

// date works out the items of the plan, and keeps what the visitor sees of
// the agreement.
func (t *trial) date(s *sight, key string) {
	t.closures, _ = conflicts.ClosuresFor(t.plan.Wedding.Region)
	items := milestones.Schedule(t.plan, t.closures)
	for i := range items {
		if items[i].Agreement != key {
			continue
		}
		if s.key == "" {
			t.entries = append(t.entries, feed.Whole(t.plan, &items[i]))
		} else {
			t.entries = append(t.entries, feed.View(t.plan, items[i:i+1], s.key)...)
		}
	}
	for _, q := range milestones.Questions(t.plan, t.closures) {
		if q.Agreement == key && q.Open() && !(q.Doubt == milestones.DoubtPaid && t.misses(key)) {
			t.asked = append(t.asked, q)
		}
	}
}

// misses reports whether a payment or the price was not understood: what the
// payments come to is not known then.
func (t *trial) misses(key string) bool {
	for path := range t.faults {
		if base := "agreements/" + key; within(path, base+"/pay") || within(path, base+"/price") {
			return true
		}
	}
	return false
}

// term is the key of the line at a path.
func (t *trial) term(path string) string {
	if key, fresh := t.keys[path]; fresh {
		return key
	}
	return path[strings.LastIndex(path, "/")+1:]
}
