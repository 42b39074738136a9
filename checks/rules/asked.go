package rules

import (
	"hemline/checks"
	"hemline/checks/asked"
	"hemline/lang/finding"
)

// answers is the key under which a pass keeps what became of the board's requests.
type answers struct{}

// answersOf works out once for all rules what became of the board's requests.
func answersOf(p *checks.Pass) []asked.Answer {
	return checks.Once(p, answers{}, func() []asked.Answer {
		return asked.Answers(p.Board, asked.Grounds{Tolerances: p.Limits.Tolerances(p.Board), Pairs: func() (pairs asked.Pairs) {
			pairs.Stand, pairs.Accepted = p.Found(wallPairs)
			return pairs
		}})
	})
}

// wallPairs are the rules that hold a wall and other copper against each other.
// They come before those that read the answers.
var wallPairs = []*checks.Rule{wrapClearance, planeShort, netConflict, launchBlocked, launchClearance, castellationOnPlating, wallShort, tiesMeet, bodyShorts}

// shortOf reports what of the board falls short of a request.
func shortOf(p *checks.Pass, clause string) (list []*finding.Finding) {
	a, _ := asked.Of(answersOf(p), clause)
	for _, s := range a.Shorts {
		f := p.Report(a.At, s.Items, "%s", s.Why)
		f.Related = s.Related
		list = append(list, f)
	}
	return list
}
