package drawing

import (
	"fmt"
	"math"
	"slices"

	"hemline/lang/board"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
)

// Sizes of a section, mm: the room for it, how thick copper and mask are drawn
// at least, and how wide a layer's words may be.
const (
	sectionW = 50.0
	sectionH = 60.0
	leastT   = 0.8
	wordsW   = 58.0
	// mostSections is how many kinds are drawn; the tables have them all.
	mostSections = 12
)

// level is one layer of the stack as the section shows it.
type level struct {
	scene.Level
	joined bool    // a plane of it runs to the wall
	apart  float64 // how far a plane that keeps away stays off the profile, mm; 0 for none
	net    string  // of the plane; "" where there is none, or it has none
	plane  bool
}

// sections are the cross sections through the walls, one for the platings that
// look alike. They take a thickness; without one there are none.
func (a *author) sections() []*block {
	thickness, ok := a.b.Thickness()
	if !ok || thickness.Value <= 0 {
		return nil
	}
	type kind struct {
		key   string
		first *board.Plating
		names []string
	}
	var kinds []*kind
	for _, p := range a.b.Platings() {
		if !a.b.Runs(p) {
			continue
		}
		key := alike(a.section(p, nil))
		i := slices.IndexFunc(kinds, func(k *kind) bool { return k.key == key })
		if i < 0 {
			if len(kinds) == mostSections {
				a.left = true
				continue
			}
			i, kinds = len(kinds), append(kinds, &kind{key: key, first: p})
		}
		kinds[i].names = append(kinds[i].names, p.Name.Text)
	}
	var list []*block
	for _, k := range kinds {
		list = append(list, a.section(k.first, k.names).block("section"))
	}
	return list
}

// levels are the stack's layers, or the two faces' copper where there is no stack.
func (a *author) levels(p *board.Plating, thickness float64) []level {
	var list []level
	for _, l := range scene.Levels(a.b, thickness) {
		list = append(list, level{Level: l})
	}
	for i := range list {
		l := &list[i]
		for _, plane := range a.b.Planes() {
			if !l.Copper || !a.b.SameLayer(plane.Layer.Text, l.Name.Text) || !a.b.Borders(plane, p) {
				continue
			}
			l.plane = true
			if a.b.RunsTo(plane, p) {
				l.joined, l.net = true, plane.Net.Text
			} else if d := plane.Pullback.Value / mm; !l.joined && (l.apart == 0 || d < l.apart) {
				l.apart, l.net = d, plane.Net.Text
			}
		}
	}
	return list
}

// section draws the section through the wall of a plating; names are those of
// the platings that it stands for, none for a draft without words.
func (a *author) section(p *board.Plating, names []string) *sketch {
	t, _ := a.b.Thickness()
	thick := t.Value / mm
	levels := a.levels(p, thick)
	wrap := [2]float64{p.Wrap[board.Top].Value / mm, p.Wrap[board.Bottom].Value / mm}
	reach := a.reach(p)
	deep := math.Max(math.Max(wrap[0], wrap[1]), math.Max(reach[0], reach[1]))
	for _, l := range levels {
		deep = math.Max(deep, l.apart)
	}
	deep = math.Max(deep*1.3, thick/2)
	scale := largest(deep, thick, sectionW, sectionH)
	k := &cross{k: scale.Factor(), wide: deep * scale.Factor(), high: thick * scale.Factor(), levels: levels}
	k.body()
	k.copper()
	k.wall(p, wrap)
	k.mask(reach)
	for f, out := range [...]float64{1, -1} {
		base := [2]float64{0, -k.high}[f]
		if wrap[f] > 0 {
			k.across(0, wrap[f]*k.k, base, out, figure(wrap[f]))
		}
		if reach[f] > 0 && reach[f] != wrap[f] {
			k.across(0, reach[f]*k.k, base, out, figure(reach[f]))
		}
	}
	k.distances()
	k.up(-k.high, 0, 0, -1, figure(thick))
	k.dimensioned()
	k.words(reach)
	if names != nil {
		k.caption(fmt.Sprintf("Section through %s, %s", enumerated(names), scale), k.said(p, a.b.FinishOf(p), reach)...)
	}
	return &k.sketch
}

// opening is how far in mask is taken off, and how far past the ends of what it
// is over, nm.
type opening struct{ reach, margin float64 }

// opened is the mask taken off over a plating or a row of half holes, by face:
// what reaches farthest; none where the text takes none off.
func (a *author) opened(over string) (list [2]opening) {
	for _, o := range a.bared[over] {
		if o.Reach > list[o.Face].reach {
			list[o.Face] = opening{o.Reach, o.Margin}
		}
	}
	return list
}

// reach is how far in the mask is taken off over a plating, by face, mm; 0
// where the text takes none off.
func (a *author) reach(p *board.Plating) [2]float64 {
	open := a.opened(p.Name.Text)
	return [2]float64{open[board.Top].reach / mm, open[board.Bottom].reach / mm}
}

// cross is a section being drawn: the profile at x = 0, the top face at y = 0.
type cross struct {
	sketch
	k          float64
	wide, high float64 // mm on the sheet
	levels     []level
}

// y is the height of a depth.
func (k *cross) y(depth float64) float64 { return -depth * k.k }

// body draws what is not copper, hatched; neighbours in opposite directions.
func (k *cross) body() {
	left := false
	for i, l := range k.levels {
		if l.Copper {
			continue
		}
		// Where an inner layer has no copper, its neighbours meet.
		high, low := l.Top, l.Bottom
		if i > 1 && k.levels[i-1].Copper {
			high = (k.levels[i-1].Top + l.Top) / 2
		}
		if i+2 < len(k.levels) && k.levels[i+1].Copper {
			low = (l.Bottom + k.levels[i+1].Bottom) / 2
		}
		r := sheet.Rect{Min: sheet.Point{Y: k.y(low)}, Max: sheet.Point{X: k.wide, Y: k.y(high)}}
		k.hatch(r, left)
		k.Add(framed(r, sheet.Thin, sheet.Clear))
		left = !left
	}
	k.Add(sheet.Strokes(sheet.Thick, sheet.Point{X: k.wide}, sheet.Point{}, sheet.Point{Y: -k.high}, sheet.Point{X: k.wide, Y: -k.high}))
	k.cutOff(sheet.Point{X: k.wide, Y: 1.5}, sheet.Point{X: k.wide, Y: -k.high - 1.5})
}

// bar is where a layer's copper is drawn: as thick as it is, or thicker where
// it could not be seen, and within the board.
func (k *cross) bar(l level) (low, high float64) {
	low, high = k.y(l.Bottom), k.y(l.Top)
	if more := (leastT - (high - low)) / 2; more > 0 {
		low, high = low-more, high+more
	}
	if high > 0 {
		low, high = low-high, 0
	}
	if low < -k.high {
		low, high = -k.high, high-k.high-low
	}
	return low, high
}

// copper draws the planes, each as near to the wall as it comes.
func (k *cross) copper() {
	for _, l := range k.levels {
		if !l.plane {
			continue
		}
		low, high := k.bar(l)
		k.area(l.apart*k.k, low, k.wide, high, sheet.Dark, "section.plane."+l.Name.Text)
	}
}

// wall draws the copper on the edge and what it turns over the faces.
func (k *cross) wall(p *board.Plating, wrap [2]float64) {
	t := math.Max(p.Copper.Value/mm*k.k, leastT)
	points := []sheet.Point{{}}
	if w := wrap[board.Top] * k.k; w > t {
		low, _ := k.bar(k.levels[0])
		points = append(points, sheet.Point{X: w}, sheet.Point{X: w, Y: low}, sheet.Point{X: t, Y: low})
	} else {
		points = append(points, sheet.Point{X: t})
	}
	if w := wrap[board.Bottom] * k.k; w > t {
		_, high := k.bar(k.levels[len(k.levels)-1])
		points = append(points, sheet.Point{X: t, Y: high}, sheet.Point{X: w, Y: high}, sheet.Point{X: w, Y: -k.high})
	} else {
		points = append(points, sheet.Point{X: t, Y: -k.high})
	}
	k.Add(sheet.Shape{ID: "section.wall", Fill: sheet.Black, Paths: []sheet.Path{sheet.Polyline(true, append(points, sheet.Point{Y: -k.high})...)}})
}

// mask draws the solder mask on the faces where the text takes some off: of
// the others it says nothing.
func (k *cross) mask(reach [2]float64) {
	for f, r := range reach {
		if r <= 0 {
			continue
		}
		low, high := 0.0, leastT
		if board.Face(f) == board.Bottom {
			low, high = -k.high-leastT, -k.high
		}
		k.Add(sheet.Shape{ID: "section.mask." + board.Face(f).String(), Line: sheet.Thin, Fill: sheet.Light,
			Paths: []sheet.Path{sheet.Box(sheet.Rect{Min: sheet.Point{X: r * k.k, Y: low}, Max: sheet.Point{X: k.wide, Y: high}})}})
	}
}

// distances measures how far planes keep away, each distance once.
func (k *cross) distances() {
	var seen []float64
	for i := range slices.Backward(k.levels) {
		l := k.levels[i]
		if l.apart <= 0 || slices.Contains(seen, l.apart) {
			continue
		}
		seen = append(seen, l.apart)
		low, _ := k.bar(l)
		k.across(0, l.apart*k.k, low, -1, figure(l.apart))
	}
}

// words name the layers at the right, each with a leader.
func (k *cross) words(reach [2]float64) {
	type word struct {
		y float64
		s string
	}
	var list []word
	if reach[board.Top] > 0 {
		list = append(list, word{leastT / 2, "solder mask"})
	}
	for _, l := range k.levels {
		if s := l.words(); s != "" {
			low, high := k.bar(l)
			list = append(list, word{(low + high) / 2, s})
		}
	}
	if reach[board.Bottom] > 0 {
		list = append(list, word{-k.high - leastT/2, "solder mask"})
	}
	const most = 28
	if len(list) > most {
		return // the table of the stack names them
	}
	slices.Reverse(list)
	want := make([]float64, len(list))
	for i, w := range list {
		want[i] = w.y
	}
	over := math.Max(0, float64(len(list)-1)*pitch-k.high)/2 + 2
	for i, y := range spread(want, -k.high-over, over) {
		k.Add(sheet.Strokes(sheet.Thin, sheet.Point{X: k.wide - 1.5, Y: want[i]}, sheet.Point{X: k.wide + 3, Y: want[i]}, sheet.Point{X: k.wide + 8, Y: y}, sheet.Point{X: k.wide + 9.5, Y: y}),
			dot(sheet.Point{X: k.wide - 1.5, Y: want[i]}))
		k.Write(text(sheet.Point{X: k.wide + 10.5, Y: y - sheet.Small/2}, fitted(list[i].s, wordsW), sheet.Small))
	}
}

// words say what a layer is and whether it is joined to the wall.
func (l level) words() string {
	if !l.Copper {
		if l.Name.Text == "" {
			return ""
		}
		return l.Name.Text + " " + aside(length(l.Thickness))
	}
	s := l.Name.Text
	if l.Thickness.Given() {
		s += " " + aside(micrometres(l.Thickness))
	}
	net := l.net
	if net == "" {
		net = "no net"
	}
	switch {
	case l.joined:
		return s + ", " + net + ": joined"
	case l.plane:
		return s + ", " + net + ": kept away"
	}
	return s + ": no plane"
}

// said are the sentences under a section's title.
func (k *cross) said(p *board.Plating, finish board.Name, reach [2]float64) []string {
	s := "Typical of every plated stretch. Black: plated copper"
	if p.Copper.Given() {
		s += " " + aside(micrometres(p.Copper)+" on the wall on average")
	}
	if p.Net.Given() {
		s += ", net " + p.Net.Text
	}
	if finish.Given() {
		s += ", finish " + finish.Text
	}
	list := []string{s + "."}
	for _, f := range board.Faces {
		if reach[f] == 0 {
			list = append(list, fmt.Sprintf("The text takes no solder mask off on %s.", f))
		}
	}
	return append(list, "The profile is the finished edge. Copper and mask are drawn thicker than to scale.")
}
