package queries

import (
	"fmt"
	"math"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// inBoard is a clause of the board statement that is missing, or with it the
// statement.
func inBoard(b *board.Board, clause string) Part {
	if b.Info() == nil {
		return Part{"`" + clause + "` in a `board` statement", source.Place{}}
	}
	return Part{"`" + clause + "` in board " + b.Info().Name.Text, b.Info().Keyword}
}

func outline(b *board.Board) (said, lacking []Part) {
	if b.Outline() == nil {
		return nil, []Part{{"an `outline` that closes", source.Place{}}}
	}
	box := b.Outline().Path.Box()
	datum := map[string]string{"rectangle": "its southwest corner", "circle": "its centre", "start": "the origin of the drawn path"}[b.Outline().Kind]
	return []Part{{fmt.Sprintf("%s by %s mm over all; datum: %s", wording.Millimetres(box.Max.X-box.Min.X), wording.Millimetres(box.Max.Y-box.Min.Y), datum), b.Outline().At}}, nil
}

func thickness(b *board.Board) (said, lacking []Part) {
	if t, ok := b.Thickness(); ok {
		return []Part{{millimetres(t), t.At}}, nil
	}
	return nil, []Part{inBoard(b, "thickness")}
}

func layers(b *board.Board) (said, lacking []Part) {
	if b.Stack() == nil {
		return nil, []Part{{"a `stack`", source.Place{}}}
	}
	return []Part{{fmt.Sprintf("%d copper: %s", len(b.CopperLayers()), strings.Join(b.CopperLayers(), " ")), b.Stack().Keyword}}, nil
}

func class(b *board.Board) (said, lacking []Part) {
	if b.Info() == nil || !b.Info().Class.Given() {
		return nil, []Part{inBoard(b, "class")}
	}
	return []Part{{fmt.Sprintf("class %g of IPC-6012", b.Info().Class.Value), b.Info().Class.At}}, nil
}

func revision(b *board.Board) (said, lacking []Part) {
	if b.Info() == nil || !b.Info().Revision.Given() {
		return nil, []Part{inBoard(b, "revision")}
	}
	return []Part{{b.Info().Revision.Text, b.Info().Revision.At}}, nil
}

func tabbed(b *board.Board) bool    { return len(b.Tabs()) > 0 }
func held(b *board.Board) bool      { return b.Plated() || tabbed(b) }
func halved(b *board.Board) bool    { return len(b.Castellations()) > 0 }
func cut(b *board.Board) bool       { return len(b.Cutouts()) > 0 }
func connected(b *board.Board) bool { return len(b.Connectors()) > 0 }
func separated(b *board.Board) bool { return held(b) || halved(b) }

func punched(b *board.Board) bool {
	for _, t := range b.Tabs() {
		if t.Perforated {
			return true
		}
	}
	return false
}

func tabs(b *board.Board) (said, lacking []Part) {
	if len(b.Tabs()) == 0 {
		return nil, []Part{{"`tab` statements, or note \"tabs: …\"", source.Place{}}}
	}
	for _, t := range b.Tabs() {
		if t.Edge != nil {
			said = append(said, Part{fmt.Sprintf("%s on %s at %s mm, %s wide", t.Name.Text, t.Edge.Name, wording.Millimetres(t.Position), millimetres(t.Width)), t.Keyword})
		}
	}
	return said, nil
}

// ofTabs gathers what tabs say in one clause; those that lack it are told by the
// first of them and their number.
func ofTabs(b *board.Board, clause string, of func(*board.Tab) (board.Value, bool)) (said, lacking []Part) {
	var without []*board.Tab
	for _, t := range b.Tabs() {
		v, asked := of(t)
		switch {
		case !asked:
		case v.Given():
			said = append(said, Part{t.Name.Text + ": " + millimetres(v), v.At})
		default:
			without = append(without, t)
		}
	}
	if n := len(without); n > 0 {
		more := ""
		if n > 1 {
			more = " and " + wording.Plural(n-1, "other")
		}
		lacking = []Part{{fmt.Sprintf("`%s` in tab %s%s, or note \"tab %s: …\"", clause, without[0].Name.Text, more, map[string]string{"length": "length", "inset": "row"}[clause]), without[0].Keyword}}
	}
	return said, lacking
}

func tabLengths(b *board.Board) (said, lacking []Part) {
	return ofTabs(b, "length", func(t *board.Tab) (board.Value, bool) { return t.Length, true })
}

func insets(b *board.Board) (said, lacking []Part) {
	return ofTabs(b, "inset", func(t *board.Tab) (board.Value, bool) { return t.Inset, t.Perforated })
}

func tabEdges(b *board.Board) (said, lacking []Part) {
	for _, t := range b.Tabs() {
		state := "bare, free of copper"
		if t.Premetallised {
			state = "the copper of both faces runs on over it; its root is bare once it is cut"
		}
		said = append(said, Part{t.Name.Text + ": " + state, t.Keyword})
	}
	return said, nil
}

func perforations(b *board.Board) (said, lacking []Part) {
	for _, t := range b.Tabs() {
		if t.Perforated {
			said = append(said, Part{t.Name.Text + ": unplated, drilled after plating", t.Keyword})
		}
	}
	return said, nil
}

func separation(b *board.Board) (said, lacking []Part) {
	routed, perforated := 0, 0
	for _, t := range b.Tabs() {
		if t.Perforated {
			perforated++
		} else {
			routed++
		}
	}
	if routed+perforated == 0 {
		return nil, []Part{{"`tab` statements, or note \"separation: …\"", source.Place{}}}
	}
	var list []string
	if routed > 0 {
		list = append(list, wording.Plural(routed, "routed tab"))
	}
	if perforated > 0 {
		list = append(list, wording.Plural(perforated, "perforated tab"))
	}
	return []Part{{strings.Join(list, ", ") + "; no plated stretch is scored", b.Tabs()[0].Keyword}}, nil
}

func halfHoles(b *board.Board) (said, lacking []Part) {
	for _, c := range b.Castellations() {
		if c.Edge != nil {
			said = append(said, Part{fmt.Sprintf("%s: meant, on %s", c.Name.Text, c.Edge.Name), c.Keyword})
		}
	}
	return said, nil
}

func pitches(b *board.Board) (said, lacking []Part) {
	for _, c := range b.Castellations() {
		s := fmt.Sprintf("%s: %d of ⌀%s", c.Name.Text, len(c.Centres), millimetres(c.Hole))
		if c.Pitch.Given() {
			s += ", pitch " + millimetres(c.Pitch)
		}
		said = append(said, Part{s, c.Keyword})
	}
	return said, nil
}

func lands(b *board.Board) (said, lacking []Part) {
	for _, c := range b.Castellations() {
		said = append(said, Part{fmt.Sprintf("%s: %s by %s", c.Name.Text, millimetres(c.LandWidth), millimetres(c.LandLength)), c.Keyword})
	}
	return said, nil
}

func cutouts(b *board.Board) (said, lacking []Part) {
	for _, c := range b.Cutouts() {
		if c.Profile == nil {
			continue
		}
		state := "not plated"
		if w := b.Finished(c.Profile); w.Whole() {
			state = "plated all round"
		} else if len(w.Plated) > 0 {
			state = "plated in part"
		}
		said = append(said, Part{c.Name.Text + ": " + state, c.Keyword})
	}
	return said, nil
}

// straight is the turn, in radians, up to which a joint counts as smooth, as
// the rule corner_too_sharp has it.
const straight = math.Pi / 360

// sharpCorners lists the inside corners without a radius: concave in the
// outline, any in a cutout.
func sharpCorners(b *board.Board) (list []Part) {
	for _, p := range b.Profiles() {
		segs := p.Path.Segments()
		n, first := 0, ""
		for i, s := range segs {
			before := segs[(i+len(segs)-1)%len(segs)]
			in, out := before.Tangent(before.Length()), s.Tangent(0)
			turn := math.Atan2(in.Cross(out), in.Dot(out))
			if math.Abs(turn) > straight && turn > 0 == p.Cutout {
				if n++; n == 1 {
					first = wording.Pair(s.A)
				}
			}
		}
		switch {
		case n == 0:
		case p.Kind == "rectangle":
			list = append(list, Part{fmt.Sprintf("`corner` in cutout %s, or note \"inside corner: …\"", p.Name), p.At})
		default:
			list = append(list, Part{fmt.Sprintf("an `arc` at (%s) in %s (%s), or note \"inside corner: …\"", first, p.Name, wording.Plural(n, "corner")), p.At})
		}
	}
	return list
}

func sharp(b *board.Board) bool                     { return len(sharpCorners(b)) > 0 }
func corners(b *board.Board) (said, lacking []Part) { return nil, sharpCorners(b) }

func connectors(b *board.Board) (said, lacking []Part) {
	for _, c := range b.Connectors() {
		if c.Edge != nil {
			text := fmt.Sprintf("%s on %s at %s mm, body %s", c.Name.Text, c.Edge.Name, wording.Millimetres(c.Position), millimetres(c.Body))
			if c.BodyReach.Given() {
				text += ", standing " + millimetres(c.BodyReach) + " over the board"
			}
			said = append(said, Part{text, c.Keyword})
		}
	}
	return said, nil
}
