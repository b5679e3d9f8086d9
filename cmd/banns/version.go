package main

import (
	"fmt"
	"runtime/debug"
)

// version is set by the build of a release.
var version = "unreleased"

type versionCmd struct{}

// Run says which version this is, and what built it.
func (versionCmd) Run(e *env) error {
	said := "banns " + version
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				said += " (" + s.Value[:min(12, len(s.Value))] + ")"
			}
		}
		said += ", " + info.GoVersion
	}
	fmt.Fprintln(e.out, said)
	return nil
}
