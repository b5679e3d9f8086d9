package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/robfig/cron/v3"

	"banns/feed/web"
	"banns/feed/web/desk"
	"banns/store"
)

const defaultListen = "127.0.0.1:8470"

type serveCmd struct {
	Listen string `help:"Address to listen on." default:"${listen}" placeholder:"HOST:PORT"`
	Public string `help:"Address under which the world reaches this server, such as https://dates.example.org. It is kept." placeholder:"URL"`

	Backups   string `help:"Folder of the daily backups, such as one on another disk; otherwise backups in the store's own folder." placeholder:"DIR"`
	NoBackups bool   `help:"Make no daily backups."`
}

// Run serves the store until it is told to stop.
func (c *serveCmd) Run(e *env) error {
	s, err := e.open()
	if err != nil {
		return err
	}
	defer s.Close()
	listener, err := listen(e.ctx, c.Listen)
	if err != nil {
		return err
	}
	base, err := c.public(e, s, listener)
	if err != nil {
		listener.Close()
		return err
	}
	fmt.Fprintf(e.err, "banns: serving %s on %s; links begin with %s; ctrl-c ends it\n", e.dir(), listener.Addr(), base)
	if err := welcome(e, s, base); err != nil {
		listener.Close()
		return err
	}
	return serve(e, s, listener, serving{base: base, backups: c.backups(e)})
}

// backups is the folder of the daily backups; empty: none are made.
func (c *serveCmd) backups(e *env) string {
	switch {
	case c.NoBackups:
		return ""
	case c.Backups != "":
		return c.Backups
	}
	return filepath.Join(e.dir(), "backups")
}

func listen(ctx context.Context, at string) (net.Listener, error) {
	l, err := (&net.ListenConfig{}).Listen(ctx, "tcp", at)
	if err != nil {
		return nil, wrongf("cannot listen on %s: %v; another address goes with --listen", at, err)
	}
	return l, nil
}

// public is the address that links begin with: as asked now; as asked before;
// or, where that was never more than this machine's own, this machine's own.
// It is kept, and stands in every entry.
func (c *serveCmd) public(e *env, s *store.Store, l net.Listener) (string, error) {
	kept, err := s.Public(e.ctx)
	if err != nil {
		return "", err
	}
	base := strings.TrimRight(c.Public, "/")
	switch {
	case base != "" && !isServer(base):
		return "", wrongf("%q is no address of a server; write for instance https://dates.example.org", c.Public)
	case base == "" && kept != "" && !ownMachine(kept):
		return kept, nil
	case base == "":
		base = "http://" + reachable(l.Addr().String())
	}
	if base != kept {
		err = s.SetPublic(e.ctx, base, e.now())
	}
	return base, err
}

func isServer(base string) bool {
	u, err := url.Parse(base)
	return err == nil && (u.Scheme == "http" || u.Scheme == "https") && u.Host != "" && u.RawQuery == "" && u.Fragment == ""
}

// ownMachine reports whether an address is good on one machine alone.
func ownMachine(base string) bool {
	u, err := url.Parse(base)
	return err == nil && (u.Hostname() == "localhost" || net.ParseIP(u.Hostname()).IsLoopback())
}

// reachable is where a listener can be reached on this machine.
func reachable(at string) string {
	host, port, err := net.SplitHostPort(at)
	if err == nil && net.ParseIP(host).IsUnspecified() {
		return net.JoinHostPort("127.0.0.1", port)
	}
	return at
}

// welcome tells where the owner gets in, while there is none. The link goes to
// the terminal and not to the log, since it is a secret.
func welcome(e *env, s *store.Store, base string) error {
	owned, err := s.Owned(e.ctx)
	if err != nil || owned {
		return err
	}
	secret, err := s.Invite(e.ctx, store.Invitation{Owner: true}, e.now())
	if err == nil {
		fmt.Fprintf(e.out, "To plan at the desk, open this link; it is good once, for a week:\n  %s\n", base+"/desk/in/"+secret)
	}
	return err
}

// serving is how a store is served.
type serving struct {
	base    string // what links begin with
	door    string // the desk's, for invented things
	backups string // folder of the daily backups; empty: none are made
}

// serve answers until e.ctx ends, then lets what is under way finish.
func serve(e *env, s *store.Store, l net.Listener, how serving) error {
	log := slog.New(slog.NewTextHandler(e.err, nil))
	if err := s.PublishAll(e.ctx, e.now()); err != nil {
		log.Error("some weddings stay as they were published", "error", err)
	}
	table := desk.New(desk.Options{Store: s, Now: e.now, Log: log, Public: how.base, Door: how.door})
	site, err := web.New(e.ctx, web.Options{Store: s, Now: e.now, Log: log, Public: how.base, Desk: table, Compare: table.Comparison})
	if err != nil {
		return err
	}
	go site.Watch(e.ctx)
	stop := tick(e, s, log, how.backups)
	defer stop()
	server := &http.Server{
		Handler:           site,
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      60 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	select {
	case err := <-ended:
		return err
	case <-e.ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.WithoutCancel(e.ctx), 10*time.Second)
	defer cancel()
	if err := server.Shutdown(grace); err != nil {
		return fmt.Errorf("stop: %w", err)
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	fmt.Fprintln(e.err, "banns: stopped")
	return nil
}

// tick looks at once and then every minute, in UTC, for what time alone
// changes. What is due stands in the database or in the folder of backups, so
// a minute missed is made up for by the next. What takes long does not hold
// up the rest.
func tick(e *env, s *store.Store, log *slog.Logger, backups string) (stop func()) {
	quietly := cron.DiscardLogger
	c := cron.New(cron.WithLocation(time.UTC), cron.WithChain(cron.Recover(quietly), cron.SkipIfStillRunning(quietly)))
	m := &minute{e: e, store: s, log: log, backups: backups}
	var first sync.WaitGroup
	for _, work := range []func(){m.ledgers, m.sources, m.backup} {
		id, err := c.AddFunc("* * * * *", work)
		if err != nil {
			panic(err) // the schedule above is fixed
		}
		first.Go(c.Entry(id).WrappedJob.Run)
	}
	c.Start()
	return func() {
		<-c.Stop().Done()
		first.Wait()
	}
}

// minute is what is done every minute.
type minute struct {
	e       *env
	store   *store.Store
	log     *slog.Logger
	backups string    // empty: none are made
	failed  time.Time // when it was last said that a backup failed
}

func (m *minute) ledgers() {
	if err := m.store.Tick(m.e.ctx, m.e.now()); err != nil && m.e.ctx.Err() == nil {
		m.log.Error("the minute's work", "error", err)
	}
}

func (m *minute) sources() {
	if err := reread(m.e, m.store, m.log); err != nil && m.e.ctx.Err() == nil {
		m.log.Error("reading calendars again", "error", err)
	}
}

func (m *minute) backup() {
	if m.backups == "" {
		return
	}
	file, err := m.store.Daily(m.e.ctx, m.backups, m.e.now())
	switch {
	case errors.Is(err, context.Canceled):
	case err == nil:
		m.failed = time.Time{}
	case m.failed.IsZero() || m.e.now().Sub(m.failed) >= time.Hour:
		m.log.Error("no daily backup; trying again every minute", "error", err)
		m.failed = m.e.now()
	}
	if file != "" {
		m.log.Info("daily backup", "file", file)
	}
}
