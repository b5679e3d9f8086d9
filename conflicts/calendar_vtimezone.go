package conflicts

import (
	"encoding/binary"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Bounds on what one VTIMEZONE describes.
const (
	maxObservances = 50
	maxChanges     = 5_000
)

// change is a clock change: from then on, clocks are so far from UTC.
type change struct {
	at     time.Time
	offset int // seconds east
	dst    bool
}

// describedZone makes a zone of the observances of a VTIMEZONE (RFC 5545
// 3.6.5), up to a year past the days that are read for. It is nil where they
// do not make sense.
func (c *calendarReader) describedZone(part *component) *time.Location {
	if len(part.inner) == 0 || len(part.inner) > maxObservances {
		return nil
	}
	last := time.Date(c.scope.To.Year+1, 12, 31, 0, 0, 0, 0, time.UTC)
	var changes []change
	first := 0 // the offset before all of them
	var earliest time.Time
	for _, o := range part.inner {
		from, err1 := parseOffset(o.value("TZOFFSETFROM"))
		to, err2 := parseOffset(o.value("TZOFFSETTO"))
		start, _, _, err3 := parseWall(o.value("DTSTART"))
		if err1 != nil || err2 != nil || err3 != nil {
			return nil
		}
		if earliest.IsZero() || start.Before(earliest) {
			first, earliest = from, start
		}
		onsets, err := c.onsets(o, start, from, last)
		if err != nil || len(changes)+len(onsets) > maxChanges {
			return nil
		}
		for _, wall := range onsets {
			// An onset is told by clocks as they stood before it.
			changes = append(changes, change{wall.Add(-time.Duration(from) * time.Second), to, o.name == "DAYLIGHT"})
		}
	}
	slices.SortFunc(changes, func(a, b change) int { return a.at.Compare(b.at) })
	loc, err := time.LoadLocationFromTZData(part.value("TZID"), tzif(first, changes))
	if err != nil {
		return nil
	}
	return loc
}

// onsets are the wall times at which an observance begins.
func (c *calendarReader) onsets(o *component, start time.Time, from int, last time.Time) ([]time.Time, error) {
	all := []time.Time{start}
	for _, p := range o.props {
		switch p.name {
		case "RDATE":
			for value := range strings.SplitSeq(p.value, ",") {
				if wall, _, _, err := parseWall(value); err == nil {
					all = append(all, wall)
				}
			}
		case "RRULE":
			r, err := parseRule(p.value)
			if err != nil {
				return nil, err
			}
			until := last
			if wall, _, utc, err := parseWall(r.until); err == nil {
				if utc {
					wall = wall.Add(time.Duration(from) * time.Second)
				}
				until = wall
			}
			err = c.repeats.expand(r, start, start, earlier(until, last), func(t time.Time) bool {
				all = append(all, t)
				return len(all) <= maxChanges
			})
			if err != nil {
				return nil, err
			}
		}
	}
	slices.SortFunc(all, time.Time.Compare)
	return slices.Compact(all), nil
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

// parseOffset reads a UTC-OFFSET (RFC 5545 3.3.14), such as -0500, in seconds.
func parseOffset(s string) (int, error) {
	bad := fmt.Errorf("%q is no distance from UTC", clean(s, 40))
	s = strings.ReplaceAll(s, ":", "")
	if len(s) != 5 && len(s) != 7 || s[0] != '+' && s[0] != '-' {
		return 0, bad
	}
	n, err := strconv.Atoi(s[1:])
	if err != nil || n < 0 {
		return 0, bad
	}
	if len(s) == 5 {
		n *= 100
	}
	if n/100%100 > 59 || n%100 > 59 || n >= 240000 {
		return 0, bad
	}
	seconds := n/10000*3600 + n/100%100*60 + n%100
	if s[0] == '-' {
		seconds = -seconds
	}
	return seconds, nil
}

// tzif is zone data as RFC 8536 has it, version 2, which is the form in which
// Go takes a zone that it does not know by name.
func tzif(first int, changes []change) []byte {
	type local struct {
		offset int
		dst    bool
	}
	locals := []local{{offset: first}} // the one before all changes stands alone
	kinds := make([]byte, len(changes))
	for i, ch := range changes {
		l := local{ch.offset, ch.dst}
		n := slices.Index(locals[1:], l)
		if n < 0 {
			locals = append(locals, l)
			n = len(locals) - 2
		}
		kinds[i] = byte(n + 1)
	}
	header := func(times, types, chars int) []byte {
		b := append([]byte("TZif2"), make([]byte, 15+3*4)...)
		for _, n := range []int{times, types, chars} {
			b = binary.BigEndian.AppendUint32(b, uint32(n))
		}
		return b
	}
	const name = "\x00"
	b := header(0, 0, 0)
	b = append(b, header(len(changes), len(locals), len(name))...)
	for _, ch := range changes {
		b = binary.BigEndian.AppendUint64(b, uint64(ch.at.Unix()))
	}
	b = append(b, kinds...)
	for _, l := range locals {
		b = binary.BigEndian.AppendUint32(b, uint32(int32(l.offset)))
		dst := byte(0)
		if l.dst {
			dst = 1
		}
		b = append(b, dst, 0)
	}
	return append(b, name...)
}
