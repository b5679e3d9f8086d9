package milestones

import (
	"regexp"
	"strings"
	"time"
)

// byHour stands before an hour.
var byHour = []string{"no later than", "not later than", "by", "at", "before"}

// leadingHour reads "by 17:00 America/Detroit" where the cursor stands, if
// it stands there.
func (c *cursor) leadingHour(t *Timing) bool {
	mark := c.at
	if c.take(byHour...) != "" && c.clock(t) {
		return c.zone(t)
	}
	wrong := c.refused()
	c.at = mark
	return !wrong
}

// trailingHour reads the same at the end, and takes it off the cursor.
func (c *cursor) trailingHour(t *Timing) bool {
	for i := len(c.words) - 2; i >= c.at && i >= len(c.words)-6; i-- {
		tail := c.part(i, len(c.words))
		var found Timing
		if tail.take(byHour...) == "" || !tail.clock(&found) {
			if tail.refused() {
				return false
			}
			continue
		}
		if !tail.zone(&found) || !tail.end() {
			return false
		}
		if t.Clock != nil {
			return c.part(i, len(c.words)).refuse("there is an hour already")
		}
		t.Clock, t.Zone, t.Midnight = found.Clock, found.Zone, found.Midnight
		c.words = c.words[:i]
		return true
	}
	return true
}

// clock reads 17:00, 5 pm, 5:30pm, noon or midnight.
func (c *cursor) clock(t *Timing) bool {
	text := c.peek()
	switch text {
	case "noon":
		t.Clock = &Clock{Hour: 12}
	case "midnight":
		t.Clock, t.Midnight = &Clock{}, true
	default:
		if c.at+1 < len(c.words) {
			if half := halfDay(c.words[c.at+1].text); half != "" {
				c.at++
				text += half
			}
		}
		clock, ok := readClock(text)
		if !ok && strings.Contains(text, ":") {
			return c.refuse("this is no hour of the day; write it as 17:00, from 00:00 to 23:59")
		}
		if !ok {
			return false
		}
		t.Clock = &clock
	}
	c.at++
	return true
}

func halfDay(s string) string {
	switch strings.ReplaceAll(s, ".", "") {
	case "am":
		return "am"
	case "pm":
		return "pm"
	}
	return ""
}

func readClock(s string) (Clock, bool) {
	if s == "" || s[0] < '0' || s[0] > '9' {
		return Clock{}, false // most words: cheaper than three errors
	}
	for _, form := range []string{"15:04", "3:04pm", "3pm"} {
		if t, err := time.Parse(form, s); err == nil {
			return Clock{Hour: t.Hour(), Minute: t.Minute()}, true
		}
	}
	return Clock{}, false
}

// zoneLetters are short names of zones, which say nothing of summer time or
// mean several zones.
var zoneLetters = regexp.MustCompile(`^(UTC|GMT|BST|CES?T|EES?T|WES?T|[AECHMNP][SD]T)$`)

// zone reads the IANA name of a zone after an hour, if one stands there.
func (c *cursor) zone(t *Timing) bool {
	if c.done() {
		return true
	}
	as := strings.Trim(c.words[c.at].as, ",;.")
	if !strings.Contains(as, "/") && !zoneLetters.MatchString(as) {
		return true
	}
	_, err := time.LoadLocation(as)
	if err != nil || as != "UTC" && !strings.Contains(as, "/") {
		return c.refuse("a time zone needs its full name; write for instance America/Detroit")
	}
	t.Zone = as
	c.at++
	return true
}
