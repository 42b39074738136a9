// Package asked answers what a board statement asks for: each request is met,
// short, or not verified, and why. Rules, the report, the cover of a package,
// the live picture and the last line of a check show these answers.
//
// An answer is a bound for ideal geometry and typical materials, as the figures
// are that it rests on; "met" says that nothing known is short.
package asked

import (
	"fmt"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/finding"
)

// Verdict is what became of a request.
type Verdict int

// The verdicts.
const (
	NotVerified Verdict = iota // it could not be worked out
	Short                      // the board has less than it asks for
	Met                        // nothing that is known is short of it
)

// String is the verdict as people read it.
func (v Verdict) String() string { return [...]string{"not verified", "short", "met"}[v] }

// Answer is what became of one request.
type Answer struct {
	board.Request
	Verdict Verdict
	// Why is what was found beside what is needed, or why nothing could be: a
	// sentence without its end.
	Why string
	// Shorts are what of the board falls short, if rules report it one by one.
	Shorts []Shortage
}

// Shortage is one thing that falls short of a request.
type Shortage struct {
	Items   []string // the items that a finding of it is on
	Why     string
	Related []finding.Related
}

// Grounds are what answers rest on beside the board: what rules found, asked
// only where an answer needs it, and which tolerances count.
type Grounds struct {
	Pairs      func() Pairs
	Tolerances figures.Tolerances
}

// Line is the answer in one line.
func (a Answer) Line() string { return fmt.Sprintf("%s: %s: %s", a.Says, a.Verdict, a.Why) }

// answerers work out each clause's answer. A clause that has none is not verified.
var answerers = map[string]func(*board.Board, board.Request, Grounds) Answer{
	"shielding": shielding,
	"class":     class,
	"current":   current,
	"rise":      rise,
	"voltage":   voltage,
	"hazard":    voltage,
	"impedance": func(_ *board.Board, r board.Request, _ Grounds) Answer {
		return notVerified(r, "no line of the board is in the text")
	},
}

// Answers are the answers to all that a board asks for, one each, in the order
// of its requests.
func Answers(b *board.Board, on Grounds) []Answer {
	var list []Answer
	for _, r := range b.Requests() {
		if work := answerers[r.Clause]; work != nil {
			list = append(list, work(b, r, on))
		} else {
			list = append(list, notVerified(r, "nothing works it out yet"))
		}
	}
	return list
}

func notVerified(r board.Request, format string, args ...any) Answer {
	return Answer{Request: r, Why: fmt.Sprintf(format, args...)}
}

func met(r board.Request, format string, args ...any) Answer {
	return Answer{Request: r, Verdict: Met, Why: fmt.Sprintf(format, args...)}
}

// short is the answer to a request that at least one thing falls short of.
func short(r board.Request, list []Shortage) Answer {
	why := make([]string, len(list))
	for i, s := range list {
		why[i] = s.Why
	}
	return Answer{Request: r, Verdict: Short, Why: strings.Join(why, "; "), Shorts: list}
}

// Of is the answer about one clause; ok is false where the board does not ask.
func Of(list []Answer, clause string) (a Answer, ok bool) {
	for _, a := range list {
		if a.Clause == clause {
			return a, true
		}
	}
	return Answer{}, false
}

const nothingPlated = "no edge is plated"
