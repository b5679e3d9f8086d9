// Package store keeps what must not be lost: the versions of every plan,
// what has been published of it, and the feeds.
//
// Its one rule: a plan is saved and published in one transaction, whether it is
// imported, edited (Update) or gone back to (Revert); a plan with faults is
// never saved, and nothing but a publication changes a feed.
package store
