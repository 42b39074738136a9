package layers

import (
	"fmt"
	"slices"

	"hemline/lang/board"
	"hemline/lang/geom"
	"hemline/lang/rout"
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
			about: "holes to drill before plating: " + m.listed("half holes, with their middles on the profile, and added via fences", true) + "; finished diameters"},
		{name: "drill_unplated", function: "NonPlated," + span + ",NPTH,Drill", tools: m.unplatedDrills(),
			about: "holes to drill after plating: " + m.listed("the perforations of tabs", false) + "; finished diameters"},
		{name: "rout_plated", function: "Plated," + span + ",PTH,Rout", rout: true, tools: m.bits(rout.Plated),
			about: "first rout, before plating: the stretches that are plated"},
		{name: "rout_final", function: "NonPlated," + span + ",NPTH,Rout", rout: true, tools: m.bits(rout.Bare),
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
	for _, f := range m.added() {
		t := tool{diameter: f.Hole.Value, aperture: "ViaDrill", about: "added via fences", holes: f.Vias}
		for range f.Vias {
			t.nets = append(t.nets, f.Net)
		}
		tools = merged(tools, t)
	}
	return append(tools, m.holes(true)...)
}

// added are the fences that the artwork does not have yet; the others' vias are drilled with its own.
func (m *maker) added() []*board.Fence {
	return slices.DeleteFunc(slices.Clone(m.b.Fences()), func(f *board.Fence) bool { return !f.Added })
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
		other = len(m.b.Castellations()) + len(m.added())
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

// bits gives each profile's runs to its bit.
func (m *maker) bits(runs func(*board.Board, *board.Profile) []board.Stretch) (tools []tool) {
	bits := rout.BitsOf(m.b, m.o.RouterBit)
	for _, p := range m.b.Profiles() {
		list := paths(p, runs(m.b, p))
		if len(list) == 0 {
			continue
		}
		d := bits.Bit(p)
		at := slices.IndexFunc(tools, func(t tool) bool { return t.diameter == d })
		if at < 0 {
			at = len(tools)
			tools = append(tools, tool{diameter: d, about: "bit"})
		}
		tools[at].paths = append(tools[at].paths, list...)
	}
	return tools
}

func paths(p *board.Profile, runs []board.Stretch) (list []path) {
	for _, s := range runs {
		list = append(list, path{segs: s.Segments(), right: !p.Cutout, about: "on " + p.Name})
	}
	return list
}
