package rules

import (
	"fmt"

	"hemline/checks"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// named is what a piece is called in a sentence: kind, name and net, and where
// that tells something the layer.
func named(m *copper.Map, x *copper.Piece, on copper.Layers) string {
	name := x.Name()
	where := ""
	if names := m.Names(x.Layers & on); x.Layers != copper.Through && names != "" {
		where = " on " + names
	}
	switch x.Kind {
	case copper.Wall:
		return "plating " + name + ofNet(x.Net())
	case copper.Wrap:
		return "the wrap of plating " + name + ofNet(x.Net()) + where
	case copper.Strip:
		return "the copper of plating " + name + ofNet(x.Net()) + where
	case copper.Run:
		return "the plane" + where + " where it runs to plating " + name + ofNet(x.Net())
	case copper.Barrel:
		return half(x) + ofNet(x.Net())
	case copper.Land:
		return "the land of " + half(x) + ofNet(x.Net())
	case copper.Via:
		return "a via of fence " + name + ofNet(x.Net())
	case copper.Pad:
		return "the pad of a via of fence " + name + ofNet(x.Net())
	case copper.PlatedHole:
		return "hole " + name + ofNet(x.Net())
	case copper.Ring:
		return "the land of hole " + name + ofNet(x.Net())
	case copper.Drilled:
		return "hole " + name
	case copper.Pin:
		if x.Member >= 0 {
			return fmt.Sprintf("leg %d of connector %s%s%s", x.Member+1, name, ofNet(x.Net()), where)
		}
		return "the pin of connector " + name + ofNet(x.Net()) + where
	case copper.Body:
		return "the body of connector " + name
	case copper.Feature:
		return "feature " + name + ofNet(x.Net()) + where
	case copper.Plane:
		return "the plane" + where + ofNet(x.Net())
	case copper.Tab:
		return "tab " + name
	case copper.Perforation:
		return "a hole of tab " + name
	case copper.Cutout:
		return "cutout " + name
	case copper.Opening:
		return opening(x) + where
	}
	switch x.Item.(type) {
	case *board.Tab:
		return "the root of premetallised tab " + name + ", bare once the tab is cut,"
	case *board.Cutout:
		return "the bare edge of cutout " + name
	}
	return "the bare edge"
}

// half is a half hole, by its number where its row has several.
func half(x *copper.Piece) string {
	if c := x.Item.(*board.Castellation); len(c.Centres) > 1 {
		return fmt.Sprintf("half hole %d of castellation %s", x.Member+1, x.Name())
	}
	return "half hole " + x.Name()
}

func opening(x *copper.Piece) string {
	switch x.Item.(type) {
	case *board.Relief:
		return "the mask opening of relief " + x.Name()
	case *board.Hole:
		return "the mask opening of hole " + x.Name()
	case *board.Connector:
		return "the mask opening of connector " + x.Name()
	}
	return "the mask opening of feature " + x.Name()
}

// placeOf is the tightest place that says where a piece lies.
func placeOf(m *copper.Map, x *copper.Piece) source.Place {
	switch i := x.Item.(type) {
	case *board.Feature:
		return i.ShapeAt
	case *board.Hole:
		return i.CentreAt
	case *board.Fence:
		return i.Inset.At
	case *board.Tab:
		return i.PositionAt
	case *board.Castellation:
		return i.Stretch
	case *board.Relief:
		return reliefAt(i)
	case *board.Plane:
		return i.Pullback.At
	case *board.Connector:
		if x.Kind == copper.Body {
			return i.Body.At
		}
		if x.Member >= 0 {
			return i.Legs.At
		}
		for _, pin := range i.Pins {
			if f, ok := m.Face(x); ok && f == pin.Face {
				return pin.At
			}
		}
		return i.PositionAt
	case *board.Plating:
		if f, ok := m.Face(x); ok && x.Kind == copper.Wrap {
			return i.Wrap[f].At
		}
		return i.Name.At
	case *board.Cutout:
		return i.Name.At
	}
	return x.Stretch().Profile.At
}

// report makes the finding of two pieces that are too near each other.
func (s short) report(p *checks.Pass) *finding.Finding {
	m := survey(p)
	a, b, where := s.names(p)
	at, on := s.place(p)
	one := s.subject.Item == s.other.Item
	var f *finding.Finding
	switch {
	case s.by != nil:
		f = reportNothingLeft(p, at, on, fmt.Sprintf("distance from %s to %s at %s", a, b, where), s.d, s.by...)
	case s.touch && s.row.need != nil:
		f = p.Report(at, on, "%s meets %s at %s", a, b, where)
	case s.touch:
		f = p.Report(at, on, "%s overlaps %s at %s", a, b, where)
	case s.d <= board.Tolerance:
		f = p.Report(at, on, "%s meets %s at %s; %s asks for at least %s between them %s", a, b, where, s.need.Who, s.need.Quantity, s.need.From())
	default:
		f = p.Report(at, on, "%s", tooSmall(fmt.Sprintf("distance from %s to %s at %s", a, b, where), length(s.d), s.need))
	}
	if other := placeOf(m, s.other); !one && other.Anchor != nil {
		related(f, other, "%s", b)
	}
	if s.row.need != nil && s.by == nil {
		relatedLimit(f, s.need)
	}
	return f
}

// names are what the two pieces are called, and where they are nearest.
func (s short) names(p *checks.Pass) (a, b, where string) {
	m, shared := survey(p), s.subject.Layers&s.other.Layers
	return named(m, s.subject, shared), named(m, s.other, shared), board.Coordinates(s.at())
}

// place is where a finding of the pair stands, and what it is on.
func (s short) place(p *checks.Pass) (at source.Place, on []string) {
	at, on = placeOf(survey(p), s.subject), []string{s.subject.Name()}
	one := s.subject.Item == s.other.Item
	if pitch := pitchOf(s.subject); one && pitch.Given() {
		at = pitch.At
	}
	if !one && s.other.Item != nil {
		on = append(on, s.other.Name())
	}
	return at, on
}

// pitchOf is the pitch of the row that a piece is of.
func pitchOf(x *copper.Piece) board.Value {
	switch i := x.Item.(type) {
	case *board.Castellation:
		return i.Pitch
	case *board.Fence:
		return i.Pitch
	}
	return board.Value{}
}
