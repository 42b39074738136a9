package checks

import (
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// featureRecord is what a rule found feature by feature.
type featureRecord struct {
	found map[*board.Feature][]finding.Finding
	reach float64
	reads board.Reads // by looking at any of them
}

// EachFeature calls check with every feature. What check reports must depend on
// the feature, on the stretches of the profiles within reach of it, in nm, and
// otherwise on what it reads of the board: then it is not asked again about a
// feature for which none of that has changed. A rule calls it once.
func (p *Pass) EachFeature(reach float64, check func(*board.Feature)) {
	list := p.Board.Features()
	fresh := &featureRecord{found: map[*board.Feature][]finding.Finding{}, reach: reach}
	if p.note != nil {
		p.note.features[p.rule] = fresh
	}
	before := p.reads
	p.reads = 0
	old, front, back, near := p.oldFeatures(list, reach)
	if p.reads = 0; old != nil {
		p.reads = old.reads
	}
	for i, x := range list {
		n := len(p.found)
		if old != nil && (i < front || i >= len(list)-back) && !near(x) {
			if len(old.found) == 0 {
				continue
			}
			for _, f := range old.found[x] {
				p.add(f)
			}
		} else {
			check(x)
		}
		if len(p.found) > n {
			fresh.found[x] = p.found[n:len(p.found):len(p.found)]
		}
	}
	fresh.reads = p.reads
	p.reads |= before
}

// oldFeatures is what the rule found on features in the last check, nil where
// that is of no use; how many features at the front and the back are the same;
// and whether a stretch within reach of one has changed.
func (p *Pass) oldFeatures(list []*board.Feature, reach float64) (old *featureRecord, front, back int, near func(*board.Feature) bool) {
	if p.before == nil {
		return nil, 0, 0, nil
	}
	old = p.before.features[p.rule]
	if old == nil || old.reach != reach || old.reads&p.differs&^board.ReadsStretches != 0 {
		return nil, 0, 0, nil
	}
	var boxes []geom.Box
	if old.reads&p.differs != 0 {
		var ok bool
		if boxes, ok = p.Board.WallChanges(p.before.board); !ok {
			return nil, 0, 0, nil
		}
	}
	front, back = source.Common(p.before.board.Features(), list)
	all := geom.EmptyBox()
	for _, b := range boxes {
		all = all.Union(b)
	}
	return old, front, back, func(x *board.Feature) bool {
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
