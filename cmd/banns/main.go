// Command banns turns a wedding's agreements into dates on the right
// people's phones.
//
// Its one rule: no rule of the trade lives here. A verb parses, calls, and
// prints; and this is the only place that asks what time it is.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"
	_ "time/tzdata" // zones on machines that have none

	"github.com/alecthomas/kong"

	"banns/milestones"
	"banns/store"
)

// Exit statuses.
const (
	exitWrong  = 1 // the plan or the input is wrong
	exitUsage  = 2 // the command line is wrong
	exitFailed = 3 // something failed
)

type commands struct {
	Data  string          `help:"Folder of the store." env:"BANNS_DATA" placeholder:"DIR"`
	Today milestones.Date `help:"Stands in for the clock." placeholder:"DATE"`

	New       newCmd       `cmd:"" help:"Write a plan to start from."`
	Check     checkCmd     `cmd:"" help:"Say what is wrong with a plan, and what it leaves open."`
	Questions questionsCmd `cmd:"" help:"Show what a plan leaves open, what each reading would mean, and how to settle it."`
	List      listCmd      `cmd:"" help:"List a plan's dates."`
	Countdown countdownCmd `cmd:"" help:"Show what to do by when, between the agreements' own dates."`
	Read      readCmd      `cmd:"" help:"Say how a phrase is understood, and what day it gives."`
	Weigh     weighCmd     `cmd:"" help:"Compare candidate dates: what else is on, and what speaks for each."`
	Leaving   leavingCmd   `cmd:"" help:"Say what leaving the agreements costs."`
	Due       dueCmd       `cmd:"" help:"Sum up what is paid, and what is to be paid."`
	Ics       icsCmd       `cmd:"" help:"Write one person's calendar."`
	Import    importCmd    `cmd:"" help:"Save a plan file in the store, and publish it."`
	Export    exportCmd    `cmd:"" help:"Write a stored plan as a file, with every key."`
	Events    eventsCmd    `cmd:"" help:"Keep calendars of what else happens in the city, and list it."`
	History   historyCmd   `cmd:"" help:"Tell what each version of a stored plan changed, the newest first."`
	Compare   compareCmd   `cmd:"" help:"Tell what changed from one version to another."`
	Revert    revertCmd    `cmd:"" help:"Go back to an older version, and keep what was done since."`
	Feeds     feedsCmd     `cmd:"" help:"Show, join, reissue or revoke private links."`
	Desk      deskCmd      `cmd:"" help:"Let people in to the desk, where weddings are planned."`
	Backup    backupCmd    `cmd:"" help:"Write the whole store into one file."`
	Restore   restoreCmd   `cmd:"" help:"Put the store of a backup into place."`
	Serve     serveCmd     `cmd:"" help:"Serve the feeds and the desk of the store."`
	Demo      demoCmd      `cmd:"" help:"Serve an invented wedding from a temporary store."`
	Pattern   patternCmd   `cmd:"" help:"Say by what rule a yearly event was held, and when that expects it next."`
	Version   versionCmd   `cmd:"" help:"Say which version this is."`
}

// env is what a verb is given: where it stands, and what it may write to.
type env struct {
	ctx   context.Context
	in    io.Reader
	out   io.Writer
	err   io.Writer
	data  string
	today milestones.Date // zero: the clock's

	patience time.Duration // how long an address may take to read; 0: as fetch has it
}

// now is the clock, or noon UTC of the day that stands in for it.
func (e *env) now() time.Time {
	if e.today.IsZero() {
		return time.Now()
	}
	return time.Date(e.today.Year, e.today.Month, e.today.Day, 12, 0, 0, 0, time.UTC)
}

// day is the day it is in zone, or the one that stands in for it.
func (e *env) day(zone string) milestones.Date {
	if !e.today.IsZero() {
		return e.today
	}
	return milestones.DateOf(time.Now().In(milestones.ZoneOrUTC(zone)))
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is main, with all it touches handed in; it returns the exit status.
func run(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) (status int) {
	var c commands
	ended := -1
	parser, err := kong.New(&c, kong.Name("banns"), kong.Writers(out, errs), kong.Exit(func(code int) { ended = code }),
		kong.Vars{"listen": defaultListen}, kong.Description("What a wedding's agreements say, as dates on the right people's phones."),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, NoExpandSubcommands: true}))
	if err != nil {
		fmt.Fprintln(errs, "banns:", err)
		return exitFailed
	}
	parsed, err := parser.Parse(args)
	if ended >= 0 {
		return ended
	}
	if err != nil {
		fmt.Fprintf(errs, "banns: %s\nSee: banns --help\n", err)
		return exitUsage
	}
	e := &env{ctx: ctx, in: in, out: out, err: errs, data: c.Data, today: c.Today}
	return report(errs, parsed.Run(e))
}

// wrong is a fault of what was given, in words for people.
type wrong struct{ says string }

func (w wrong) Error() string { return w.says }

func wrongf(format string, args ...any) error { return wrong{fmt.Sprintf(format, args...)} }

// faultsShown is how many faults are printed at once; check --json has all.
const faultsShown = 50

// report puts an error into people's words on errs, with what to do next,
// and returns the exit status. Lines begin with "banns: ", in lower case.
func report(errs io.Writer, err error) int {
	var faults store.Faults
	var w wrong
	switch {
	case err == nil:
		return 0
	case errors.As(err, &faults):
		for _, f := range faults[:min(len(faults), faultsShown)] {
			fmt.Fprintln(errs, "banns:", f)
		}
		if n := len(faults); n > faultsShown {
			fmt.Fprintf(errs, "banns: the first %d of %d faults; nothing was saved\n", faultsShown, n)
		} else if n > 1 {
			fmt.Fprintf(errs, "banns: %d faults; nothing was saved\n", n)
		}
		return exitWrong
	case errors.As(err, &w):
		fmt.Fprintln(errs, "banns:", strings.ReplaceAll(err.Error(), "\n", "\nbanns: "))
		return exitWrong
	case errors.Is(err, context.Canceled):
		return 0
	}
	fmt.Fprintln(errs, "banns:", err)
	return exitFailed
}
