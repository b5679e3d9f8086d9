package web

import (
	"context"
	"time"
)

// askedMost is how many feeds wait to be noted. What finds no room is noted
// at its next poll.
const askedMost = 1024

const secondsADay = 24 * 60 * 60

// heard has it noted, once a day and revision, that a calendar program asked
// for a feed. It waits for nothing.
func (s *Server) heard(feed int64, c *edition) {
	day := s.Now().Unix() / secondsADay
	if c.asked.Swap(day) == day {
		return
	}
	select {
	case s.asked <- feed:
	default:
		c.asked.Store(0)
	}
}

// noteAsked writes down what was heard, until ctx ends. What cannot be
// written is tried again tomorrow: nobody's dates depend on it.
func (s *Server) noteAsked(ctx context.Context) {
	for {
		var feeds []int64
		select {
		case <-ctx.Done():
			return
		case feed := <-s.asked:
			feeds = append(feeds, feed)
		}
		for range len(s.asked) {
			feeds = append(feeds, <-s.asked)
		}
		if err := s.Store.NoteAsked(ctx, feeds, s.Now()); err != nil && ctx.Err() == nil {
			s.Log.Error("noting who asked for a calendar", "error", err)
		}
		select { // others who ask meanwhile are written down together
		case <-ctx.Done():
		case <-time.After(watchEvery):
		}
	}
}
