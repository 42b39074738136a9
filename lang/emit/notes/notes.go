// Package notes writes the fabrication notes of a board: what a shop must know
// and would otherwise ask, numbered, one fact each.
//
// Nothing is said that the spec does not state or that does not follow from
// it. What follows because edges are plated, and is the trade's rule and not
// the author's, has a topic of its own and is listed in this folder's README.
package notes

import (
	"fmt"
	"strings"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
	"hemline/lang/source"
)

// Topic is what a note is about.
type Topic string

// The topics, in the order in which notes stand.
const (
	Datum      Topic = "datum"
	Class      Topic = "class"
	Material   Topic = "material"
	Delivery   Topic = "delivery"
	Marks      Topic = "marks"
	Left       Topic = "left to the shop"
	Tolerances Topic = "tolerances"
	Criteria   Topic = "criteria"
	Voltage    Topic = "voltage"
	Impedance  Topic = "impedance"
	Copper     Topic = "wall copper"
	Wrap       Topic = "wrap"
	Extension  Topic = "artwork past the profile"
	Plated     Topic = "plated stretches"
	Bare       Topic = "bare stretches"
	Layers     Topic = "layers"
	Finish     Topic = "finish"
	Sequence   Topic = "sequence"
	Tabs       Topic = "tabs"
	Zones      Topic = "tab zones"
	Score      Topic = "score"
	Mask       Topic = "solder mask"
	HalfHoles  Topic = "half holes"
	Cutouts    Topic = "cutouts"
	Holes      Topic = "holes"
	Fences     Topic = "via fences"
	Continuity Topic = "continuity"
	Author     Topic = "author"
	Caution    Topic = "caution"
)

// Note is one fact for the shop.
type Note struct {
	Topic Topic
	Text  string
	// From are the places of what the fact comes from; none for the closing line.
	From []source.Place
}

// Figures are values that the model does not hold: computed ones, and limits.
type Figures struct {
	Continuity []figures.Continuity
	// Room is how far copper keeps from what it gives way to, and who asks for
	// it. Without it nothing is said of that.
	Room copper.Room
	// MaskMargin, nm, is how far mask openings go past the copper where their
	// reliefs do not say.
	MaskMargin float64
}

// Last closes every list.
const Last = wording.Caution + " Where the fabricator's limits differ from this list, ask before building."

// Make writes the notes of a board in the order of the topics; inside a topic
// they keep the order of the text. A board without any statement has the
// closing line alone.
func Make(b *board.Board, f Figures) []Note {
	m := &maker{b: b, labels: b.StretchNames(), metal: copper.Of(b, copper.PiecesAlone()), room: f.Room, margin: f.MaskMargin}
	for _, topic := range []func(){
		m.datum, m.class, m.tolerances, m.criteria, m.materials, m.delivery, m.marks, m.left, m.voltage, m.impedance, m.copper, m.wraps, m.extensions, m.plated, m.bare, m.layers, m.finishes, m.sequence, m.tabs, m.zones,
		m.score, m.mask, m.halfHoles, m.cutouts, m.holes, m.fences, func() { m.continuity(f.Continuity) }, m.author,
	} {
		topic()
	}
	m.say(Caution, nil, Last)
	return m.list
}

// Texts are the notes' sentences alone.
func Texts(list []Note) []string {
	texts := make([]string, len(list))
	for i, n := range list {
		texts[i] = n.Text
	}
	return texts
}

type maker struct {
	b      *board.Board
	list   []Note
	labels map[board.Stretch]string // as the drawing has them
	metal  *copper.Map
	room   copper.Room
	margin float64 // of mask openings, nm
}

func (m *maker) say(topic Topic, from []source.Place, format string, args ...any) {
	m.list = append(m.list, Note{topic, fmt.Sprintf(format, args...), from})
}

func at(p ...source.Place) []source.Place { return p }

// length is a stated length with its unit.
func length(v board.Value) string { return wording.Millimetres(v.Value) + " mm" }

func point(p geom.Point) string { return "(" + wording.Pair(p) + ")" }

func plating(p *board.Plating) string { return "Plating " + p.Name.Text }

// platings are the places of the platings' statements: what follows from there
// being plated edges comes from them.
func (m *maker) platings() (list []source.Place) {
	for _, p := range m.b.Platings() {
		list = append(list, p.Keyword)
	}
	return list
}

// listed joins words for a sentence: a, b and c.
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// datum says what coordinates count from, where any are given.
func (m *maker) datum() {
	if m.b.Outline() == nil {
		return
	}
	where := map[string]string{"rectangle": "the sharp southwest corner of the outline", "circle": "the centre of the outline", "start": "the origin of the drawn outline"}[m.b.Outline().Kind]
	m.say(Datum, at(m.b.Outline().At), "Read coordinates as (x, y) in mm from %s, x to the east, y to the north, seen from the top. Stretches run counterclockwise.", where)
}

func (m *maker) class() {
	if i := m.b.Info(); i != nil && i.Class.Given() {
		m.say(Class, at(i.Class.At), "Build and accept to class %g of IPC-6012.", i.Class.Value)
	}
}

// materials are of the board as a whole: laminate, finish, mask and legend.
func (m *maker) materials() {
	for _, l := range m.b.Stack().Layered() {
		if l.Material.Answers() {
			m.say(Material, at(l.Material.At), "Laminate of layer %s: %s.", l.Name.Text, l.Material.Text)
		}
		if l.Base.Given() {
			m.say(Material, at(l.Base.At), "Copper of layer %s: foil of %s, %s when finished.", l.Name.Text, wording.Micrometres(l.Base.Value), wording.Micrometres(l.Thickness.Value))
		}
	}
	i := m.b.Info()
	if i == nil {
		return
	}
	for _, x := range []struct {
		says string
		name board.Name
	}{
		{"Laminate: %s.", i.Material}, {"Finish of the board: %s.", i.Finish},
		{"Solder mask: %s.", i.Mask}, {"Legend: %s.", i.Legend},
	} {
		if x.name.Answers() {
			m.say(Material, at(x.name.At), x.says, x.name.Text)
		}
	}
}

func (m *maker) impedance() {
	i := m.b.Info()
	switch {
	case i == nil || !i.Impedance.Answers():
	case i.Impedance.Is("none"):
		m.say(Impedance, at(i.Impedance.At), "No line is of controlled impedance.")
	default:
		m.say(Impedance, at(i.Impedance.At), "Controlled impedance: %s.", strings.TrimSuffix(i.Impedance.Text, "."))
	}
}

// voltage states what stands between the wall and other copper, and what the
// wall may carry.
func (m *maker) voltage() {
	i := m.b.Info()
	if i == nil {
		return
	}
	if i.Voltage.Given() {
		m.say(Voltage, at(i.Voltage.At), "Voltage between the wall and other copper: at most %s.", i.Voltage.Quantity)
	}
	if i.Hazard.Given() {
		m.say(Voltage, at(i.Hazard.At), "Touching the wall: %s.", i.HazardText())
	}
}

// copper states the average and the thinnest spot that the author asks for, else
// the class's.
func (m *maker) copper() {
	average, thinnest, classed := m.b.ClassCopper()
	for _, p := range m.b.Platings() {
		switch {
		case p.Copper.Given():
			m.say(Copper, at(p.Copper.At), "%s: put %s of copper on the wall, on average.", plating(p), wording.Micrometres(p.Copper.Value))
		case classed:
			m.say(Copper, at(p.Keyword, m.b.Info().Class.At), "%s: put %s of copper on the wall, on average (class %g of IPC-6012).", plating(p), wording.Micrometres(average), m.b.Info().Class.Value)
		}
		switch {
		case p.Least.Given():
			m.say(Copper, at(p.Least.At), "%s: leave no spot of the wall with less than %s of copper.", plating(p), wording.Micrometres(p.Least.Value))
		case classed:
			m.say(Copper, at(p.Keyword, m.b.Info().Class.At), "%s: leave no spot of the wall with less than %s of copper (class %g of IPC-6012).", plating(p), wording.Micrometres(thinnest), m.b.Info().Class.Value)
		}
	}
}

func (m *maker) wraps() {
	for _, p := range m.b.Platings() {
		for _, f := range board.Faces {
			if w := p.Wrap[f]; w.Given() && w.Value > 0 {
				m.say(Wrap, at(w.At), "%s: wrap the copper %s over the %s face, from the profile inward.", plating(p), length(w), f)
			} else if w.Given() {
				m.say(Wrap, at(w.At), "%s: wrap no copper over the %s face.", plating(p), f)
			}
		}
	}
}

func (m *maker) extensions() {
	for _, p := range m.b.Platings() {
		if p.Extend.Value > 0 {
			m.say(Extension, at(p.Extend.At), "%s: the artwork's copper runs %s past the profile on purpose; do not clip it.", plating(p), length(p.Extend))
		}
	}
}

func (m *maker) finishes() {
	for _, p := range m.b.Platings() {
		if f := m.b.FinishOf(p); f.Answers() {
			from := at(f.At)
			if !p.Finish.Given() {
				from = at(p.Keyword, f.At)
			}
			thick := make([]string, len(p.FinishLayers))
			for i, v := range p.FinishLayers {
				thick[i] = wording.Micrometres(v.Value)
			}
			how := ""
			if len(thick) > 0 {
				from = append(from, p.FinishLayers[0].At)
				how = ", from the copper outward " + listed(thick) + " thick"
			}
			m.say(Finish, from, "%s: finish the wall and its wraps in %s%s.", plating(p), f.Text, how)
		}
	}
}

// author's notes stand as they were written.
func (m *maker) author() {
	for _, n := range m.b.Notes() {
		m.list = append(m.list, Note{Author, n.Text.Text, at(n.Text.At)})
	}
}
