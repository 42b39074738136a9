package checks

import (
	"sync"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// lists is a set of a board's lists of items.
type lists uint32

const (
	ofInfo lists = 1 << iota
	ofStack
	ofOutline
	ofCutouts
	ofPlatings
	ofGaps
	ofConnectors
	ofReliefs
	ofTabs
	ofCastellations
	ofPlanes
	ofFeatures
	ofFences
	ofFabricators
	ofAcceptances
	ofNotes
	ofLets
	ofCounts
	ofNames  // that expressions read
	ofOthers // what no list tells

	everything lists = 1<<iota - 1
)

// differing tells in which lists two boards differ. Items are compared by
// identity: one that says the same and reads the same is the same.
func differing(a, b *board.Board) (c lists) {
	note := func(same bool, l lists) {
		if !same {
			c |= l
		}
	}
	note(a.Info == b.Info, ofInfo)
	note(a.Stack == b.Stack, ofStack)
	note(a.Outline == b.Outline && a.OutlineItem == b.OutlineItem && same(a.Open, b.Open), ofOutline)
	note(same(a.Cutouts, b.Cutouts) && same(a.Open, b.Open), ofCutouts)
	note(same(a.Platings, b.Platings), ofPlatings)
	note(same(a.Gaps, b.Gaps), ofGaps)
	note(same(a.Connectors, b.Connectors), ofConnectors)
	note(same(a.Reliefs, b.Reliefs), ofReliefs)
	note(same(a.Tabs, b.Tabs), ofTabs)
	note(same(a.Castellations, b.Castellations), ofCastellations)
	note(same(a.Planes, b.Planes), ofPlanes)
	note(same(a.Features, b.Features), ofFeatures)
	note(same(a.Fences, b.Fences), ofFences)
	note(same(a.Fabricators, b.Fabricators), ofFabricators)
	note(same(a.Acceptances, b.Acceptances), ofAcceptances)
	note(same(a.Notes, b.Notes), ofNotes)
	note(same(a.Lets, b.Lets), ofLets)
	counts, names := b.SameStatements(a)
	note(counts, ofCounts)
	note(names, ofNames)
	if c != 0 || a != b {
		c |= ofOthers
	}
	return c
}

func same[T comparable](a, b []T) bool {
	if len(a) != len(b) {
		return false
	}
	if len(a) == 0 || &a[0] == &b[0] {
		return true
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// history hands the last check of a text on to the next one. It is only there
// to save work: what a check finds does not depend on it.
type history struct {
	mu   sync.Mutex
	last *record
}

type historyKey struct{}

// record is one check of one version, by rule in the order of the rules.
type record struct {
	board    *board.Board
	limits   *Limits
	stated   statement // of the fabricator, which the sentences of limits name
	today    string
	found    [][]finding.Finding
	features map[*Rule]map[*board.Feature][]finding.Finding // of the rules that go by features
}

// statement is where the fabricator in use is stated.
type statement struct {
	path string
	line int
}

func shopPlace(a *lang.Analysis) (at statement) {
	if shop := a.Board().Fabricator(); shop != nil {
		if f, span, ok := a.Locate(shop.Keyword); ok {
			return statement{f.Path(), f.LineOf(span.Start)}
		}
	}
	return at
}

// historyOf is the history of a text, and what is in it.
func historyOf(b *board.Board) (*history, *record) {
	h := b.Handed(historyKey{}, func() any { return new(history) }).(*history)
	h.mu.Lock()
	defer h.mu.Unlock()
	return h, h.last
}

func (h *history) keep(r *record) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.last = r
}

// limitsSince are the limits of a version, those of the last one if they are
// still the same and stand in the same line.
func limitsSince(a *lang.Analysis, last *record, at statement) *Limits {
	if last != nil && last.stated == at && last.limits.shop == a.Board().Fabricator() && same(last.board.Fabricators, a.Board().Fabricators) {
		return last.limits
	}
	return LimitsFor(a)
}

// since prepares a pass to go by what the last check found.
func (p *Pass) since(last *record) {
	if last == nil || last.limits != p.Limits || last.today != p.today {
		p.differs = everything
		return
	}
	p.before = last
	p.differs = differing(last.board, p.Board)
}

// kept is what a rule found in the last check, if nothing that it reads has
// changed since.
func (p *Pass) kept(r *Rule, i int) ([]finding.Finding, bool) {
	if p.before == nil || r.reads&p.differs != 0 {
		return nil, false
	}
	return p.before.found[i], true
}

// eachFeature calls check with every feature. What check reports must depend on
// the feature, on the stretches of the profiles within reach of it, in nm, and
// otherwise on lists that the rule reads, but never on the lets: then it is not
// asked again about a feature for which none of that has changed.
func (p *Pass) eachFeature(reach float64, check func(*board.Feature)) {
	list := p.Board.Features
	fresh := map[*board.Feature][]finding.Finding{}
	if p.features != nil {
		p.features[p.rule] = fresh
	}
	old, front, back, near := p.oldFeatures(list)
	for i, x := range list {
		n := len(p.found)
		if old != nil && (i < front || i >= len(list)-back) && !near(x, reach) {
			if len(old) == 0 {
				continue
			}
			for _, f := range old[x] {
				p.add(f)
			}
		} else {
			check(x)
		}
		if len(p.found) > n {
			fresh[x] = p.found[n:len(p.found):len(p.found)]
		}
	}
}

// oldFeatures is what the rule found on features in the last check, nil where
// that is of no use; how many features at the front and the back are the same;
// and whether a stretch within reach of one has changed.
func (p *Pass) oldFeatures(list []*board.Feature) (old map[*board.Feature][]finding.Finding, front, back int, near func(*board.Feature, float64) bool) {
	reads := p.rule.reads
	if p.before == nil || reads&p.differs&^(ofFeatures|ofGaps|ofLets|ofNames) != 0 {
		return nil, 0, 0, nil
	}
	var boxes []geom.Box
	if reads&p.differs&ofGaps != 0 {
		var ok bool
		if boxes, ok = p.Board.WallChanges(p.before.board); !ok {
			return nil, 0, 0, nil
		}
	}
	front, back = source.Common(p.before.board.Features, list)
	all := geom.EmptyBox()
	for _, b := range boxes {
		all = all.Union(b)
	}
	return p.before.features[p.rule], front, back, func(x *board.Feature, reach float64) bool {
		if len(boxes) == 0 || !all.Grow(reach).Overlaps(x.Shape.Box()) {
			return false // as most are
		}
		for _, b := range boxes {
			if b.Grow(reach).Overlaps(x.Shape.Box()) {
				return true
			}
		}
		return false
	}
}

func init() {
	for _, r := range rules {
		var ok bool
		if r.reads, ok = readsOf[r.Name]; !ok {
			r.reads = everything // a rule that the table does not know yet
		}
	}
}
