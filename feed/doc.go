// Package feed decides what one person may see of a plan, and writes it as a
// calendar.
//
// Its one rule: whatever leaves for somebody's phone or page has passed
// View, which copies into an Entry only what that person may see. Encode and
// the pages are made of entries and can hold nothing else. The package is
// pure: it opens nothing and has no clock.
package feed
