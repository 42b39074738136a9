package layers

import (
	"errors"
	"fmt"
	"math"

	"hemline/lang/board"
)

// Stray is what is drawn past the profile so far that it reaches over an opening
// onto the board beyond it: a plating's copper, or the opening of a relief.
type Stray struct {
	Plating *board.Plating
	Relief  *board.Relief
	Face    board.Face // of a relief
}

// strays is the error of an image with such in it.
type strays []Stray

func (s strays) Error() string { return s[0].String() }

// asError is no error for none.
func (s strays) asError() error {
	if len(s) == 0 {
		return nil
	}
	return s
}

// String says what strays.
func (s Stray) String() string {
	if p := s.Plating; p != nil {
		return fmt.Sprintf("plating %s: copper drawn %s past the profile reaches over an opening onto the board beyond it; state a smaller extend", p.Name.Text, p.Extend.Quantity)
	}
	return fmt.Sprintf("relief %s: on the %s face its opening, drawn past the profile, reaches over a cutout or notch onto the board beyond it", s.Relief.Name.Text, s.Face)
}

// Strays lists what Build refuses a board for, each plating once and each relief
// once for a face; margin is that of mask openings whose reliefs state none.
func Strays(b *board.Board, margin float64) (list []Stray) {
	if b.Outline() == nil || !tight(b) {
		return nil
	}
	m := newMaker(b, Options{MaskMargin: margin})
	m.looks = true
	seen := map[Stray]bool{}
	collect := func(_ image, err error) {
		var found strays
		errors.As(err, &found)
		for _, s := range found {
			if !seen[s] {
				seen[s] = true
				list = append(list, s)
			}
		}
	}
	for _, l := range m.levels {
		collect(m.add(l))
	}
	for _, f := range board.Faces {
		collect(m.mask(f))
	}
	return list
}

// tight tells whether some opening, or notch, is so narrow that what is drawn
// past one side of it may reach the other: where that is nowhere so, and it
// rarely is anywhere, nothing need be drawn to know that nothing strays.
func tight(b *board.Board) bool {
	reach := 0.0
	for _, p := range b.Platings() {
		reach = math.Max(reach, p.Extend.Value)
	}
	if len(b.Reliefs()) > 0 {
		reach = math.Max(reach, pastProfile)
	}
	if reach == 0 {
		return false
	}
	halved := map[*board.Profile]bool{}
	for _, c := range b.Castellations() {
		halved[c.Edge.Profile] = true
	}
	for _, p := range b.Profiles() {
		if len(b.Wall(p).Plated) == 0 && !halved[p] {
			continue
		}
		for i := range p.Path.Segments() {
			if hooked(p, i) || b.Crowded(p, i, reach) {
				return true
			}
		}
	}
	return false
}

// hooked tells whether a profile turns back off the board by more than a right
// angle where a segment ends, or by more than half a turn along it.
func hooked(p *board.Profile, i int) bool {
	segs := p.Path.Segments()
	s, next := segs[i], segs[(i+1)%len(segs)]
	if s.Arc && math.Abs(s.Sweep()) > math.Pi+1e-9 && math.Abs(s.Sweep()) < 2*math.Pi-1e-9 {
		return true
	}
	out, in := s.Tangent(s.Length()), next.Tangent(0)
	side := out.Cross(in) // positive where the path turns left
	if p.Cutout {
		side = -side
	}
	return side < 0 && out.Dot(in) < -1e-9 || side == 0 && out.Dot(in) < 0
}
