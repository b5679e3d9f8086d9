// Package desk is where a wedding is planned: every page behind sign-in.
//
// Its one rule: a page shows what the one who is signed in may see, and an
// edit sets the places that it changed and no others, so that nobody writes
// over what they cannot see or did not touch.
package desk
