package store

import (
	"go.yaml.in/yaml/v3"

	"banns/milestones"
)

// spot is a line of a document: what it says, and the node that it stands in.
type spot struct {
	milestones.Line
	list string
	path string
	node *yaml.Node
	pay  *milestones.Payment // of a line under pay
}

// spots are the lines of an agreement by key.
func (d *Document) spots(a *milestones.Agreement) map[string]spot {
	all := map[string]spot{}
	at := d.top("agreements", a.Key)
	lines, paths := a.Lines(), a.Paths()
	for n, l := range lines {
		all[l.Key] = spot{Line: *l, path: paths[n]}
	}
	for _, list := range lists {
		nodes := child(at, list)
		if absent(nodes) {
			continue
		}
		for n, key := range listKeys(a, list) {
			s := all[key]
			s.list, s.node = list, nodes.Content[n]
			if list == "pay" {
				s.pay = &a.Pay[n]
			}
			all[key] = s
		}
	}
	if t := a.Postpone; t != nil {
		all[milestones.Postponing] = spot{Line: t.Line, list: "postpone", path: "agreements/" + a.Key + "/postpone", node: child(at, "postpone")}
	}
	return all
}

func listKeys(a *milestones.Agreement, list string) []string {
	var keys []string
	for _, s := range subjects(a, list) {
		keys = append(keys, s.key)
	}
	return keys
}
