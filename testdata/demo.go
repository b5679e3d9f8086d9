// Package testdata holds plans, public calendars, published worked examples
// and old databases. The demo's plan and its city are built into the program.
package testdata

import _ "embed"

// Demo is the plan of the demo: Maren and Theo, Alder Harbor, all invented.
//
//go:embed plans/maren-and-theo.yaml
var Demo []byte

// DemoEvents is a table of what is on in the demo's city, past years too.
//
//go:embed events/alder-harbor.csv
var DemoEvents []byte
