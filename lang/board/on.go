package board

import "slices"

// Edges names the edges that a stretch runs on, in its order.
func (s Stretch) Edges() []string {
	var list []string
	l := s.Profile.Path.Perimeter()
	for turn := 0.0; turn <= 1; turn++ {
		for _, e := range s.Profile.Edges {
			from, to := e.From+turn*l, e.To+turn*l
			if from < s.To-Tolerance && s.From+Tolerance < to && (len(list) == 0 || list[len(list)-1] != e.Name) {
				list = append(list, e.Name)
			}
		}
	}
	return list
}

// TabsIn lists the tabs that stand at least in part in a stretch.
func (b *Board) TabsIn(s Stretch) []*Tab {
	var list []*Tab
	for _, t := range b.Tabs() {
		if t.Edge != nil && t.Edge.Profile == s.Profile && s.meets(t.Edge, t.From(), t.To()) {
			list = append(list, t)
		}
	}
	return list
}

// GapsIn lists the gaps that lie at least in part in a stretch.
func (b *Board) GapsIn(s Stretch) []*Gap {
	var list []*Gap
	for _, g := range b.Gaps() {
		if g.Edge != nil && g.Edge.Profile == s.Profile && s.meets(g.Edge, g.From, g.To) {
			list = append(list, g)
		}
	}
	return list
}

// CastellationsIn lists the rows of half holes with a hole in a stretch.
func (b *Board) CastellationsIn(s Stretch) []*Castellation {
	var list []*Castellation
	for _, c := range b.Castellations() {
		if c.Edge == nil || c.Edge.Profile != s.Profile {
			continue
		}
		half := c.Hole.Value / 2
		if slices.ContainsFunc(c.Centres, func(at float64) bool { return s.meets(c.Edge, at-half, at+half) }) {
			list = append(list, c)
		}
	}
	return list
}

// meets tells whether a stretch shares some length with one of an edge.
func (s Stretch) meets(e *Edge, from, to float64) bool {
	l := s.Profile.Path.Perimeter()
	from, to = e.Range(from, to)
	for _, shift := range [...]float64{-l, 0, l} {
		if min(s.To, to+shift)-max(s.From, from+shift) > Tolerance {
			return true
		}
	}
	return false
}
