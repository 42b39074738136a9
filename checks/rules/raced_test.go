//go:build race

package rules

// raced tells that the race detector watches, under which figures take ten times as long.
const raced = true

// boardsMade are how many boards are made clean: few are enough to show what they share.
const boardsMade = 12
