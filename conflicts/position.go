package conflicts

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// position is where an event is on the map. One that cannot be read is noted.
func (l *lister) position(line int, what, lat, lon string) *[2]float64 {
	at, err := parsePosition(lat, lon)
	if err != nil {
		l.leaveOut(line, what, "its position is not taken: %v", err)
	}
	return at
}

// cutGeo cuts a GEO (RFC 5545 3.8.1.6) into latitude and longitude. Some
// programs write a comma between them.
func cutGeo(s string) (lat, lon string) {
	lat, lon, ok := strings.Cut(s, ";")
	if !ok {
		lat, lon, _ = strings.Cut(s, ",")
	}
	return lat, lon
}

// parsePosition is a place on the map, in degrees, or nil where none is told.
// 0, 0 is in the sea, and what programs write that know nothing.
func parsePosition(lat, lon string) (*[2]float64, error) {
	if notYet(lat) && notYet(lon) {
		return nil, nil
	}
	a, err := parseDegrees("latitude", lat, 90)
	if err != nil {
		return nil, err
	}
	b, err := parseDegrees("longitude", lon, 180)
	if err != nil || a == 0 && b == 0 {
		return nil, err
	}
	return &[2]float64{a, b}, nil
}

func parseDegrees(which, s string, most float64) (float64, error) {
	s = clean(s, 40)
	if s == "" {
		return 0, errors.New("it has no " + which)
	}
	n, err := strconv.ParseFloat(s, 64)
	if err != nil || !(n >= -most && n <= most) {
		return 0, fmt.Errorf("%q is no %s in degrees, from -%v to %v", s, which, most, most)
	}
	return n, nil
}
