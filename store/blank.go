package store

import (
	"go.yaml.in/yaml/v3"

	"banns/milestones"
)

// Blank is a plan that says nothing yet: something for With to begin from.
func Blank() *Document {
	root, fault := parse([]byte("banns: 1\nwedding: {}\n"))
	if fault != nil {
		panic(fault) // the text above is fixed
	}
	root.Content[0].Content[3].Style = yaml.Style(0) // a line for each fact
	return &Document{File: "the plan", Plan: &milestones.Plan{}, root: root}
}
