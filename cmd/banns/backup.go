package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"time"

	"banns/milestones"
	"banns/store"
)

type backupCmd struct {
	File string `arg:"" optional:"" help:"File to write; otherwise banns-DAY.zip here."`
	Over bool   `help:"Write over a file that is there."`
}

// Run writes the whole store into one file, while it may be in use.
func (c *backupCmd) Run(e *env) error {
	if c.File == "" {
		c.File = "banns-" + e.now().Format(time.DateOnly) + ".zip"
	}
	s, err := e.existing()
	if err != nil {
		return err
	}
	defer s.Close()
	b, err := s.Backup(e.ctx, c.File, c.Over, e.now())
	if errors.Is(err, fs.ErrExist) {
		return wrongf("%s is there already; give another name, or write over it with --over", c.File)
	} else if err != nil {
		return fmt.Errorf("no backup was made: %w", err)
	}
	fmt.Fprintf(e.out, "Wrote %s (%s):\n", c.File, bytesWords(b.Size))
	printBackedUp(e.out, b.Weddings)
	fmt.Fprintf(e.out, "It opens every private link: keep it as you keep keys, and not on this machine alone.\n")
	return nil
}

func printBackedUp(out io.Writer, all []store.BackedUp) {
	if len(all) == 0 {
		fmt.Fprintln(out, "  no wedding yet")
	}
	for _, w := range all {
		fmt.Fprintf(out, "  %s: %s, %s, %s\n", w.Name, w.Title, plural(w.Versions, "version"), people(w.People))
	}
}

// bytesWords is a size in whole kilobytes, or megabytes from ten on.
func bytesWords(n int64) string {
	if n < 10e6 {
		return fmt.Sprintf("%d kB", (n+999)/1000)
	}
	return fmt.Sprintf("%d MB", (n+999_999)/1_000_000)
}

// momentWords is t as people read it, in UTC.
func momentWords(t time.Time) string {
	t = t.UTC()
	return milestones.DateOf(t).Words() + t.Format(", 15:04 UTC")
}
