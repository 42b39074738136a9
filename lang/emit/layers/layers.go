// Package layers turns a board into the data that a shop's machines and
// artwork take: Gerber X2 for the profile, the copper at the edge and the mask
// openings, numerical control for drilling and routing.
//
// The board's own artwork is not known here. So no file claims to be a whole
// copper or mask layer: each holds what the spec adds to one, keeps free of
// it, or opens in it, and its .FileFunction is Other with a text that says so.
//
// Sources: the Gerber layer format specification (attributes, regions, arcs) and
// XNC, the numerical control format beside it (revision 2019.02.16: its title and
// contents), both from memory and held to independent readers by the tests.
package layers

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/bundle"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/rout"
)

// Options are what the files say beside the board. Lengths are in nm.
type Options struct {
	// Version of hemline, for the files' headers.
	Version string
	// Created is the creation date that the files carry; none when zero.
	Created time.Time
	// Place is how the files lie.
	Place
	// Part is the files' .Part; Single where it is empty. Of a Coupon the readme says
	// that it has no artwork but these files.
	Part string
	// Room is what the copper of a layer gives.
	copper.Room
	// MaskMargin is how far a mask opening goes past the copper where its relief
	// does not say.
	MaskMargin float64
	// TabGap is how far beside a tab metal must not come, RouterBit the smallest
	// outline bit.
	TabGap, RouterBit float64
}

const (
	mm = quantity.NmPerMillimetre
	// pastProfile, nm, is how far a mask opening is drawn past the profile: as
	// the trade draws copper past it, so that no mask is left on the wall.
	pastProfile = 0.5 * mm
	// speck, nm², is an area that rounding may leave.
	speck = 1e6
)

// Coupon is the .Part of a coupon's files.
const Coupon = "Coupon"

// ErrNoOutline tells that there is no board to make files of.
var ErrNoOutline = errors.New("the board has no outline that closes; state one, such as: outline rectangle 62 mm by 38 mm")

// Build makes the files of a board, the readme last. Without an outline the
// error is ErrNoOutline; another error says which statement cannot be drawn.
func Build(b *board.Board, o Options) ([]bundle.File, error) {
	if b.Outline() == nil {
		return nil, ErrNoOutline
	}
	m := newMaker(b, o)
	if err := m.reach(); err != nil {
		return nil, err
	}
	images := []image{m.profile()}
	for _, l := range m.levels {
		add, err := m.add(l)
		if err != nil {
			return nil, err
		}
		images = append(images, add, m.free(l, add))
	}
	for _, f := range board.Faces {
		mask, err := m.mask(f)
		if err != nil {
			return nil, err
		}
		images = append(images, mask)
	}
	if err := m.reached(); err != nil {
		return nil, err
	}
	var files []bundle.File
	for _, i := range images {
		if len(i.ops) > 0 {
			files = append(files, bundle.File{Name: i.name + ".gbr", About: i.about, Function: i.function, Data: m.gerber(i)})
		}
	}
	for _, p := range m.programs() {
		if len(p.tools) > 0 {
			files = append(files, bundle.File{Name: p.name + ".xnc", About: p.about, Function: p.function, Data: m.control(p)})
		}
	}
	return append(files, bundle.File{Name: ReadmeName, About: "what each file holds", Data: m.readme(files)}), nil
}

// reached tells of edge that no bit of the shop's reaches.
func (m *maker) reached() error {
	for _, s := range m.passed().Left() {
		return fmt.Errorf("%s: no bit reaches it, down to %s, the shop's finest; widen the way to it", s.Where(), quantity.Nanometres(m.o.RouterBit))
	}
	return nil
}

type maker struct {
	b      *board.Board
	o      Options
	levels []level
	metal  *copper.Map
	routs  *rout.Bits // see passed
	done   []program
	looks  bool // for what strays alone: nothing is written

	outline, cut *geom.Shapes // the board's area is that of outline less cut
}

func newMaker(b *board.Board, o Options) *maker {
	m := &maker{b: b, o: o, levels: levelsOf(b), metal: copper.Of(b, copper.PiecesAlone()), outline: geom.NewShapes(b.Outline().Path)}
	m.cut = geom.NewShapes(m.cutouts()...)
	return m
}

// passed are the bits that the board is cut by, with their passes; worked out where something is written of them.
func (m *maker) passed() *rout.Bits {
	if m.routs == nil {
		m.routs = rout.BitsOf(m.b, m.o.RouterBit)
	}
	return m.routs
}

// level is a copper layer.
type level struct {
	number int // from 1, top first
	name   string
	faces  []board.Face // the faces that it lies on; none for an inner layer
}

func levelsOf(b *board.Board) []level {
	names := b.CopperLayers()
	switch len(names) {
	case 0:
		names = []string{board.Top.String(), board.Bottom.String()}
	case 1: // a wrap still turns over the face without a layer
		names = append(names, board.Bottom.String())
	}
	list := make([]level, len(names))
	for i, n := range names {
		list[i] = level{number: i + 1, name: n}
	}
	list[0].faces = []board.Face{board.Top}
	list[len(list)-1].faces = []board.Face{board.Bottom}
	return list
}

func (l level) outer() bool { return len(l.faces) > 0 }

// place is the layer's place in the stack, in the words of the format.
func (l level) place() string {
	switch {
	case !l.outer():
		return "Inr"
	case l.faces[0] == board.Top:
		return "Top"
	}
	return "Bot"
}

// file is a name that any file system takes: letters, digits and _ of the
// layer's name, the rest replaced.
func (l level) file(what string) string {
	return fmt.Sprintf("copper_L%d_%s_%s", l.number, Plain(l.name), what)
}

// Plain makes a text a part of a file's name: what may bear on a path becomes
// _, and what is long is cut.
func Plain(s string) string {
	keep := func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z', 'A' <= r && r <= 'Z', '0' <= r && r <= '9', r == '-':
			return r
		}
		return '_'
	}
	if s = strings.Map(keep, s); len(s) > 32 {
		s = s[:32]
	}
	return s
}

// FileStem is a board's name as part of a file's: of letters, digits, - and _.
func FileStem(b *board.Board) string {
	if b.Info() == nil || b.Info().Name.Text == "" {
		return "board"
	}
	return Plain(b.Info().Name.Text)
}
