package checks

import (
	"slices"
	"sync"

	"hemline/checks/asked"
	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
)

// Session hands what the check of one version of a text found on to the check
// of the next. It is only there to save work: what a check finds does not
// depend on it. The zero value is ready; several goroutines may use one.
type Session struct {
	mu   sync.Mutex
	last *record
}

// record is one check of one version.
type record struct {
	board   *board.Board
	checked Catalogue
	limits  *Limits
	stated  shopLine // of the fabricator, which the sentences of limits name
	today   string
	rules   []ruleRecord // in the order of the catalogue
	handed  map[any]any  // see Pass.Keep
}

// ruleRecord is what a rule found, what it read to find it, and what it
// answered of the board's requests.
type ruleRecord struct {
	found []*finding.Finding
	reads board.Reads
	asked []asked.Answer

	resonances []figures.Resonance
	waits      bool // for modes that are being worked out: it is run again
}

// shopLine is where the fabricator in use is stated.
type shopLine struct {
	path string
	line int
}

func shopPlace(a *lang.Analysis) (at shopLine) {
	if shop := a.Board().Fabricator(); shop != nil {
		if f, span, ok := a.Locate(shop.Keyword); ok {
			return shopLine{f.Path(), f.LineOf(span.Start)}
		}
	}
	return at
}

func (s *Session) latest() *record {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.last
}

func (s *Session) keep(r *record) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.last = r
}

// limitsSince are the limits of a version, those of the last one if they are
// still the same and stand in the same line.
func limitsSince(a *lang.Analysis, last *record, at shopLine) *Limits {
	if last != nil && last.stated == at && last.limits.shop == a.Board().Fabricator() && slices.Equal(last.board.Fabricators(), a.Board().Fabricators()) {
		return last.limits
	}
	return LimitsFor(a)
}

// since prepares a pass to go by what the last check found.
func (p *Pass) since(last *record) {
	if last == nil || last.limits != p.Limits || last.today != p.Today || !slices.Equal(last.checked, p.catalogue) {
		return
	}
	p.before, p.differs = last, p.Board.Differing(last.board)
}

// kept is what a rule found in the last check, if nothing that it read has
// changed since and it did not wait for anything.
func (p *Pass) kept(i int) (ruleRecord, bool) {
	if p.before == nil || p.before.rules[i].waits || p.before.rules[i].reads&p.differs != 0 {
		return ruleRecord{}, false
	}
	return p.before.rules[i], true
}
