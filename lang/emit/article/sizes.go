package article

import (
	"fmt"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/quantity"
)

func (m *maker) outline() {
	box := m.b.Outline().Path.Box()
	m.say("Outline: size over all", everywhere, fmt.Sprintf("%s by %s mm%s", wording.Millimetres(box.Max.X-box.Min.X), wording.Millimetres(box.Max.Y-box.Min.Y), m.off("outline")), TheText, "x", "y")
	if t, ok := m.b.Thickness(); ok {
		m.say("Finished thickness", everywhere, wording.Millimetres(t.Value)+" mm"+m.off("thickness"), TheText)
	}
	if c := m.b.CriterionOf("bow"); c.Maximum.Given() {
		m.say("Bow and twist", everywhere, "at most "+c.Maximum.Quantity.As(quantity.Percent).String(), TheText, "bow", "twist")
	}
}

// openings are cutouts and holes, those of one row in one line.
func (m *maker) openings() {
	at := map[string]int{}
	add := func(item *board.Item, what, where, limit string) {
		row := item.Row.Text
		if i, known := at[row]; row != "" && known {
			m.list[i].Where += ", " + where
			return
		}
		name := item.Name.Text
		if row != "" {
			at[row], name = len(m.list), row
		}
		m.say(what, name+" at "+where, limit, TheText, "least", "most")
	}
	for _, c := range m.b.Cutouts() {
		if c.Profile == nil {
			continue
		}
		path, where := c.Profile.Path, c.Centre
		var size string
		switch c.Kind {
		case "circle":
			size = "⌀" + length(c.Width)
		case "slot":
			size = fmt.Sprintf("%s by %s mm", wording.Millimetres(c.SlotLength()), wording.Millimetres(c.Width.Value))
		default:
			box := path.Box()
			size = fmt.Sprintf("%s by %s mm", wording.Millimetres(box.Max.X-box.Min.X), wording.Millimetres(box.Max.Y-box.Min.Y))
		}
		if c.Kind == "start" {
			where, size = path.Centroid(), size+" over all"
		}
		add(&c.Item, "Cutout: size", point(where), size+m.off("cutouts"))
	}
	for _, h := range m.b.Holes() {
		add(&h.Item, "Hole, "+h.State()+": diameter", point(h.Centre), "⌀"+length(h.Diameter)+m.off("holes"))
	}
}

// places are how far off holes, half holes and cutouts may stand.
func (m *maker) places() {
	off := strings.TrimSpace(m.off("position"))
	for _, x := range []struct {
		what string
		any  bool
	}{{"Holes", len(m.b.Holes()) > 0}, {"Half holes", len(m.b.Castellations()) > 0}, {"Cutouts", len(m.b.Cutouts()) > 0}} {
		if off != "" && x.any {
			m.say(x.what+": place, the one farthest off", everywhere, off+" from where the drawing's tables have it", TheText, "x", "y")
		}
	}
}

// samples are what else the text asks for.
func (m *maker) samples() {
	for _, x := range []struct{ clause, what string }{
		{"microsection", "Microsections"}, {"coupon", "Coupon of the wall"}, {"electrical_test", "Electrical test"}, {"sample", "Boards to measure"},
	} {
		c := m.b.CriterionOf(x.clause)
		if !c.Answers() || c.Is("none") {
			continue
		}
		limit := sentence(c.Text)
		if c.Is("all") {
			limit = "every board"
		}
		m.say(x.what, everywhere, limit, TheText)
	}
}
