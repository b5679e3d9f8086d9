// Package store keeps what must not be lost: the versions of every plan,
// what has been published of it, and the feeds.
//
// Its one rule: a plan is written by Import alone, and a feed is changed by
// publish alone, both in one transaction; a plan with faults is never
// written.
package store
