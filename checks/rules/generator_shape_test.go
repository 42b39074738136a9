package rules

import (
	"fmt"
	"math"
	"strings"
)

// piece is a line or arc of an outline, in nm.
type piece struct {
	name      string
	a, b      dot
	around    *dot
	clockwise bool
}

func (p piece) length() float64 {
	if p.around == nil {
		return p.a.to(p.b)
	}
	return p.around.to(p.a) * math.Abs(p.sweep())
}

func (p piece) sweep() float64 {
	from, to := math.Atan2(p.a.y-p.around.y, p.a.x-p.around.x), math.Atan2(p.b.y-p.around.y, p.b.x-p.around.x)
	if p.clockwise {
		return -math.Mod(from-to+4*math.Pi, 2*math.Pi)
	}
	return math.Mod(to-from+4*math.Pi, 2*math.Pi)
}

func (p piece) at(share float64) dot {
	if p.around == nil {
		return dot{p.a.x + share*(p.b.x-p.a.x), p.a.y + share*(p.b.y-p.a.y)}
	}
	r, angle := p.around.to(p.a), math.Atan2(p.a.y-p.around.y, p.a.x-p.around.x)+share*p.sweep()
	return dot{p.around.x + r*math.Cos(angle), p.around.y + r*math.Sin(angle)}
}

// outline chooses the board's shape and writes it.
func (m *maker) outline() {
	roomy := int64(0) // shops that keep tabs far from corners need longer edges
	if m.min("tab_corner") > 5*millimetre {
		roomy = 6 * millimetre
	}
	m.width, m.height = m.between(36*millimetre, 90*millimetre), m.between(20*millimetre+roomy, 60*millimetre)
	if m.staged {
		m.width, m.height = m.width+44*millimetre, m.height+16*millimetre
	}
	if m.few {
		m.width, m.height = m.between(36*millimetre, 42*millimetre), m.between(20*millimetre, 24*millimetre)
	}
	switch m.shape {
	case "rectangle", "rounded":
		m.rectangle()
	case "circle":
		m.circle()
	default:
		m.drawn(m.path())
	}
}

func (m *maker) rectangle() {
	r := int64(0)
	if m.shape == "rounded" {
		r = m.between(millimetre, 3*millimetre)
	}
	w, h := float64(m.width), float64(m.height)
	for i, name := range []string{"south", "east", "north", "west"} {
		long := m.width
		if i%2 == 1 {
			long = m.height
		}
		path := [...]piece{{b: dot{w, 0}}, {a: dot{w, 0}, b: dot{w, h}}, {a: dot{0, h}, b: dot{w, h}}, {b: dot{0, h}}}[i]
		m.sides = append(m.sides, &side{name: name, length: long, low: r, high: long - r, axis: i + 1, path: path, right: i > 1})
	}
	m.perimeter = 2*(w+h) - (8-2*math.Pi)*float64(r)
	k := float64(r)
	for i, p := range []piece{{a: dot{k, 0}, b: dot{w - k, 0}}, {a: dot{w, k}, b: dot{w, h - k}}, {a: dot{w - k, h}, b: dot{k, h}}, {a: dot{0, h - k}, b: dot{0, k}}} {
		m.sample([]piece{p})
		if r > 0 {
			end := []dot{{w, k}, {w - k, h}, {0, h - k}, {k, 0}}[i]
			middle := []dot{{w - k, k}, {w - k, h - k}, {k, h - k}, {k, k}}[i]
			m.sample([]piece{{a: p.b, b: end, around: &middle}})
		}
	}
	wide, high := m.size(m.width), m.size(m.height)
	if m.chance(2) {
		m.head = append(m.head, "let long = "+wide)
		wide = "long"
	}
	if m.chance(3) {
		m.text = append(m.text, "let short = "+high+" // stands after its use")
		high = "short"
	}
	line := "outline rectangle " + wide + " by " + high
	if r > 0 {
		line += " corner " + m.size(r)
	}
	m.head = append(m.head, line)
}

func (m *maker) circle() {
	d := m.between(24*millimetre, 60*millimetre)
	m.width, m.height = d, d
	m.perimeter = math.Pi * float64(d)
	r := float64(d) / 2
	round := piece{a: dot{r, 0}, b: dot{r * math.Cos(1e-9), -r * math.Sin(1e-9)}, around: &dot{}}
	m.sides = []*side{{name: "rim", length: int64(m.perimeter), high: int64(m.perimeter), closed: true, path: round}}
	m.sample([]piece{{a: dot{r, 0}, b: dot{-r, 0}, around: &dot{}}, {a: dot{-r, 0}, b: dot{r, 0}, around: &dot{}}})
	m.head = append(m.head, "outline circle "+m.size(d))
}

// path draws one of the shapes that are no rectangle, counterclockwise but for one.
func (m *maker) path() []piece {
	w, h := float64(m.width), float64(m.height)
	p := func(x, y float64) dot { return dot{x, y} }
	line := func(name string, a, b dot) piece { return piece{name: name, a: a, b: b} }
	switch m.shape {
	case "bay": // an L whose inside corner is an arc
		r := float64(m.between(2*millimetre, 5*millimetre))
		m.width, m.height = m.width+30*millimetre, m.height+20*millimetre
		w, h = float64(m.width), float64(m.height)
		x, y := math.Round(w/2/grain)*grain, math.Round(h/2/grain)*grain
		return []piece{line("south", p(0, 0), p(w, 0)), line("east", p(w, 0), p(w, y)), line("step", p(w, y), p(x+r, y)),
			{name: "bay", a: p(x+r, y), b: p(x, y+r), around: &dot{x + r, y + r}, clockwise: true},
			line("inner", p(x, y+r), p(x, h)), line("north", p(x, h), p(0, h)), line("west", p(0, h), p(0, 0))}
	case "tongue": // one end is half a circle
		r := float64(m.between(10*millimetre, 13*millimetre))
		m.height, h = int64(2*r), 2*r
		return []piece{line("south", p(0, 0), p(w, 0)), {name: "nose", a: p(w, 0), b: p(w, h), around: &dot{w, r}},
			line("north", p(w, h), p(0, h)), line("west", p(0, h), p(0, 0))}
	case "bite": // half a circle out of one side
		r := float64(m.between(4*millimetre, 6*millimetre))
		m.width += 30 * millimetre
		w = float64(m.width)
		x := math.Round(w/2/grain) * grain
		return []piece{line("south", p(0, 0), p(w, 0)), line("east", p(w, 0), p(w, h)), line("north_a", p(w, h), p(x+r, h)),
			{name: "bite", a: p(x+r, h), b: p(x-r, h), around: &dot{x, h}, clockwise: true}, line("north_b", p(x-r, h), p(0, h)), line("west", p(0, h), p(0, 0))}
	case "chamfer": // two corners cut
		c := float64(m.between(4*millimetre, 6*millimetre))
		m.height += 8 * millimetre
		h = float64(m.height)
		return []piece{line("south", p(0, 0), p(w-c, 0)), line("cut_a", p(w-c, 0), p(w, c)), line("east", p(w, c), p(w, h-c)),
			line("cut_b", p(w, h-c), p(w-c, h)), line("north", p(w-c, h), p(0, h)), line("west", p(0, h), p(0, 0))}
	}
	// Clockwise, so that positions run against the path.
	return []piece{line("west", p(0, 0), p(0, h)), line("north", p(0, h), p(w, h)), line("east", p(w, h), p(w, 0)), line("south", p(w, 0), p(0, 0))}
}

// drawn writes a path and keeps its pieces as sides.
func (m *maker) drawn(pieces []piece) {
	dx, dy := float64(m.between(0, 10*millimetre)), float64(m.between(-5*millimetre, 0))
	move := func(d dot) dot { return dot{d.x + dx, d.y + dy} }
	for i := range pieces {
		p := &pieces[i]
		p.a, p.b = move(p.a), move(p.b)
		if p.around != nil {
			c := move(*p.around)
			p.around = &c
		}
	}
	point := func(d dot) string { return "(" + m.size(int64(d.x)) + ", " + m.size(int64(d.y)) + ")" }
	lines := []string{"outline {", "  start " + point(pieces[0].a)}
	for i, p := range pieces {
		long := p.length()
		m.sides = append(m.sides, &side{name: p.name, length: int64(math.Floor(long)), high: int64(math.Floor(long)), arc: p.around != nil, path: p, right: m.shape == "turned"})
		m.perimeter += long
		switch {
		case p.around != nil:
			text := "  arc " + p.name + " to " + point(p.b) + " around " + point(*p.around)
			if p.clockwise {
				text += " clockwise"
			}
			lines = append(lines, text)
		case i == len(pieces)-1:
			lines = append(lines, "  close "+p.name)
		default:
			lines = append(lines, "  line "+p.name+" to "+point(p.b))
		}
	}
	m.head = append(m.head, strings.Join(lines, "\n")+"\n}")
	m.sample(pieces)
}

// sample adds points along pieces, a quarter of a millimetre apart.
func (m *maker) sample(pieces []piece) {
	m.pieces = append(m.pieces, pieces...)
	for _, p := range pieces {
		n := math.Ceil(p.length() / 2.5e5)
		for i := range int(n) {
			m.rim = append(m.rim, p.at(float64(i)/n))
		}
	}
}

// away is how far a point lies from the outline and from the circle round every
// opening, nm; negative for one outside.
func (m *maker) away(d dot) float64 {
	inside := 0.0
	for i, p := range m.rim {
		// The angles under which the points follow each other add up to a turn
		// for a point inside.
		q := m.rim[(i+1)%len(m.rim)]
		inside += math.Atan2((p.x-d.x)*(q.y-d.y)-(p.y-d.y)*(q.x-d.x), (p.x-d.x)*(q.x-d.x)+(p.y-d.y)*(q.y-d.y))
	}
	if math.Abs(inside) < math.Pi {
		return -1
	}
	return m.clear(d)
}

// clear is how far a point on the board lies from its edges.
func (m *maker) clear(d dot) float64 {
	least := math.Inf(1)
	for _, p := range m.pieces {
		least = math.Min(least, p.distance(d))
	}
	for i, h := range m.holes {
		least = math.Min(least, d.to(h)-m.radii[i])
	}
	return least
}

// place looks for a point that keeps its distance from every profile, and where
// what is to stand there keeps what it must from the rest.
func (m *maker) place(keep float64, what func(dot) []blob) (dot, bool) {
	box := m.rim[0]
	far := box
	for _, p := range m.rim {
		box.x, box.y, far.x, far.y = min(box.x, p.x), min(box.y, p.y), max(far.x, p.x), max(far.y, p.y)
	}
	for range 40 {
		d := dot{float64(m.between(int64(box.x), int64(far.x))), float64(m.between(int64(box.y), int64(far.y)))}
		if m.away(d) >= keep && m.fits(what(d)...) {
			m.stand(what(d)...)
			return d, true
		}
	}
	return dot{}, false
}

func (m *maker) dot(d dot) string {
	return fmt.Sprintf("(%s, %s)", m.size(int64(math.Round(d.x))), m.size(int64(math.Round(d.y))))
}
