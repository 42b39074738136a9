package board

import "hemline/lang/geom"

// ProfilesNear calls visit with the profiles whose box comes within reach of a
// box, so that a board of thousands of cutouts is not searched for each item.
func (b *Board) ProfilesNear(box geom.Box, reach float64, visit func(*Profile)) {
	g := b.geometry()
	if len(g.profiles) <= 4 {
		for _, p := range g.profiles {
			if p.Path.Box().Overlaps(box.Grow(reach)) {
				visit(p)
			}
		}
		return
	}
	g.once.Do(func() {
		boxes := make([]geom.Box, len(g.profiles))
		for i, p := range g.profiles {
			boxes[i] = p.Path.Box()
		}
		g.index = geom.NewIndex(boxes)
	})
	g.index.Search(box.Grow(reach), func(i int) bool {
		visit(g.profiles[i])
		return true
	})
}

// OnBoard tells whether a point lies on the board: inside the outline and in
// no cutout. It needs an outline.
func (b *Board) OnBoard(at geom.Point) bool {
	if b.Outline() == nil || !b.Outline().Path.Contains(at) {
		return false
	}
	on := true
	b.ProfilesNear(geom.BoxOf(at), 0, func(p *Profile) {
		if p.Cutout && p.Path.Contains(at) {
			on = false
		}
	})
	return on
}

// areas are the outline and the cutouts, as what the board's area is made of.
func (g *geometry) areas() (outline, cut *geom.Shapes) {
	g.onceArea.Do(func() {
		var outline, cut []*geom.Loop
		for _, p := range g.profiles {
			if p.Cutout {
				cut = append(cut, p.Path)
			} else {
				outline = append(outline, p.Path)
			}
		}
		g.outline, g.cut = geom.NewShapes(outline...), geom.NewShapes(cut...)
	})
	return g.outline, g.cut
}

// Crowded tells whether a part of any profile that is not beside segment i of a
// profile's path lies within reach of it, or little farther.
func (b *Board) Crowded(p *Profile, i int, reach float64) (yes bool) {
	s := p.Path.Segments()[i]
	start, l := p.Path.Start(i), p.Path.Perimeter()
	end := start + s.Length()
	b.ProfilesNear(s.Box(), reach, func(o *Profile) {
		o.Near(s.Box(), reach, func(from, to float64) {
			if o != p {
				yes = true
				return
			}
			beside := false
			for _, shift := range [...]float64{-l, 0, l} {
				beside = beside || from+shift <= end+Tolerance && to+shift >= start-Tolerance
			}
			yes = yes || !beside
		})
	})
	return yes
}
