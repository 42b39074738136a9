package layers

import (
	"strings"

	"hemline/lang/board"
	"hemline/lang/geom"
)

// mask is where solder mask is taken off a face: inward as far as the spec
// says, and past the profile, so that none is left on the wall.
func (m *maker) mask(f board.Face) (image, error) {
	face := f.String()
	i := image{name: "mask_" + face + "_open", function: "Other,Solder mask to open at the edge " + strings.ToUpper(face[:1]) + face[1:],
		about: "solder mask to open on the " + face + " face; what lies past the profile is there so that no mask is left on the wall"}
	var past []*geom.Loop
	var of []*board.Relief // whose openings end in past where
	var ends []int
	for _, r := range m.b.Reliefs() {
		for _, on := range r.Faces {
			if on == f {
				in, out := m.opening(r, f)
				i.dark("", board.Name{}, in...)
				past = append(past, out...)
				of, ends = append(of, r), append(ends, len(past))
			}
		}
	}
	m.trim(&i)
	drawn := geom.NewShapes(i.shapes(false)...)
	if m.strays(drawn, past) > speck {
		return i, m.astray(drawn, f, of, past, ends)
	}
	i.dark("", board.Name{}, past...)
	return i, nil
}

// astray names the reliefs whose openings past the profile stray: all of them
// where each alone strays by less than counts.
func (m *maker) astray(drawn *geom.Shapes, f board.Face, of []*board.Relief, past []*geom.Loop, ends []int) error {
	var some, all strays
	from := 0
	for k, r := range of {
		s := Stray{Relief: r, Face: f}
		all = append(all, s)
		if m.strays(drawn, past[from:ends[k]]) > speck {
			some = append(some, s)
		}
		from = ends[k]
	}
	if len(some) == 0 {
		return all
	}
	return some
}

// opening is one relief on a face: what it opens on the board, and beyond the profile.
func (m *maker) opening(r *board.Relief, f board.Face) (in, out []*geom.Loop) {
	for _, o := range m.b.Openings(r, m.o.MaskMargin) {
		if o.Face != f {
			continue
		}
		in = append(in, o.Loops()...)
		if o.Row == nil {
			out = append(out, m.beyond(o.Stretch, max(pastProfile, o.Stretch.Plating.Extend.Value))...)
			continue
		}
		position := o.Row.Centres[o.Hole]
		out = append(out, pastHalfHole(o.Row.Edge, position, o.Width)...)
	}
	return in, out
}

// pastHalfHole is what is opened past the profile at a half hole. On a curved edge
// it follows the edge: what stands on the tangent would lie on the board beside
// a half hole in a cutout's rim.
func pastHalfHole(e *board.Edge, position, width float64) []*geom.Loop {
	along := e.Along(position)
	if i, _ := e.Profile.Path.SegmentAt(along); i < 0 || !e.Profile.Path.Segments()[i].Arc {
		return []*geom.Loop{e.Standing(position, width, pastProfile, 0)}
	}
	return board.Stretch{Profile: e.Profile, From: along - width/2, To: along + width/2}.Outward(pastProfile)
}

// beyond is the strip past the profile, narrower where an opening in the board
// is too narrow for it.
func (m *maker) beyond(s board.Stretch, width float64) []*geom.Loop {
	var loops []*geom.Loop
	for range 5 {
		loops = s.Outward(width)
		if m.strays(geom.NewShapes(), loops) <= speck {
			break
		}
		width /= 2
	}
	return loops
}
