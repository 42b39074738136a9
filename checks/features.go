package checks

import (
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// featureRecord is what a rule found feature by feature.
type featureRecord struct {
	found map[*board.Feature][]*finding.Finding
	reads board.Reads // by looking at any of them
}

// EachFeature calls check with every feature. What check reports may depend on
// the feature, on the stretches of the profiles within reach of it, in nm, and
// on whatever else it, or the rule before it, has read: it is not asked again
// about a feature for which none of that has changed. Of a wall it looks at the
// stretches near the feature alone, not at how many there are or how long they
// are together, and it counts nothing from one feature to the next. A rule calls
// it once, and first: then what a gap does to the walls elsewhere costs little.
func (p *Pass) EachFeature(reach float64, check func(*board.Feature)) {
	before := p.reads
	list := p.Board.Features()
	all := p.reads
	fresh := &featureRecord{found: map[*board.Feature][]*finding.Finding{}}
	if p.note != nil {
		if p.note.features[p.rule] != nil {
			panic("the rule " + p.rule.Name + " goes through the features twice")
		}
		p.note.features[p.rule] = fresh
	}
	old, front, back, near := p.oldFeatures(list, reach, before)
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
	p.reads |= all
}

// oldFeatures is what the rule found on features in the last check, nil where
// that is of no use; how many features at the front and the back are the same;
// and whether a stretch within reach of one has changed.
func (p *Pass) oldFeatures(list []*board.Feature, reach float64, before board.Reads) (old *featureRecord, front, back int, near func(*board.Feature) bool) {
	if p.before == nil || before&p.differs != 0 {
		return nil, 0, 0, nil
	}
	old = p.before.features[p.rule]
	if old == nil || old.reads&p.differs&^board.ReadsStretches != 0 {
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
