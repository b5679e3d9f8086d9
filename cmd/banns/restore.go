package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"banns/milestones"
	"banns/store"
)

type restoreCmd struct {
	File string `arg:"" help:"File that \"banns backup\" or \"banns serve\" wrote."`
}

// Run puts the store of a backup into the folder of the store.
func (c *restoreCmd) Run(e *env) error {
	done, err := store.Restore(e.ctx, c.File, e.dir(), e.now())
	switch {
	case errors.Is(err, store.ErrBackup):
		return wrongf("%v; nothing was changed", err)
	case errors.Is(err, store.ErrInUse):
		return fmt.Errorf("%w: stop \"banns serve\", and restore again; nothing was changed", err)
	case err != nil && done.Aside != "":
		return fmt.Errorf("%w; the store that was there is kept in %s; once that is mended, restore again", err, done.Aside)
	case err != nil:
		return fmt.Errorf("%w; nothing was changed", err)
	}
	fmt.Fprintf(e.out, "Restored to %s, as it was on %s:\n", e.dir(), momentWords(done.Made))
	printBackedUp(e.out, done.Weddings)
	if done.Behind != nil {
		fmt.Fprintf(e.err, "banns: %s\n", strings.ReplaceAll(done.Behind.Error(), "\n", "\nbanns: "))
	}
	c.present(e, done)
	c.links(e, done)
	fmt.Fprintln(e.out, "Every entry counts as newer than what a phone may have of it; phones follow within a day of \"banns serve\".")
	return nil
}

// present says what became of the store that was there.
func (c *restoreCmd) present(e *env, r store.Restored) {
	if r.Aside == "" {
		return
	}
	fmt.Fprintf(e.out, "What was there before is kept in %s.\n", r.Aside)
	if r.Unread != nil {
		fmt.Fprintf(e.out, "It could not be read (%v); if a server still runs on it, stop that.\n", r.Unread)
	}
	if len(r.Lost) == 0 {
		return
	}
	fmt.Fprintln(e.out, "Not in the backup, and so only there:")
	for _, l := range r.Lost {
		var all []string
		for _, v := range l.Saved {
			all = append(all, fmt.Sprintf("version %d of %s", v.Version, milestones.DateOf(v.At.UTC()).Words()))
		}
		whole := ""
		if l.All {
			whole = "all of it, "
		}
		fmt.Fprintf(e.out, "  %s: %s%s\n", l.Name, whole, strings.Join(all, ", "))
	}
	fmt.Fprintf(e.out, "To read the newest: banns --data %s export %s\n", r.Aside, r.Lost[0].Name)
}

// links says whose links changed since the backup; or, where that cannot be
// known, whose may have.
func (c *restoreCmd) links(e *env, r store.Restored) {
	if r.Against {
		c.who(e, "Links given since the backup, which work on", r.Given)
		c.who(e, "Links closed since the backup, which stay closed", r.Closed)
		c.who(e, "Links that open nothing any more; these people need a new one, and must subscribe again", r.Broken)
		c.who(e, "Carrying less than they did, since the backup has not all of it; once it is there again, \"banns feeds together\" adds it", r.Lacking)
		return
	}
	if len(r.People) == 0 {
		return
	}
	fmt.Fprintf(e.out, "Which links were given or closed after %s cannot be known here. "+
		"One that was given since opens nothing; one that was closed since is open again, until \"banns feeds revoke\" or \"reissue\" closes it.\n", momentWords(r.Made))
	if slices.ContainsFunc(r.People, func(w store.Who) bool { return w.Wedding == "" }) {
		fmt.Fprintln(e.out, "Joint feeds carry what they did then, also what was taken out of one since, until \"banns feeds apart\" takes it out.")
	}
	fmt.Fprintln(e.out, "A plan written out since is of a version that is not here; look at what it changes, and import it with --over.")
	c.who(e, "Links open now", r.People)
}

func (c *restoreCmd) who(e *env, says string, all []store.Who) {
	if len(all) == 0 {
		return
	}
	fmt.Fprintln(e.out, says+":")
	for len(all) > 0 {
		wedding, names := all[0].Wedding, []string{}
		for len(all) > 0 && all[0].Wedding == wedding {
			names, all = append(names, all[0].Name), all[1:]
		}
		fmt.Fprintf(e.out, "  %s: %s\n", cmp.Or(wedding, "joint feeds"), strings.Join(names, ", "))
	}
}
