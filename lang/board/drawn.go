package board

import (
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// piece is a piece of a drawn path.
type piece struct {
	name string
	at   source.Place
	seg  geom.Segment // between its sharp points
	// corner is the radius of the round at its end; none where it is not Given or 0.
	corner Value
	// from and to are where the rounds at its ends leave it.
	from, to float64
	round    geom.Segment
}

func (p *piece) rounded() bool { return p.corner.Given() && p.corner.Value > 0 }

// roundCorners works out the rounds of a closed path.
func (m *meaning) roundCorners(pieces []piece) bool {
	for i := range pieces {
		pieces[i].from, pieces[i].to = 0, pieces[i].seg.Length()
	}
	for i := range pieces {
		p, next := &pieces[i], &pieces[(i+1)%len(pieces)]
		if !p.rounded() {
			continue
		}
		if p.seg.Smooth(next.seg, Straight) {
			m.report(RuleWrongValue, p.corner.At, "%s and %s join smoothly at %s; there is no corner to round", p.name, next.name, Coordinates(p.seg.B))
			return false
		}
		round, to, from, ok := geom.Fillet(p.seg, next.seg, p.corner.Value)
		if !ok {
			m.report(RuleWrongValue, p.corner.At, "no arc with a radius of %s touches both %s and %s inside their angle; state a smaller radius", p.corner, p.name, next.name)
			return false
		}
		p.round, p.to, next.from = round, to, from
	}
	for i := range pieces {
		p, before := &pieces[i], &pieces[(i+len(pieces)-1)%len(pieces)]
		if p.to < p.from-Tolerance {
			show := func(nm float64) quantity.Quantity { return quantity.Nanometres(nm) }
			m.report(RuleWrongValue, p.corner.At, "the rounds at the ends of %s take %s and %s of it, and it is %s long; state a smaller radius here or at the end of %s",
				p.name, show(p.from), show(p.seg.Length()-p.to), show(p.seg.Length()), before.name)
			return false
		}
	}
	return true
}

// drawnProfile is a drawn path; positions on its edges run as it was drawn,
// whichever way round that is.
func drawnProfile(pieces []piece) *Profile {
	n := len(pieces)
	parts := make([]geom.Segment, n)
	for i, q := range pieces {
		parts[i] = q.seg.Sub(q.from, q.to)
	}
	var segs []geom.Segment
	var starts []float64 // of each piece, as drawn
	at := 0.0
	for i, q := range pieces {
		starts = append(starts, at)
		if !q.rounded() || q.to-q.from > Tolerance {
			segs = append(segs, parts[i])
			at += parts[i].Length()
		}
		if q.rounded() {
			q.round.A, q.round.B = parts[i].B, parts[(i+1)%n].A
			segs = append(segs, q.round)
			at += q.round.Length()
		}
	}
	path := geom.NewLoop(segs)
	reversed := path.SignedArea() < 0
	if reversed {
		path = path.Reverse()
	}
	p := newProfile(path, "start")
	// ran turns a run of the path as drawn into one along the profile's.
	ran := func(from, to float64) (float64, float64) {
		if reversed {
			return at - to, at - from
		}
		return from, to
	}
	for i, q := range pieces {
		e := &Edge{Name: q.name, Profile: p, Length: q.seg.Length(), Base: q.from, Reversed: reversed, Closed: n == 1, Piece: q.seg, At: q.at}
		e.From, e.To = ran(starts[i], starts[i]+q.to-q.from)
		p.Edges = append(p.Edges, e)
	}
	for i, q := range pieces {
		if !q.rounded() {
			continue
		}
		until := at
		if i+1 < n {
			until = starts[i+1]
		}
		c := Corner{Before: p.Edges[i], After: p.Edges[(i+1)%n], At: q.corner.At}
		c.From, c.To = ran(starts[i]+q.to-q.from, until)
		if reversed {
			c.Before, c.After = c.After, c.Before
		}
		p.Corners = append(p.Corners, c)
	}
	return p
}
