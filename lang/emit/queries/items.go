package queries

import (
	"fmt"
	"slices"
	"strings"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/source"
)

// inBoard is a clause of the board statement that is missing, or with it the
// statement.
func inBoard(b *board.Board, clause string) Part {
	x := Part{Text: "`" + clause + "` in a `board` statement", Insert: clause, In: "board"}
	if b.Info() != nil {
		x.Text, x.At = "`"+clause+"` in board "+b.Info().Name.Text, b.Info().Keyword
	}
	return x
}

func outline(b *board.Board) (said, lacking []Part) {
	if b.Outline() == nil {
		return nil, []Part{{Text: "an `outline` that closes", Insert: "outline"}}
	}
	box := b.Outline().Path.Box()
	datum := map[string]string{"rectangle": "its southwest corner", "circle": "its centre", "start": "the origin of the drawn path"}[b.Outline().Kind]
	return []Part{{Text: fmt.Sprintf("%s by %s mm over all; datum: %s", wording.Millimetres(box.Max.X-box.Min.X), wording.Millimetres(box.Max.Y-box.Min.Y), datum), At: b.Outline().At}}, nil
}

func thickness(b *board.Board) (said, lacking []Part) {
	if t, ok := b.Thickness(); ok {
		return []Part{{Text: millimetres(t), At: t.At}}, nil
	}
	return nil, []Part{inBoard(b, "thickness")}
}

func layers(b *board.Board) (said, lacking []Part) {
	if b.Stack() == nil {
		return nil, []Part{{Text: "a `stack`", Insert: "stack"}}
	}
	return []Part{{Text: fmt.Sprintf("%d copper: %s", len(b.CopperLayers()), strings.Join(b.CopperLayers(), " ")), At: b.Stack().Keyword}}, nil
}

func class(b *board.Board) (said, lacking []Part) {
	if b.Info() == nil || !b.Info().Class.Given() {
		return nil, []Part{inBoard(b, "class")}
	}
	return []Part{{Text: fmt.Sprintf("class %g of IPC-6012", b.Info().Class.Value), At: b.Info().Class.At}}, nil
}

func tabbed(b *board.Board) bool    { return len(b.Tabs()) > 0 }
func held(b *board.Board) bool      { return b.Plated() || tabbed(b) }
func halved(b *board.Board) bool    { return len(b.Castellations()) > 0 }
func cut(b *board.Board) bool       { return len(b.Cutouts()) > 0 }
func connected(b *board.Board) bool { return len(b.Connectors()) > 0 }
func launches(b *board.Board) bool {
	return connected(b) || b.Info() != nil && b.Info().Impedance.Given()
}
func separated(b *board.Board) bool { return held(b) || halved(b) }

func punched(b *board.Board) bool {
	for _, t := range b.Tabs() {
		if t.Perforated {
			return true
		}
	}
	return false
}

// ofTab is what is said of a tab.
func ofTab(t *board.Tab, says string, at source.Place) Part {
	return Part{Text: t.Name.Text + ": " + says, At: at, Edges: []string{t.Edge.Name}}
}

// noTab is what tabs would say if there were any.
func noTab(text string) []Part { return []Part{{Text: text, Insert: "tab"}} }

// tabs are told wherever they stand; those in cutouts hold no board.
func tabs(b *board.Board) (said, lacking []Part) {
	holds := false
	for _, t := range b.Tabs() {
		said = append(said, Part{Text: fmt.Sprintf("%s on %s at %s mm, %s wide", t.Name.Text, t.Edge.Name, wording.Millimetres(t.Position), millimetres(t.Width)), At: t.Keyword, Edges: []string{t.Edge.Name}})
		holds = holds || !t.Edge.Profile.Cutout
	}
	if !holds {
		return said, noTab("`tab` statements on the outline")
	}
	return said, nil
}

// ofTabs gathers what tabs say in a clause, "" for one that is asked and does not.
func ofTabs(b *board.Board, clause string, of func(*board.Tab) (says string, at source.Place, asked bool)) (said, lacking []Part) {
	for _, t := range b.Tabs() {
		switch says, at, asked := of(t); {
		case !asked:
		case says != "":
			said = append(said, ofTab(t, says, at))
		default:
			lacking = append(lacking, Part{Text: fmt.Sprintf("`%s` in tab %s", clause, t.Name.Text), At: t.Keyword, Edges: []string{t.Edge.Name}, Insert: clause, In: "tab", name: t.Name.Text})
		}
	}
	return said, lacking
}

func lengthOf(v board.Value) string {
	if !v.Given() {
		return ""
	}
	return millimetres(v)
}

func tabLengths(b *board.Board) (said, lacking []Part) {
	return ofTabs(b, "length", func(t *board.Tab) (string, source.Place, bool) { return lengthOf(t.Length), t.Length.At, true })
}

func insets(b *board.Board) (said, lacking []Part) {
	said, lacking = ofTabs(b, "inset", func(t *board.Tab) (string, source.Place, bool) {
		return lengthOf(t.Inset), t.Inset.At, t.Perforated
	})
	for i := range lacking {
		t := b.Tabs()[slices.IndexFunc(b.Tabs(), func(t *board.Tab) bool { return t.Name.Text == lacking[i].name })]
		lacking[i].Behind = t.Pitch.At
	}
	return said, lacking
}

func removals(b *board.Board) (said, lacking []Part) {
	said, lacking = ofTabs(b, "removal", func(t *board.Tab) (string, source.Place, bool) {
		r := t.Removal
		if !r.How.Given() || !r.By.Given() {
			return "", source.Place{}, true
		}
		return r.How.Text + ", by the " + r.By.Text, r.How.At, true
	})
	return said, withinRemoval(b, lacking, "by")
}

func residues(b *board.Board) (said, lacking []Part) {
	if !tabbed(b) {
		return nil, noTab("`tab` statements, with `within` in `removal`")
	}
	said, lacking = ofTabs(b, "removal", func(t *board.Tab) (string, source.Place, bool) {
		if !t.Removal.Within.Given() {
			return "", source.Place{}, true
		}
		return "at most " + millimetres(t.Removal.Within), t.Removal.Within.At, true
	})
	return said, withinRemoval(b, lacking, "within")
}

// withinRemoval names the part of the removal that a tab lacks, one that says how
// it is taken off.
func withinRemoval(b *board.Board, lacking []Part, clause string) []Part {
	for i := range lacking {
		x := &lacking[i]
		x.Text = fmt.Sprintf("`removal` with `%s` in tab %s", clause, x.name)
		for _, t := range b.Tabs() {
			if t.Name.Text == x.name && t.Removal.How.Given() {
				x.Text = fmt.Sprintf("`%s` in `removal` of tab %s", clause, x.name)
				x.Insert, x.Behind = clause, t.Removal.How.At
			}
		}
	}
	return lacking
}

func tabEdges(b *board.Board) (said, lacking []Part) {
	for _, t := range b.Tabs() {
		state := "bare, free of copper"
		if t.Premetallised {
			state = "the copper of both faces runs on over it; its root is bare once it is cut"
		}
		said = append(said, ofTab(t, state, t.Keyword))
	}
	return said, nil
}

// roots are round as the bit leaves them: slots end beside a tab.
func roots(b *board.Board) (said, lacking []Part) {
	for _, t := range b.Tabs() {
		said = append(said, ofTab(t, "half the bit's diameter: the slots beside it end round", t.Keyword))
	}
	return said, nil
}

func perforations(b *board.Board) (said, lacking []Part) {
	for _, t := range b.Tabs() {
		if t.Perforated {
			said = append(said, ofTab(t, "unplated, drilled after plating", t.Keyword))
		}
	}
	return said, nil
}

// separation is the shop's where the tabs are.
func separation(b *board.Board) (said, lacking []Part) {
	solid, perforated := 0, 0
	for _, t := range b.Tabs() {
		if t.Perforated {
			perforated++
		} else {
			solid++
		}
	}
	if solid+perforated == 0 {
		for _, l := range b.Leaves() {
			if l.Names("tab_places") {
				return []Part{{Text: "by tabs that are left to the shop; no plated stretch is scored", At: l.Keyword}}, nil
			}
		}
		return nil, noTab("`tab` statements")
	}
	var list []string
	if solid > 0 {
		list = append(list, wording.Plural(solid, "solid tab"))
	}
	if perforated > 0 {
		list = append(list, wording.Plural(perforated, "perforated tab"))
	}
	return []Part{{Text: strings.Join(list, ", ") + "; no plated stretch is scored", At: b.Tabs()[0].Keyword}}, nil
}

func halfHoles(b *board.Board) (said, lacking []Part) {
	for _, c := range b.Castellations() {
		if c.Edge != nil {
			said = append(said, Part{Text: fmt.Sprintf("%s: meant, on %s", c.Name.Text, c.Edge.Name), At: c.Keyword, Edges: []string{c.Edge.Name}})
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
		said = append(said, Part{Text: s, At: c.Keyword, Edges: []string{c.Edge.Name}})
	}
	return said, nil
}

func lands(b *board.Board) (said, lacking []Part) {
	for _, c := range b.Castellations() {
		text := fmt.Sprintf("%s: %s by %s", c.Name.Text, millimetres(c.LandWidth), millimetres(c.LandLength))
		if len(c.Layers) > 0 {
			text += " on " + strings.Join(c.LandLayers(), " ")
		}
		said = append(said, Part{Text: text, At: c.Keyword, Edges: []string{c.Edge.Name}})
	}
	return said, nil
}

// ofRows asks each row of half holes for what a clause of it says.
func ofRows(clause string, of func(*board.Board, *board.Castellation) board.Name) answering {
	return func(b *board.Board) (said, lacking []Part) {
		for _, c := range b.Castellations() {
			edges := []string{c.Edge.Name}
			if x := texted(of(b, c)); x.Text != "" {
				said = append(said, Part{Text: c.Name.Text + ": " + x.Text, At: x.At, Edges: edges})
				continue
			}
			lacking = append(lacking, Part{Text: fmt.Sprintf("`%s` in castellation %s", clause, c.Name.Text), At: c.Keyword, Edges: edges, Insert: clause, In: "castellation"})
		}
		return said, lacking
	}
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
		said = append(said, Part{Text: c.Name.Text + ": " + state, At: c.Keyword})
	}
	return said, nil
}

// sharpCorners lists the inside corners without a radius: concave in the
// outline, any in a cutout.
func sharpCorners(b *board.Board) (list []Part) {
	for _, p := range b.Profiles() {
		segs := p.Path.Segments()
		n, first := 0, ""
		for i, s := range segs {
			if p.Turn((i+len(segs)-1)%len(segs)) < -board.Straight {
				if n++; n == 1 {
					first = wording.Pair(s.A)
				}
			}
		}
		switch {
		case n == 0:
		case p.Kind == "rectangle":
			list = append(list, Part{Text: fmt.Sprintf("`corner` in cutout %s", p.Name), At: p.At, Insert: "corner", In: "cutout"})
		default:
			list = append(list, Part{Text: fmt.Sprintf("an `arc` at (%s) in %s (%s)", first, p.Name, wording.Plural(n, "corner")), At: p.At})
		}
	}
	return list
}

func sharp(b *board.Board) bool                     { return len(sharpCorners(b)) > 0 }
func corners(b *board.Board) (said, lacking []Part) { return nil, sharpCorners(b) }

func fenced(b *board.Board) bool { return len(b.Fences()) > 0 }

func fences(b *board.Board) (said, lacking []Part) {
	for _, f := range b.Fences() {
		text := "in the artwork"
		if f.Added {
			text = "not yet, to be added"
		}
		said = append(said, Part{Text: f.Name.Text + ": " + text, At: f.Keyword})
	}
	return said, nil
}

func connectors(b *board.Board) (said, lacking []Part) {
	for _, c := range b.Connectors() {
		if c.Edge != nil {
			text := fmt.Sprintf("%s on %s at %s mm, body %s", c.Name.Text, c.Edge.Name, wording.Millimetres(c.Position), millimetres(c.Body))
			if c.BodyReach.Given() {
				text += ", standing " + millimetres(c.BodyReach) + " over the board"
			}
			if c.Overhang.Given() {
				text += ", out " + millimetres(c.Overhang) + " past the profile"
			}
			said = append(said, Part{Text: text, At: c.Keyword, Edges: []string{c.Edge.Name}})
		}
	}
	return said, nil
}
