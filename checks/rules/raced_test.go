//go:build race

package rules

// raced tells that the race detector watches, under which figures take ten times as long.
const raced = true
