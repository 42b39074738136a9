package layers

import (
	"fmt"
	"slices"
	"strings"

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

// path is the way of a bit's middle from where it is let down to where it is lifted.
type path struct {
	segs  []geom.Segment
	cuts  float64 // of the finished profile, nm
	about string
}

// length is that of the finished profile that a path cuts, mm.
func (p path) length() float64 { return p.cuts / mm }

// programs are the drill and rout files, worked out once.
func (m *maker) programs() []program {
	if m.done == nil {
		m.done = m.program()
	}
	return m.done
}

func (m *maker) program() []program {
	span := fmt.Sprintf("1,%d", len(m.levels))
	return []program{
		{name: "drill_plated", function: "Plated," + span + ",PTH,Drill", tools: m.platedDrills(),
			about: "holes to drill before plating: " + m.listed(m.drilledWhole(), true) + "; finished diameters"},
		{name: "drill_unplated", function: "NonPlated," + span + ",NPTH,Drill", tools: m.unplatedDrills(),
			about: "holes to drill after plating: " + m.listed("the perforations of tabs", false) + "; finished diameters"},
		{name: "rout_plated", function: "Plated," + span + ",PTH,Rout", rout: true, tools: m.bits(rout.First),
			about: "first rout, before plating: the stretches that are plated"},
		{name: "rout_final", function: "NonPlated," + span + ",NPTH,Rout", rout: true, tools: m.bits(rout.Final),
			about: "final rout, after plating: the stretches that stay bare, tabs left standing"},
		{name: "rout_tabs", function: "NonPlated," + span + ",NPTH,Rout", rout: true, tools: m.bits(rout.Removal),
			about: "last rout: takes off the tabs that are routed off, along the profile"},
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

// drilledWhole says what drills of a board's half holes and fences are plated.
func (m *maker) drilledWhole() string {
	var list []string
	if len(m.b.Castellations()) > 0 {
		list = append(list, "half holes, with their middles on the profile")
	}
	if len(m.added()) > 0 {
		list = append(list, "added via fences")
	}
	return strings.Join(list, "; ")
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

// bits gives the passes of a kind to their bits.
func (m *maker) bits(kind rout.Kind) (tools []tool) {
	for _, pass := range m.passed().Passes(kind) {
		at := slices.IndexFunc(tools, func(t tool) bool { return t.diameter == pass.Bit })
		if at < 0 {
			at = len(tools)
			tools = append(tools, tool{diameter: pass.Bit, about: "bit"})
		}
		cut := pass.Of.Length()
		if pass.Frame {
			cut = 0
		}
		tools[at].paths = append(tools[at].paths, path{slices.Concat(pass.In, pass.Path, pass.Out), cut, m.passAbout(pass)})
	}
	return tools
}

// passAbout says what a pass cuts.
func (m *maker) passAbout(p rout.Pass) string {
	switch {
	case p.Frame:
		return fmt.Sprintf("on %s: the slot as wide as tab %s is long", p.Of.Profile.Name, p.Tab.Name.Text)
	case p.Tab != nil:
		return fmt.Sprintf("on %s: tab %s", p.Of.Profile.Name, p.Tab.Name.Text)
	}
	return "on " + p.Of.Profile.Name
}
