// Package notes writes the fabrication notes of a board: what a shop must know
// and would otherwise ask, numbered, under headings.
//
// Nothing is said that the spec does not state or that does not follow from
// it. What follows because edges are plated, and is the trade's rule and not
// the author's, has a topic of its own and is listed in this folder's README.
// What the drawing's tables list is not repeated: a note names the table.
package notes

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"hemline/checks/figures"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
	"hemline/lang/rout"
	"hemline/lang/source"
)

// Group is the heading that notes stand under.
type Group string

// Topic is what a note is about.
type Topic string

// The topics.
const (
	Class      Topic = "class and materials"
	Tolerances Topic = "tolerances"
	Datum      Topic = "datum"
	Delivery   Topic = "delivery, marks, what is left to the shop"
	Electrical Topic = "voltage and impedance"
	Copper     Topic = "wall copper"
	Stretches  Topic = "plated and bare stretches"
	Wrap       Topic = "wrap and finish"
	Extension  Topic = "artwork past the profile"
	Layers     Topic = "nets and layers"
	Walls      Topic = "layers that walls do not join"
	Room       Topic = "what planes give way to"
	Edges      Topic = "bare edges and tabs"
	Sequence   Topic = "sequence and score"
	Tabs       Topic = "tabs"
	Mask       Topic = "solder mask"
	HalfHoles  Topic = "half holes"
	Cutouts    Topic = "cutouts"
	Holes      Topic = "holes"
	Fences     Topic = "via fences"
	Criteria   Topic = "criteria"
	Continuity Topic = "continuity"
	Author     Topic = "author"
	Caution    Topic = "caution"
)

// Note is what a shop is told under one number.
type Note struct {
	Group Group
	Topic Topic
	Text  string
	// From are the places of what it comes from; none for the closing line.
	From []source.Place
}

// Figures are values that the model does not hold: computed ones, and limits.
type Figures struct {
	Continuity []figures.Continuity
	// Room is how far copper keeps from what it gives way to, and who asks for
	// it. Without it nothing is said of that.
	Room copper.Room
	// TabGap is how far copper keeps from either side of a tab.
	TabGap copper.Distance
	// Bits are the bits that the routs are worked out with; without them nothing is
	// said of bits, their direction and what they leave.
	Bits *rout.Bits
}

// Last closes every list.
const Last = wording.Caution + " Where the fabricator's limits differ from this list, ask before building."

// groups are the headings in their order, and what makes the notes under each.
func (m *maker) groups(f Figures) []group {
	return []group{
		{"General", []func(){m.class, m.tolerances, m.datum, m.delivery, m.left, m.electrical}},
		{"Plating", []func(){m.copper, m.stretches, m.wraps, m.extensions}},
		{"Copper and planes", []func(){m.layers, m.walls, m.rooms, m.edges}},
		{"Routs and tabs", []func(){m.sequence, m.bits, m.score, m.short, m.tabs}},
		{"Solder mask", []func(){m.mask}},
		{"Holes", []func(){m.halfHoles, m.cutouts, m.holes, m.fences}},
		{"Acceptance", []func(){m.criteria, func() { m.continuity(f.Continuity) }}},
		{"Further notes", []func(){m.author, func() { m.note(Caution, nil, Last) }}},
	}
}

type group struct {
	heading Group
	makers  []func()
}

// Make writes the notes of a board, in the order of their headings and topics;
// inside a topic they keep the order of the text. A board without any statement
// has the closing line alone.
func Make(b *board.Board, f Figures) []Note {
	m := &maker{b: b, labels: b.StretchNames(), metal: copper.Of(b, copper.PiecesAlone()), room: f.Room, tabGap: f.TabGap, routs: f.Bits}
	for _, g := range m.groups(f) {
		m.group = g.heading
		for _, make := range g.makers {
			make()
		}
	}
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

// Sections are the notes' sentences under their headings.
func Sections(list []Note) (sections []wording.Section) {
	for i, n := range list {
		if i == 0 || list[i-1].Group != n.Group {
			sections = append(sections, wording.Section{Heading: string(n.Group)})
		}
		s := &sections[len(sections)-1]
		s.Lines = append(s.Lines, n.Text)
	}
	return sections
}

type maker struct {
	b      *board.Board
	group  Group
	list   []Note
	labels map[board.Stretch]string // as the drawing has them
	metal  *copper.Map
	room   copper.Room
	tabGap copper.Distance
	routs  *rout.Bits
}

// Most is how many characters sentences may have together under one number: three
// lines of the drawing's notes column, which is 122 mm wide and holds about 70.
const Most = 210

// say adds a sentence: to the note before it where that is about the same and has
// room for it, else under a number of its own. Each sentence is clear by itself.
func (m *maker) say(topic Topic, from []source.Place, format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if n := len(m.list); n > 0 {
		last := &m.list[n-1]
		if last.Topic == topic && last.Group == m.group && utf8.RuneCountInString(last.Text)+1+utf8.RuneCountInString(text) <= Most {
			last.Text += " " + text
			for _, p := range from {
				last.From = with(last.From, p)
			}
			return
		}
	}
	m.note(topic, from, text)
}

// note adds a note of its own.
func (m *maker) note(topic Topic, from []source.Place, text string) {
	m.list = append(m.list, Note{m.group, topic, text, from})
}

// series says a list behind some words, in several sentences where it is long.
func (m *maker) series(topic Topic, words string, items []entry) {
	for len(items) > 0 {
		n, long := 1, utf8.RuneCountInString(words+items[0].says)+2
		for n < len(items) && long+2+utf8.RuneCountInString(items[n].says) <= Most {
			long += 2 + utf8.RuneCountInString(items[n].says)
			n++
		}
		var list []string
		var from []source.Place
		for _, x := range items[:n] {
			list = append(list, x.says)
			for _, p := range x.from {
				from = with(from, p)
			}
		}
		m.say(topic, from, "%s %s.", words, strings.Join(list, "; "))
		items = items[n:]
	}
}

// entry is one of a series, and where it comes from.
type entry struct {
	says string
	from []source.Place
}

// with adds a place to those of a note, once.
func with(list []source.Place, p source.Place) []source.Place {
	for _, x := range list {
		if x == p {
			return list
		}
	}
	return append(list, p)
}

// table refers to a table of the drawing by how its title begins.
func table(name string) string { return "table “" + name + "”" }

func at(p ...source.Place) []source.Place { return p }

// length is a stated length with its unit.
func length(v board.Value) string { return wording.Millimetres(v.Value) + " mm" }

func point(p geom.Point) string { return "(" + wording.Pair(p) + ")" }

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

// counted is a word, in the plural for several, and the names that it is of.
func counted(one, many string, names []string) string {
	return plural(len(names), one, many) + " " + listed(names)
}

// author's notes stand as they were written, each by itself.
func (m *maker) author() {
	for _, n := range m.b.Notes() {
		m.note(Author, at(n.Text.At), n.Text.Text)
	}
}
