package lsp

import "time"

// dayPeriod is how often the server looks whether another day has begun. A
// timer set for midnight would stand still while the machine sleeps.
const dayPeriod = time.Minute

// today is the day as YYYY-MM-DD, where the user is.
func today() string { return time.Now().Format(time.DateOnly) }

// followDays checks every text anew on another day, until the session is over:
// what was accepted until the day before is a finding then.
func (s *server) followDays() {
	defer s.rescue("another day", nil)
	ticks := time.NewTicker(s.dayPeriod)
	defer ticks.Stop()
	for {
		select {
		case <-s.ended:
			return
		case <-ticks.C:
			if s.docs.nextDay() {
				s.stepped(true)
			}
		}
	}
}

// nextDay renews every document if another day has begun, and tells whether it has.
func (d *documents) nextDay() bool {
	day := d.today()
	if d.current().today == day {
		return false
	}
	d.step(func(w *world) *document {
		w.today = day
		return nil
	}, nil)
	return true
}
