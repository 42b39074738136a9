package scene

import (
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// GiveWay takes out of each plane the room that it leaves round what it gives
// way to: copper of other nets, holes and perforations. How far that is are
// limits, which are handed in: the text does not state it, and the shape
// without it is what the text says.
func (s *Scene) GiveWay(b *board.Board, room copper.Room) {
	planes := b.Planes()
	if len(planes) == 0 {
		return
	}
	type where struct {
		statement source.Place
		layer     string
	}
	nets, ways := map[where]board.Name{}, map[string][]copper.Way{}
	metal := copper.Of(b, copper.PiecesAlone())
	for _, p := range planes {
		layer := p.Layer.Text
		nets[where{p.Whole, layer}] = p.Net
		if _, ok := ways[layer]; !ok {
			ways[layer] = []copper.Way{}
			metal.GivesWay(layer, room, func(w copper.Way) { ways[layer] = append(ways[layer], w) })
		}
	}
	for i := range s.Items {
		for k := range s.Items[i].Parts {
			part := &s.Items[i].Parts[k]
			if part.Role != Plane {
				continue
			}
			net := nets[where{s.Items[i].Place, part.Layer}]
			for _, w := range ways[part.Layer] {
				if gives(net, w) {
					part.Less = append(part.Less, loops(oneWay(w.Grown(w.By))...)...)
				}
			}
		}
	}
}

// gives tells whether a plane of a net keeps clear of what copper of its layer gives way to.
func gives(plane board.Name, w copper.Way) bool {
	if w.Kind == copper.Drilled || w.Kind == copper.Perforation {
		return true
	}
	return !plane.Given() || w.Net().Text != plane.Text
}

// oneWay turns loops so that they run alike: their union is what is drawn of them.
func oneWay(list []*geom.Loop) []*geom.Loop {
	for i, l := range list {
		if l.Clockwise() {
			list[i] = l.Reverse()
		}
	}
	return list
}
