// Package board is the model: what a text says of a board, resolved. Names
// have become things, expressions values, positions points of the profile.
// Nothing changes a board once it is built; every item keeps the place in the
// text that it came from.
//
// Lengths are in nanometres as float64: every decimal of a millimetre or a
// mil down to a nanometre is a whole number, so that limits compare exactly.
// The origin is the rectangle's southwest corner, a circle's centre, or what
// the drawn path says; x grows east, y north.
package board

import (
	"iter"

	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// Board is everything a text says, or a view of it that notes what is read of
// it, see Recording. Whatever is read goes through the accessors of this file,
// each of which leaves its mark, and what else a board tells is made of them; a
// test holds the rest of the package to that.
type Board struct {
	model *model
	reads *Reads // nil where nobody asks
	outer *Board // that this is a view of
}

// model is what a board is made of, shared by all views of it.
type model struct {
	contents
	geometry  *geometry
	platings  map[string]*Plating
	rows      map[string]*Castellation
	walls     []Wall                        // by Profile.Index
	stretches func() map[*Plating][]Stretch // the plated ones of walls, made by whoever asks first
	finished  []finished
	parted    func() map[*Plating]parted // of finished, made by whoever asks first
	decoded   []*decoded
	counts    map[string]int // of statements, by keyword
	names     *nameSet       // that expressions read
	env       *env
	root      string // the path of the file that was asked for

	premetallised []*Tab
	followed      func() map[*source.Anchor]*Followed // by the statement, made by whoever asks first
	opened        opened
	statedFences  []*Fence // before vias were left out of them; nil where none has a clearance
	statedPlanes  []*Plane // before those of layers that have several were numbered
}

// Info is the board statement, nil if the text has none.
func (b *Board) Info() *Info { return first(b, &b.model.infos) }

// Stack is the stack, nil if the text states none.
func (b *Board) Stack() *Stack { return first(b, &b.model.stacks) }

// Outline is the outline's profile, nil if the text states none, or none that closes.
func (b *Board) Outline() *Profile {
	if s := first(b, &b.model.outlines); s != nil {
		return s.Profile
	}
	return nil
}

// OutlineItem is the outline's statement, nil if the text has none that can be read.
func (b *Board) OutlineItem() *Item {
	if s := first(b, &b.model.outlines); s != nil {
		return &s.Item
	}
	return nil
}

// Open lists the drawn paths, of the outline or a cutout, that do not come back
// to their start.
func (b *Board) Open() []*OpenPath { return read(b, &b.model.open) }

// Cutouts lists the cutouts whose paths close.
func (b *Board) Cutouts() []*Cutout { return read(b, &b.model.cutouts) }

// Holes lists the drilled holes.
func (b *Board) Holes() []*Hole { return read(b, &b.model.holes) }

// Platings lists the platings, as the other lists do in the order of the text.
func (b *Board) Platings() []*Plating { return read(b, &b.model.contents.platings) }

// Gaps lists the gaps: those that are stated, and then those that connectors and
// tabs open, one in each plating that they interrupt.
func (b *Board) Gaps() []*Gap {
	b.mark(b.model.gaps.reads | readsOpened)
	return b.model.opened.all
}

// StatedGaps lists the gaps that have statements of their own.
func (b *Board) StatedGaps() []*Gap { return read(b, &b.model.gaps) }

// Connectors lists the connectors.
func (b *Board) Connectors() []*Connector { return read(b, &b.model.connectors) }

// Reliefs lists the reliefs.
func (b *Board) Reliefs() []*Relief { return read(b, &b.model.reliefs) }

// Tabs lists the tabs.
func (b *Board) Tabs() []*Tab { return read(b, &b.model.tabs) }

// Castellations lists the rows of half holes.
func (b *Board) Castellations() []*Castellation { return read(b, &b.model.castellations) }

// Planes lists the planes.
func (b *Board) Planes() []*Plane { return read(b, &b.model.planes) }

// Features lists the features.
func (b *Board) Features() []*Feature { return read(b, &b.model.features) }

// Fences lists the fences.
func (b *Board) Fences() []*Fence { return read(b, &b.model.fences) }

// Parts lists the parts whose weight counts.
func (b *Board) Parts() []*Part { return read(b, &b.model.parts) }

// Tolerances lists the statements of tolerances, those of used files where they are used.
func (b *Board) Tolerances() []*ToleranceSet { return read(b, &b.model.tolerances) }

// CriteriaStated lists the statements of criteria, as Tolerances.
func (b *Board) CriteriaStated() []*Criteria { return read(b, &b.model.criteria) }

// ToleranceOf is the tolerance in force of one clause: the file's own, else the
// last that a used file states.
func (b *Board) ToleranceOf(clause string) Value {
	var v Value
	for _, t := range b.Tolerances() {
		if x, ok := t.Of[clause]; ok {
			v = inForce(b.model.root, v, v.At, x, x.At)
		}
	}
	return v
}

// CriterionOf is the criterion in force of one clause, as ToleranceOf.
func (b *Board) CriterionOf(clause string) Criterion {
	var v Criterion
	for _, t := range b.CriteriaStated() {
		if x, ok := t.Of[clause]; ok {
			v = inForce(b.model.root, v, v.Clause, x, x.Clause)
		}
	}
	return v
}

// Delivery is how boards are handed over, nil where the text does not say.
func (b *Board) Delivery() *Delivery { return first(b, &b.model.deliveries) }

// Markings lists the marks that the shop adds.
func (b *Board) Markings() []*Marking { return read(b, &b.model.markings) }

// Typicals lists what is typical of items, those of used files too.
func (b *Board) Typicals() []*Typical { return read(b, &b.model.typicals) }

// Leaves lists the statements that leave queries to the shop.
func (b *Board) Leaves() []*Leave { return read(b, &b.model.leaves) }

// Fabricators lists the fabricators, those of used files where they are used.
func (b *Board) Fabricators() []*Fabricator { return read(b, &b.model.fabricators) }

// Acceptances lists the acceptances.
func (b *Board) Acceptances() []*Acceptance { return read(b, &b.model.acceptances) }

// Notes lists the notes.
func (b *Board) Notes() []*Note { return read(b, &b.model.notes) }

// Lets lists the named values.
func (b *Board) Lets() []*Let { return read(b, &b.model.lets) }

// States counts what the statements with a keyword state, a row's members each,
// those included that could not be read: an absence is one only where nobody tried.
func (b *Board) States(word string) int {
	b.mark(readsCounts)
	return b.model.counts[word]
}

// ReadNames is the set of names that expressions anywhere read. It is shared;
// it must not be changed.
func (b *Board) ReadNames() map[string]bool {
	b.mark(readsNames)
	return b.model.names.of(b.model)
}

// Value is what a name means in an expression: a let, board.thickness,
// south.length and the like; ok is false for one that has no value.
func (b *Board) Value(name string) (quantity.Quantity, bool) {
	b.mark(readsValues)
	q, f := b.model.env.value(name)
	return q, f == good
}

// Profiles lists the outline, if there is one, and then the cutouts' profiles.
func (b *Board) Profiles() []*Profile { return b.geometry().profiles }

// Edge finds an edge by its name: south, window.rim.
func (b *Board) Edge(name string) *Edge { return b.geometry().edges[name] }

// EdgesNamed lists the edges that a name stands for: one, or that of each member
// of a row of cutouts. The list is shared; it must not be changed.
func (b *Board) EdgesNamed(name string) []*Edge {
	if e := b.Edge(name); e != nil {
		return []*Edge{e}
	}
	return b.geometry().rows[name]
}

func (b *Board) geometry() *geometry {
	b.mark(readsShapes)
	return b.model.geometry
}

// Wall is what is plated and what is bare on a profile, as the copper turns over
// the faces: over premetallised tabs too, under which there is no wall.
func (b *Board) Wall(p *Profile) *Wall { return &b.walls()[p.Index] }

func (b *Board) walls() []Wall {
	b.mark(readsWalls)
	return b.model.walls
}

// SameShapes tells whether the outline and the cutouts are those of another version.
func (b *Board) SameShapes(old *Board) bool { return b.geometry() == old.model.geometry }

// SameWalls tells whether what is plated and what is bare is known to be the
// same as in another version.
func (b *Board) SameWalls(old *Board) bool {
	return b.SameShapes(old) && sameWalls(b.walls(), old.model.walls)
}

// sameWalls tells whether two versions have one list of walls.
func sameWalls(a, b []Wall) bool { return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0]) }

// stretches are the plated ones of each plating, profile by profile.
func (b *Board) stretches() map[*Plating][]Stretch {
	if len(b.walls()) == 0 {
		return nil
	}
	return b.model.stretches()
}

// Finished is what is plated and what is bare on a profile of the finished board:
// each part is plated once, by the plating that the text states first, and bare
// under a premetallised tab, once that is cut. Lengths, shares, openings and
// masses go by it.
func (b *Board) Finished(p *Profile) *Wall { return b.finished()[p.Index].wall }

// FinishedBy gives the stretches of one plating's finished wall, profile by profile.
func (b *Board) FinishedBy(p *Plating) iter.Seq[Stretch] {
	return func(yield func(Stretch) bool) {
		for _, s := range b.parted()[p].final {
			if !yield(s) {
				return
			}
		}
	}
}

func (b *Board) finished() []finished {
	b.mark(readsFinished)
	return b.model.finished
}

// parted are the stretches of each plating that count for it.
func (b *Board) parted() map[*Plating]parted {
	if len(b.finished()) == 0 {
		return nil
	}
	return b.model.parted()
}

// PlatingNamed finds a plating.
func (b *Board) PlatingNamed(name string) *Plating {
	b.Platings() // which the names are of
	return b.model.platings[name]
}

// Fabricator in use: the last one stated, counting used files where they are
// used; nil for none.
func (b *Board) Fabricator() *Fabricator {
	list := b.Fabricators()
	if len(list) == 0 {
		return nil
	}
	return list[len(list)-1]
}

// ConnectorNamed finds a connector.
func (b *Board) ConnectorNamed(name string) *Connector { return named(b.Connectors(), name) }

// CastellationNamed finds a row of half holes.
func (b *Board) CastellationNamed(name string) *Castellation {
	b.Castellations() // which the names are of
	return b.model.rows[name]
}

// Edges lists the edges of the outline and then of the cutouts.
func (b *Board) Edges() []*Edge {
	var list []*Edge
	for _, p := range b.Profiles() {
		list = append(list, p.Edges...)
	}
	return list
}

// Plated tells whether any stretch of any edge is plated.
func (b *Board) Plated() bool {
	walls := b.walls()
	for i := range walls {
		if len(walls[i].Plated) > 0 {
			return true
		}
	}
	return false
}

// Region is the board's area: the outline less the cutouts. It exists only
// where there is an outline.
func (b *Board) Region() (geom.Region, bool) {
	outline := b.Outline()
	if outline == nil {
		return geom.Region{}, false
	}
	r := geom.Region{Outer: outline.Path}
	for _, c := range b.Cutouts() {
		if c.Profile != nil {
			r.Holes = append(r.Holes, c.Profile.Path)
		}
	}
	return r, true
}

// Nets lists every net that the text names: kind by kind, those of a kind in
// the order of the text.
func (b *Board) Nets() []string {
	var list []string
	seen := map[string]bool{}
	for _, k := range table {
		if k.nets == nil {
			continue
		}
		for _, i := range k.All(b) {
			for _, n := range k.nets(i) {
				if n.Given() && !seen[n.Text] {
					seen[n.Text] = true
					list = append(list, n.Text)
				}
			}
		}
	}
	return list
}

// Followers lists the items and typicals that are like one of a name, in the order of
// the text; those that could not be read are not among them.
func (b *Board) Followers(name string) (list []Name) {
	b.mark(readsFollowers)
	for _, d := range b.model.decoded {
		if d.follows != nil && d.follows.Model.Text == name && len(d.all()) > 0 {
			list = append(list, d.name)
		}
	}
	return list
}

// Followed is what a finding's place was taken over from, nil where it is the
// text's own.
func (b *Board) Followed(at source.Place) *Followed {
	b.mark(readsFollowers)
	if by := b.model.followed()[at.Anchor]; by != nil && by.At == at {
		return by
	}
	return nil
}
