package main

import "time"

// clock tells a command which day it is, which decides what is still accepted.
// The zero clock is the machine's.
type clock struct {
	now   func() time.Time
	every time.Duration // how often a command that stays looks at it
}

// today is the day as YYYY-MM-DD, where the user is.
func (c clock) today() string {
	now := time.Now
	if c.now != nil {
		now = c.now
	}
	return now().Format(time.DateOnly)
}

// period is a minute if not said. A timer set for midnight would stand still
// while the machine sleeps.
func (c clock) period() time.Duration {
	if c.every > 0 {
		return c.every
	}
	return time.Minute
}
