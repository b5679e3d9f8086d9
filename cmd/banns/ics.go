package main

import (
	"fmt"
	"time"

	"banns/feed"
	"banns/milestones"
)

type icsCmd struct {
	Plan string `arg:"" help:"Plan file, or name of a stored wedding."`
	For  string `required:"" help:"Whose calendar." placeholder:"PERSON"`
}

// Run writes the person's calendar: of a stored wedding as it is published,
// of a file as it would be.
func (c *icsCmd) Run(e *env) error {
	if !looksLikeFile(c.Plan) {
		return c.published(e)
	}
	doc, err := e.file(c.Plan)
	if err != nil {
		return err
	}
	p := doc.Plan
	who, err := somebody(p, c.For)
	if err != nil {
		return err
	}
	entries := feed.View(p, milestones.Schedule(p, closures(p)), c.For)
	wanted := feed.Publishable(entries, p.ID, who.ID(), "", feed.ByAlarm)
	day := e.day(p.Wedding.Zone)
	stamp := time.Date(day.Year, day.Month, day.Day, 0, 0, 0, 0, time.UTC)
	rows := feed.Revise(nil, wanted, stamp, day, time.Time{})
	fmt.Fprintln(e.err, "banns: a preview; \"banns import\" and \"banns serve\" publish it")
	_, err = e.out.Write(feed.Encode(feed.Calendar{Name: p.Wedding.Title, Published: feed.Shown(rows)}))
	return err
}

func (c *icsCmd) published(e *env) error {
	s, doc, err := e.wedding(c.Plan)
	if err != nil {
		return err
	}
	defer s.Close()
	who, err := somebody(doc.Plan, c.For)
	if err != nil {
		return err
	}
	body, err := s.Published(e.ctx, doc.Plan.ID, who.ID())
	if err != nil {
		return err
	}
	_, err = e.out.Write(body)
	return err
}
