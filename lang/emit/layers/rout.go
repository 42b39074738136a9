package layers

import (
	"fmt"
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// program is one numerical control file: holes, or paths.
type program struct {
	name, function, about string
	rout                  bool
	tools                 []tool
}

// tool is a drill with its holes, or a bit with its paths.
type tool struct {
	diameter float64 // nm
	about    string
	aperture string // .AperFunction, of drills
	holes    []geom.Point
	nets     []board.Name // one for each hole, or none
	paths    []path
}

// path is a run of the finished profile that a bit cuts, lying on one side.
type path struct {
	segs  []geom.Segment
	right bool // the bit runs to the right of the path
	about string
}

func (m *maker) programs() []program {
	span := fmt.Sprintf("1,%d", len(m.levels))
	return []program{
		{name: "drill_plated", function: "Plated," + span + ",PTH,Drill", tools: m.platedDrills(),
			about: "holes to drill before plating: " + m.listed("half holes, with their middles on the profile, and via fences", true) + "; finished diameters"},
		{name: "drill_unplated", function: "NonPlated," + span + ",NPTH,Drill", tools: m.unplatedDrills(),
			about: "holes to drill after plating: " + m.listed("the perforations of tabs", false) + "; finished diameters"},
		{name: "rout_plated", function: "Plated," + span + ",PTH,Rout", rout: true, tools: m.bits(m.platedRuns),
			about: "first rout, before plating: the stretches that are plated"},
		{name: "rout_final", function: "NonPlated," + span + ",NPTH,Rout", rout: true, tools: m.bits(m.bareRuns),
			about: "final rout, after plating: the stretches that stay bare, tabs left standing"},
	}
}

func (m *maker) platedDrills() (tools []tool) {
	for _, c := range m.b.Castellations() {
		t := tool{diameter: c.Hole.Value, aperture: "CastellatedDrill", about: "half holes"}
		for n, position := range c.Centres {
			t.holes, t.nets = append(t.holes, c.Edge.Point(position)), append(t.nets, c.NetOf(n))
		}
		tools = merged(tools, t)
	}
	// The pads of a fence's vias are the artwork's own copper: its land adds nothing here.
	for _, f := range m.b.Fences() {
		t := tool{diameter: f.Hole.Value, aperture: "ViaDrill", about: "via fences", holes: f.Vias}
		for range f.Vias {
			t.nets = append(t.nets, f.Net)
		}
		tools = merged(tools, t)
	}
	return append(tools, m.holes(true)...)
}

// holes are the drills of the holes that are plated, or of those that are not.
func (m *maker) holes(plated bool) (tools []tool) {
	for _, h := range m.b.Holes() {
		if h.Plated != plated {
			continue
		}
		t := tool{diameter: h.Diameter.Value, aperture: "MechanicalDrill", about: "mounting and tooling", holes: []geom.Point{h.Centre}}
		if plated {
			t.nets = []board.Name{h.Net}
		}
		tools = merged(tools, t)
	}
	return tools
}

// listed says what a drill file holds: the holes too where there are any for it.
func (m *maker) listed(rest string, plated bool) string {
	other := len(m.b.Tabs())
	if plated {
		other = len(m.b.Castellations()) + len(m.b.Fences())
	}
	switch {
	case len(m.holes(plated)) == 0:
		return rest
	case other == 0:
		return "holes"
	}
	return "holes; " + rest
}

func (m *maker) unplatedDrills() (tools []tool) {
	for _, t := range m.b.Tabs() {
		if holes := t.Holes(); len(holes) > 0 {
			tools = merged(tools, tool{diameter: t.Hole.Value, aperture: "MechanicalDrill,BreakOut", about: "perforations of tabs", holes: holes})
		}
	}
	return append(tools, m.holes(false)...)
}

// merged adds a tool's holes to those of the same tool.
func merged(tools []tool, t tool) []tool {
	if len(t.holes) == 0 || t.diameter <= 0 {
		return tools
	}
	for i := range tools {
		if x := &tools[i]; x.aperture == t.aperture && x.diameter == t.diameter {
			x.holes, x.nets = append(x.holes, t.holes...), append(x.nets, t.nets...)
			return tools
		}
	}
	t.holes, t.nets = slices.Clone(t.holes), slices.Clone(t.nets)
	return append(tools, t)
}

// usualBits, nm, are outline bits in use, largest first (fabricators' pages,
// 0.8 to 2.54 mm).
var usualBits = []float64{2.4 * mm, 2 * mm, 1.6 * mm, 1.2 * mm, 1 * mm, 0.8 * mm}

// bits gives each profile the largest usual bit that fits it and its runs.
func (m *maker) bits(runs func(*board.Profile, float64) []path) (tools []tool) {
	for _, p := range m.b.Profiles() {
		d := m.bit(p)
		paths := runs(p, d)
		if len(paths) == 0 {
			continue
		}
		at := slices.IndexFunc(tools, func(t tool) bool { return t.diameter == d })
		if at < 0 {
			at = len(tools)
			tools = append(tools, tool{diameter: d, about: "bit"})
		}
		tools[at].paths = append(tools[at].paths, paths...)
	}
	return tools
}

// bit is the largest usual bit that passes a profile's inside corners, fits
// between two neighbouring runs of it, and beside each tab without cutting
// into it. Where none is thin enough it is the largest of whole tenths of a
// millimetre that is, if the shop has bits so thin, else the shop's thinnest.
func (m *maker) bit(p *board.Profile) float64 {
	room := m.room(p)
	for _, d := range usualBits {
		if d <= room+board.Tolerance && d >= m.o.RouterBit-board.Tolerance {
			return d
		}
	}
	thin := math.Floor((room+board.Tolerance)/(0.1*mm)) * 0.1 * mm
	return max(m.o.RouterBit, min(thin, usualBits[len(usualBits)-1]))
}

// room is the diameter of the largest bit that a profile lets in, nm.
func (m *maker) room(p *board.Profile) float64 {
	room := math.Inf(1)
	for _, g := range p.Path.Segments() {
		if g.Arc && p.Cutout != g.Clockwise { // an inside corner, seen by the bit
			room = min(room, 2*g.Radius())
		}
	}
	if w, narrow := m.widths[p]; narrow {
		room = min(room, w)
	}
	for _, t := range m.b.Tabs() {
		if t.Edge.Profile != p || t.Premetallised {
			continue
		}
		from, to := t.Edge.Range(t.From(), t.To())
		for _, s := range m.b.Wall(p).Plated {
			if d := apart(from, to, s, p.Path.Perimeter()); d > board.Tolerance {
				room = min(room, 2*d)
			}
		}
	}
	return room
}

// apart is the distance along a ring between a range and a stretch.
func apart(from, to float64, s board.Stretch, round float64) float64 {
	least := math.Inf(1)
	for _, shift := range [...]float64{-round, 0, round} {
		least = min(least, max(0, from+shift-s.To, s.From-to-shift))
	}
	return least
}

// platedRuns are the plated runs of a profile, premetallised tabs left out.
func (m *maker) platedRuns(p *board.Profile, bit float64) []path {
	return m.runs(p, bit, geom.Complement(m.bare(p), p.Path.Perimeter()))
}

// bareRuns are the others, tabs left out.
func (m *maker) bareRuns(p *board.Profile, bit float64) []path { return m.runs(p, bit, m.bare(p)) }

// bare is what of a profile is not plated.
func (m *maker) bare(p *board.Profile) (list geom.Intervals) {
	for _, s := range m.b.Wall(p).Bare {
		list = append(list, ring(s.From, s.To, p.Path.Perimeter())...)
	}
	return list
}

func ring(from, to, round float64) geom.Intervals {
	switch {
	case to-from >= round-board.Tolerance:
		return geom.Intervals{{From: 0, To: round}}
	case to-from <= board.Tolerance:
		return nil
	}
	return geom.OnRing(from, to, round)
}

// runs turns a part of a profile, less its tabs, into paths. A path ends half
// a bit before a tab, so that the tab keeps its width.
func (m *maker) runs(p *board.Profile, bit float64, part geom.Intervals) (paths []path) {
	round := p.Path.Perimeter()
	var tabs geom.Intervals
	for _, t := range m.b.Tabs() {
		if t.Edge.Profile == p {
			from, to := t.Edge.Range(t.From(), t.To())
			tabs = append(tabs, ring(from-bit/2, to+bit/2, round)...)
		}
	}
	for _, run := range geom.Subtract(part, tabs, board.Tolerance).Runs(round, board.Tolerance) {
		s := board.Stretch{Profile: p, From: run.From, To: run.To}
		paths = append(paths, path{segs: s.Segments(), right: !p.Cutout, about: "on " + p.Name})
	}
	return paths
}
