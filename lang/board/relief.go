package board

import "hemline/lang/syntax"

// Relief is solder mask taken off.
type Relief struct {
	Item
	Over   Name
	Faces  []Face
	Reach  Value
	Margin Value
}

// FaceNames are the faces' words.
func (r *Relief) FaceNames() []string {
	var list []string
	for _, f := range r.Faces {
		list = append(list, f.String())
	}
	return list
}

func (m *meaning) relief(r *syntax.Reading, base Item) *Relief {
	x := &Relief{Item: base, Over: nameOf(r.Get("over"), 0), Reach: m.quantity(r.Get("reach"), 0, positive), Margin: m.quantity(r.Get("margin"), 0, notNegative)}
	if on := r.Get("on"); on != nil {
		for _, v := range on.Values {
			if f, ok := m.face(v); ok {
				x.Faces = append(x.Faces, f)
			}
		}
	}
	if !x.Over.Given() || len(x.Faces) == 0 || !x.Reach.Given() {
		return nil
	}
	return x
}

func (r *Relief) refers(t *tying) { t.to(r.Over, reliefNames) }
