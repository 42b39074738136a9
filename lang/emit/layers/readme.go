package layers

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// ReadmeName is the readme's name in a set.
const ReadmeName = "README.txt"

// ReadmeMark is how the readme of a set begins.
const ReadmeMark = "Layers of a board, by hemline\n"

// readme says what each file holds and how it is to be read.
func (m *maker) readme(files []bundle.File) []byte {
	var w strings.Builder
	name, revision := "not named", "none stated"
	if i := m.b.Info(); i != nil {
		if i.Name.Text != "" {
			name = i.Name.Text
		}
		if i.Title.Given() {
			name += ", " + i.Title.Text
		}
		if i.Revision.Given() {
			revision = i.Revision.Text
		}
	}
	fmt.Fprintf(&w, ReadmeMark+"\nBoard: %s\nRevision: %s\n", source.Visible(printable(name)), source.Visible(printable(revision)))
	if t, ok := m.b.Thickness(); ok {
		fmt.Fprintf(&w, "Thickness: %s mm\n", number(t.Value/mm, 3))
	}
	w.WriteString(m.lying() + m.steps(files) + "\nThe files\n\n")
	for _, f := range files {
		fmt.Fprintf(&w, "%s\n    %s\n    for %s\n", f.Name, printable(f.About), forWhom(f.Name))
	}
	for _, p := range m.programs() {
		if len(p.tools) == 0 {
			continue
		}
		fmt.Fprintf(&w, "\n%s.xnc\n", p.name)
		for n, t := range p.tools {
			fmt.Fprintf(&w, "    T%02d  %s mm  %s", n+1, millimetres(t.diameter), t.about)
			long := 0.0
			for _, path := range t.paths {
				long += path.length()
			}
			if p.rout {
				fmt.Fprintf(&w, ", paths: %d, %s mm along the profile\n", len(t.paths), number(long, 3))
			} else {
				fmt.Fprintf(&w, ", holes: %d\n", len(t.holes))
			}
		}
	}
	w.WriteString(alongPaths)
	if m.coupon() {
		return []byte(w.String() + "\n" + wrapped(wording.Caution, wide) + "\n")
	}
	fmt.Fprintf(&w, `
Kept free of copper: %s mm from a bare edge on outer layers and %s mm on inner
ones, %s mm from a wall on inner layers that are not joined to it, %s mm beside
tabs, and gaps as deep as the wrap beside them. Pins of connectors, features and
stated pads of vias are left out of the area.
%s
%s
`, millimetres(m.o.EdgeOuter.By), millimetres(m.o.EdgeInner.By), millimetres(m.o.WallInner.By), millimetres(m.o.TabGap), m.besideWalls()+m.givenWay(), wrapped(wording.Caution, wide))
	return []byte(w.String())
}

// alongPaths says how the paths of the routs are meant.
const alongPaths = `
The paths are of the bit's middle, with no compensation, and cut the finished
edge. What the plating adds is the shop's: in the first rout the bit's middle
runs D/2 less the wall's thickness off the profile, D being the bit. The board
lies to the left of travel, conventional for a spindle that turns clockwise
from above; the shop may turn it. Then the burr of a half hole changes sides:
as it is, it comes into the hole at the flank that the bit meets first.

The bits are the largest in common use that reach inside corners and leave tabs
a waist, or thinner ones that the shop has; finer ones follow through throats.
A path begins and ends half a millimetre aside, off the edge, where there is
room for that. Passes along the frame widen a slot to its tabs' length. At a
tab's sides passes end: its root, on the profile, has its width, and is
narrowed only by a bit that cuts an inside corner beside it. Where plated meets
bare, the middles of the bits of first and final rout stay D x sin 15 degrees
apart: the bit crosses the copper at 30 degrees (our own judgement), and a crest
of at most 1.7 % of D stands, 4 % in a hollow. Tabs that the shop routs off go
last, by rout_tabs.xnc, along the profile; those that others take off are in no
file. Of a plated slot as wide as the bit there is one path: what the plating
takes up asks for two. The bit of one that is narrower is its finished width, as
of a plated drill. What is cut out of an opening comes loose.
`

// besideWalls says for which copper free is meant beside a wall that an inner
// layer does not join, and where a plane keeps less from one of its own net.
func (m *maker) besideWalls() string {
	var nets, less bool
	for _, p := range m.b.Platings() {
		for _, l := range m.levels {
			if others, planes, ok := m.metal.OffWall(p, l.name, m.o.Room); ok && !l.outer() {
				nets, less = nets || p.Net.Given(), less || planes < others.By
			}
		}
	}
	text := ""
	if nets {
		text = `
Beside a wall that an inner layer does not join, free is meant for copper of
other nets and for planes: other copper of the wall's own net may lie in it.
`
	}
	if less {
		text += `
Where a plane of a wall's own net lies on an inner layer that is not joined to
the wall, free is no more than what the plane keeps from the profile.
`
	}
	return text
}

// givenWay says how far copper keeps from what it gives way to, if from anything.
func (m *maker) givenWay() string {
	var bare, nets bool
	for _, l := range m.levels {
		m.metal.GivesWay(l.name, m.o.Room, func(w copper.Way) {
			bare = bare || !w.Kind.Copper()
			nets = nets || w.Kind.Copper()
		})
	}
	text := ""
	if bare {
		text = `
Round an unplated hole and a perforation copper keeps as far away as from a bare
edge.
`
	}
	if slices.ContainsFunc(m.b.Tabs(), func(t *board.Tab) bool { return t.Perforated && m.b.Rooted(t) }) {
		text += `The copper that runs on over a premetallised tab is drilled through.
`
	}
	if nets {
		text += fmt.Sprintf(`
Planes give way to copper of other nets: %s mm to features, pins, vias, plated
holes, half holes and lands, %s mm to wraps; an inner layer without a plane gives
way to what is drilled through it. There free is meant for the planes: pads and
tracks of the net in its middle may lie in it.
`, millimetres(m.o.Copper.By), millimetres(m.o.Wrap.By))
	}
	return text
}

// wrapped breaks a text into lines of so many letters at most.
func wrapped(text string, most int) string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && len(line)+1+len(word) > most {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return strings.Join(append(lines, line), "\n")
}
