package feed

// Hours are the hours of something that is kept or attended, or nothing. They
// name their city where it is not the wedding's, or the wedding not the only
// one.
func (e *Entry) Hours() string {
	switch {
	case e.Clock == nil:
		return ""
	case e.Until == nil:
		return e.hour()
	case e.Again: // what is said of the hour is not true of the end
		return e.hour() + " to " + e.Until.String()
	}
	return e.Clock.String() + " to " + e.Until.String() + e.elsewhere()
}

// Home is the city whose hours the wedding keeps.
func (e *Entry) Home() string { return city(e.HomeZone) }
