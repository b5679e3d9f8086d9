package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

// dir is the folder of the store: as asked, or in the user's own data.
func (e *env) dir() string {
	if e.data != "" {
		return e.data
	}
	if home := os.Getenv("XDG_DATA_HOME"); home != "" {
		return filepath.Join(home, "banns")
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "banns-data"
	}
	return filepath.Join(home, ".local", "share", "banns")
}

// open opens the store, and makes it where there is none.
func (e *env) open() (*store.Store, error) { return store.Open(e.ctx, e.dir()) }

// existing opens the store, and never makes one: looking changes nothing.
func (e *env) existing() (*store.Store, error) {
	if !store.Exists(e.dir()) {
		return nil, wrongf("there is no store in %s yet; \"banns import FILE\" makes one, and --data names another folder", e.dir())
	}
	return e.open()
}

// wedding opens the store and loads a wedding of it. Whoever asks closes the
// store.
func (e *env) wedding(name string) (*store.Store, *store.Document, error) {
	s, err := e.existing()
	if err != nil {
		return nil, nil, err
	}
	doc, err := e.stored(s, name)
	if err != nil {
		s.Close()
		return nil, nil, err
	}
	return s, doc, nil
}

// looksLikeFile tells a plan file from the name of a stored wedding.
func looksLikeFile(plan string) bool {
	if strings.ContainsAny(plan, `/\.`) || plan == "-" {
		return true
	}
	_, err := os.Stat(plan)
	return err == nil
}

// load reads PLAN: a plan file, or the name of a wedding in the store.
func (e *env) load(plan string) (doc *store.Document, stored bool, err error) {
	if looksLikeFile(plan) {
		doc, err = e.file(plan)
		return doc, false, err
	}
	s, err := e.existing()
	if err != nil {
		return nil, true, fmt.Errorf("there is no file called %q: %w", plan, err)
	}
	defer s.Close()
	doc, err = e.stored(s, plan)
	return doc, true, err
}

func (e *env) file(path string) (*store.Document, error) {
	text, err := e.bytes(path, store.PlanMost, `"banns new `+path+`" writes one to start from`)
	if err != nil {
		return nil, err
	}
	return store.ReadPlan(path, text)
}

// bytes are those of a file, or of standard input for "-": no more than most
// and one, so that what is longer can be told. mend is what to do where there
// is no such file.
func (e *env) bytes(path string, most int64, mend string) ([]byte, error) {
	in, name := e.in, "standard input"
	if path != "-" {
		f, err := os.Open(path)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, wrongf("there is no file %s; %s", path, mend)
		} else if err != nil {
			return nil, wrongf("%s cannot be read: %v", path, errors.Unwrap(err))
		}
		defer f.Close()
		in, name = f, path
	}
	text, err := io.ReadAll(io.LimitReader(in, most+1))
	if err != nil {
		return nil, wrongf("%s cannot be read: %v", name, err)
	}
	return text, nil
}

// stored loads a wedding of the store, or says which ones there are.
func (e *env) stored(s *store.Store, name string) (*store.Document, error) {
	doc, err := s.Load(e.ctx, name)
	if !errors.Is(err, store.ErrUnknown) {
		return doc, err
	}
	all, err := s.Weddings(e.ctx)
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, wrongf("there is no file and no stored wedding called %q; the store is empty: \"banns import FILE\" fills it", name)
	}
	var names []string
	for _, w := range all {
		names = append(names, w.Name)
	}
	says := "there is no file and no stored wedding called \"" + name + "\"; stored are: " + strings.Join(names, ", ")
	return nil, wrong{says}
}

// closures are those of the plan's region.
func closures(p *milestones.Plan) milestones.Closures {
	c, _ := conflicts.ClosuresFor(p.Wedding.Region)
	return c
}

// somebody finds a person of the plan, or says who there is.
func somebody(p *milestones.Plan, key string) (*milestones.Person, error) {
	if who, ok := p.Person(key); ok {
		return who, nil
	}
	var keys []string
	for _, who := range p.People {
		keys = append(keys, who.Key)
	}
	if hint := milestones.Nearest(key, keys); hint != "" {
		return nil, wrongf("nobody in the plan has the key %q; %s", key, hint)
	}
	return nil, wrongf("nobody in the plan has the key %q; the people are: %s", key, strings.Join(keys, ", "))
}
